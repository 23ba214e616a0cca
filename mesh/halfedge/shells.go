package halfedge

import (
	"sync/atomic"

	"bellyline/mesh/parallel"
)

// ShellCount returns how many shells there are.
func (s *Survey) ShellCount() int {
	var roots atomic.Int64
	parallel.Blocks(len(s.sets), Block, func(_, from, to int) {
		n := int64(0)
		for f := from; f < to; f++ {
			if int32(f) == s.sets[f] {
				n++
			}
		}
		roots.Add(n)
	})
	return int(roots.Load()) - s.Degenerate // each is a set of its own
}

// ShellNumbers gives each facet the number of its shell, -1 if it is degenerate.
func (s *Survey) ShellNumbers() (shellOf []int32, count int) {
	shellOf = make([]int32, len(s.sets))
	for f := range s.sets {
		// The root is the smallest facet of its set, so it has its number already.
		switch root := s.sets.Root(int32(f)); {
		case IsDegenerate(s.Triangles[f]):
			shellOf[f] = -1
		case int(root) == f:
			shellOf[f] = int32(count)
			count++
		default:
			shellOf[f] = shellOf[root]
		}
	}
	return shellOf, count
}

// TornShells says for each shell whether it has an edge that is not balanced.
func (s *Survey) TornShells(shellOf []int32, count int) []atomic.Bool {
	torn := make([]atomic.Bool, count)
	if s.Boundary+s.Misoriented == 0 {
		return torn
	}
	parallel.Blocks(s.Vertices, Block, func(_, from, to int) {
		s.Table.EachEdge(from, to, func(_ int32, uses []Use) {
			if !Balanced(uses) {
				torn[shellOf[uses[0].Half().Facet()]].Store(true)
			}
		})
	})
	return torn
}
