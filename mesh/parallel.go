package mesh

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// inBlocks splits 0..n into blocks of size each (the last one shorter) and calls
// work once a block, on as many goroutines as the processor runs at once. Where
// a block begins depends on n and size only, so whatever work stores under the
// number of its block can be put together in the same order on every machine.
func inBlocks(n, size int, work func(block, from, to int)) {
	blocks := blockCount(n, size)
	workers := min(runtime.GOMAXPROCS(0), blocks)
	if workers <= 1 {
		for b := range blocks {
			work(b, b*size, min(n, (b+1)*size))
		}
		return
	}
	var next atomic.Int64
	var wait sync.WaitGroup
	for range workers {
		wait.Go(func() {
			for {
				b := int(next.Add(1)) - 1
				if b >= blocks {
					return
				}
				work(b, b*size, min(n, (b+1)*size))
			}
		})
	}
	wait.Wait()
}

// blockCount returns how many blocks inBlocks makes.
func blockCount(n, size int) int { return (n + size - 1) / size }

// processors returns how many goroutines run at once.
func processors() int { return runtime.GOMAXPROCS(0) }
