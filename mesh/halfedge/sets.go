package halfedge

import (
	"sync/atomic"

	"bellyline/mesh/internal/hugepages"
	"bellyline/mesh/parallel"
)

// Sets holds disjoint sets of facets: a forest in which each facet points to
// one of its set with a smaller number, the smallest to itself. Any number of
// goroutines may join sets at once; what comes out is the same for any order of
// joining, because the smallest number always wins.
type Sets []int32

// NewSets returns n sets of one facet each.
func NewSets(n int) Sets {
	s := Sets(hugepages.Make[int32](n))
	parallel.Blocks(n, Block, func(_, from, to int) {
		for i := from; i < to; i++ {
			s[i] = int32(i)
		}
	})
	return s
}

// Root returns the smallest facet of the set of f, and shortens the way there.
func (s Sets) Root(f int32) int32 {
	for {
		parent := atomic.LoadInt32(&s[f])
		if parent == f {
			return f
		}
		above := atomic.LoadInt32(&s[parent])
		if above == parent {
			return parent
		}
		// Losing this race to another worker leaves a way that is no longer.
		atomic.CompareAndSwapInt32(&s[f], parent, above)
		f = above
	}
}

// Join makes the sets of f and g one.
func (s Sets) Join(f, g int32) {
	for {
		f, g = s.Root(f), s.Root(g)
		if f == g {
			return
		}
		if f < g {
			f, g = g, f
		}
		if atomic.CompareAndSwapInt32(&s[f], f, g) {
			return
		}
	}
}
