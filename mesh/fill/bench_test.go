package fill

import (
	"context"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/internal/bvh"
	"bellyline/mesh/internal/lattice"
	"bellyline/mesh/solids"
)

// clean1M is a closed body of a million facets that cross nowhere.
func clean1M() *mesh.Mesh { return mesh.New(solids.Torus(50, 10, 1000, 500)) }

// twoBodies are two bodies of 100,000 facets each that cross.
func twoBodies() *mesh.Mesh {
	body := solids.Torus(50, 10, 500, 100)
	return mesh.New(solids.Join(body, solids.Move(body, r3.Vector{X: 21.3, Z: 4.1})))
}

func benchmarkFill(b *testing.B, m *mesh.Mesh) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Volume(context.Background(), m); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFillClean1M(b *testing.B)   { benchmarkFill(b, clean1M()) }
func BenchmarkFillTwoBodies(b *testing.B) { benchmarkFill(b, twoBodies()) }

func BenchmarkClearLeaves1M(b *testing.B) {
	m := clean1M()
	l := lattice.New(m.Bounds(), 0)
	t, cones := bvh.Build(context.Background(), m, m.Bounds(), thinnest*l.Clearance())
	for b.Loop() {
		findClear(context.Background(), t, cones, l.Clearance())
	}
}
