package mesh

import (
	"bellyline/mesh/exact"
	"bellyline/mesh/parallel"

	"github.com/golang/geo/r3"
)

// VolumeBelow returns the volume of a closed body below a height along dir, of length
// 1, for whoever asks only once and wants nothing else of the cut: it takes about a
// fifth of Cut's time. It is the flux that Levels.At sums, over facets instead of
// layers, and sums of a body that is not closed mean nothing.
func (m *Mesh) VolumeBelow(dir r3.Vector, heightMM float64) float64 {
	if len(m.Vertices) == 0 {
		return 0
	}
	origin := m.Vertices[0]
	x := heightMM - dir.Dot(origin)
	s := heightSearch{m: m, dir: dir, heights: make([]float64, len(m.Vertices))}
	parallel.Blocks(len(s.heights), cutBlock, func(_, from, to int) {
		for i := from; i < to; i++ {
			s.heights[i] = dir.Dot(m.Vertices[i].Sub(origin))
		}
	})
	sums := make([]exact.Double, parallel.Count(len(m.Triangles), heightBlock))
	parallel.Blocks(len(m.Triangles), heightBlock, func(block, from, to int) {
		var sum exact.Double
		for i := from; i < to; i++ {
			switch f := s.facet(i); {
			case f.low >= x:
			case f.high <= x:
				sum = sum.PlusFloat(f.shadow * ((f.low+f.mid+f.high)/3 - x))
			default:
				_, depth := f.belowAt(x)
				sum = sum.PlusFloat(-f.shadow * depth)
			}
		}
		sums[block] = sum
	})
	var all exact.Double
	for _, sum := range sums {
		all = all.Plus(sum)
	}
	return all.Value()
}
