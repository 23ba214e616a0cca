package cool

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// inBlocks splits 0..n into blocks of the given size and calls work once a block,
// on as many goroutines as run at once. Blocks depend on n and size only, so what
// is stored by block can be summed in the same order on every machine.
func inBlocks(n, size int, work func(block, from, to int)) {
	blocks := blockCount(n, size)
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
	for range workers - 1 {
		wait.Go(run)
	}
	run()
	wait.Wait()
}

func blockCount(n, size int) int { return (n + size - 1) / size }
