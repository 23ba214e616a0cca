package smooth

import (
	"fmt"
	"testing"

	"bellyline/mesh"
	"bellyline/mesh/solids"
)

func BenchmarkFacetEstimate(b *testing.B) {
	for _, n := range []int{100_000, 1_000_000} {
		m := mesh.New(solids.Ring(n))
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				Estimate(m)
			}
		})
	}
}

// A capsule has flat directions and, at its tips, edges of all lengths: nearly all
// its vertices are special.
func BenchmarkFacetEstimateUneven(b *testing.B) {
	m := mesh.New(solids.Scale(solids.Capsule(5, 100, 1000), 1, 0.3, 1))
	b.Run(fmt.Sprint(len(m.Triangles)), func(b *testing.B) {
		for b.Loop() {
			Estimate(m)
		}
	})
}
