package mesh

import (
	"context"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh/internal/solids"
)

// clean1M is a closed body of a million facets that cross nowhere.
func clean1M() *Mesh { return New(solids.Torus(50, 10, 1000, 500)) }

// twoBodies are two bodies of 100,000 facets each that cross.
func twoBodies() *Mesh {
	body := solids.Torus(50, 10, 500, 100)
	return New(solids.Join(body, solids.Move(body, r3.Vector{X: 21.3, Z: 4.1})))
}

func benchmarkFill(b *testing.B, m *Mesh) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := m.FillVolume(context.Background()); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFillClean1M(b *testing.B)   { benchmarkFill(b, clean1M()) }
func BenchmarkFillTwoBodies(b *testing.B) { benchmarkFill(b, twoBodies()) }

func BenchmarkTree1M(b *testing.B) {
	m := clean1M()
	for b.Loop() {
		NewTree(m)
	}
}

func BenchmarkClearLeaves1M(b *testing.B) {
	m := clean1M()
	l := newLattice(m.Bounds(), 0)
	t, cones := buildTree(context.Background(), m, m.Bounds(), thinnest*l.clearance())
	for b.Loop() {
		t.findClear(context.Background(), cones, l.clearance())
	}
}

func BenchmarkBalanced1M(b *testing.B) {
	m := clean1M()
	for b.Loop() {
		m.balanced()
	}
}

func BenchmarkNearest100k(b *testing.B) {
	t := NewTree(New(solids.Torus(50, 10, 500, 100)))
	for b.Loop() {
		t.Nearest(r3.Vector{X: 43, Y: 21, Z: 5})
	}
}

func BenchmarkBallRadius100k(b *testing.B) {
	t := NewTree(New(solids.Torus(50, 10, 500, 100)))
	for b.Loop() {
		t.BallRadius(r3.Vector{X: 60}, r3.Vector{X: -1}, creaseAngle)
	}
}
