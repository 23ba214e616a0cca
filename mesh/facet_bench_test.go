package mesh

import (
	"fmt"
	"testing"

	"bellyline/mesh/internal/solids"
)

func BenchmarkFacetEstimate(b *testing.B) {
	for _, n := range benchmarkSizes {
		m := benchmarkBody(n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				m.FacetEstimate()
			}
		})
	}
}

// A capsule has flat directions and, at its tips, edges of all lengths: nearly all
// its vertices are special.
func BenchmarkFacetEstimateUneven(b *testing.B) {
	m := New(solids.Scale(solids.Capsule(5, 100, 1000), 1, 0.3, 1))
	b.Run(fmt.Sprint(len(m.Triangles)), func(b *testing.B) {
		for b.Loop() {
			m.FacetEstimate()
		}
	})
}
