package hollow

import (
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/solids"
)

// largeHalf is a half with four smooth cavities, two pin holes and about 500,000
// facets.
func largeHalf(tb testing.TB) *mesh.Mesh {
	const sectors = 500 // the lower half of a ball has sectors*sectors/2 facets
	half, _ := sunk(tb, box{-80, -50, -25, 80, 50, 0},
		solids.Move(ball(30, 9, 7, sectors), r3.Vector{X: -38, Y: 22}), solids.Move(ball(30, 9, 7, sectors), r3.Vector{X: 38, Y: 22}),
		solids.Move(ball(30, 9, 7, sectors), r3.Vector{X: -38, Y: -22}), solids.Move(ball(30, 9, 7, sectors), r3.Vector{X: 38, Y: -22}),
		solids.Move(stick(3, -12, 12, 32), r3.Vector{X: -70, Y: 42}), solids.Move(stick(3, -12, 12, 32), r3.Vector{X: 70, Y: -42}))
	return mesh.New(half)
}

func BenchmarkFind(b *testing.B) {
	m := largeHalf(b)
	b.ReportMetric(float64(len(m.Triangles)), "facets")
	for b.Loop() {
		if _, err := Find(b.Context(), m, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
