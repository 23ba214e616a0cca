// Package parallel shares work out among processors so that results do not depend on
// how many there are.
package parallel

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// Blocks splits 0..n into blocks of size each (the last one shorter) and calls
// work once a block, on as many goroutines as the processor runs at once. Where
// a block begins depends on n and size only, so whatever work stores under the
// number of its block can be put together in the same order on every machine.
func Blocks(n, size int, work func(block, from, to int)) {
	blocks := Count(n, size)
	workers := min(runtime.GOMAXPROCS(0), blocks)
	var next atomic.Int64
	run := func() {
		for b := int(next.Add(1)) - 1; b < blocks; b = int(next.Add(1)) - 1 {
			work(b, b*size, min(n, (b+1)*size))
		}
	}
	if workers <= 1 {
		run()
		return
	}
	var wait sync.WaitGroup
	for range workers {
		wait.Go(run)
	}
	wait.Wait()
}

// Count returns how many blocks Blocks makes.
func Count(n, size int) int { return (n + size - 1) / size }
