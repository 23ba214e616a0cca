package parallel

import (
	"sync/atomic"
	"testing"
)

func TestBlocksCoverEachItemOnce(t *testing.T) {
	for _, n := range []int{0, 1, 7, 8, 9, 1000} {
		seen := make([]atomic.Int32, n)
		Blocks(n, 8, func(block, from, to int) {
			if from != 8*block || to > n || to <= from || to-from > 8 {
				t.Errorf("n %d: block %d runs from %d to %d", n, block, from, to)
			}
			for i := from; i < to; i++ {
				seen[i].Add(1)
			}
		})
		for i := range seen {
			if seen[i].Load() != 1 {
				t.Errorf("n %d: item %d was visited %d times", n, i, seen[i].Load())
			}
		}
	}
}
