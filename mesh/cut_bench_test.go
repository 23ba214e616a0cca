package mesh

import (
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh/solids"
)

func benchmarkOnRipple(b *testing.B, f func(b *testing.B, m *Mesh, p Plane)) {
	oblique := r3.Vector{X: 0.1, Y: 0.2, Z: 0.97}.Normalize()
	for _, size := range []struct {
		name string
		n    int
	}{{"100k", 316}, {"1M", 1000}} {
		m := New(solids.Ripple(size.n))
		b.Run(size.name+"/z", func(b *testing.B) { f(b, m, Plane{Normal: r3.Vector{Z: 1}, HeightMM: 0.5}) })
		b.Run(size.name+"/oblique", func(b *testing.B) { f(b, m, Plane{Normal: oblique, HeightMM: 0.5}) })
	}
}

func BenchmarkCut(b *testing.B) {
	benchmarkOnRipple(b, func(b *testing.B, m *Mesh, p Plane) {
		for b.Loop() {
			if _, err := m.Cut(p); err != nil {
				b.Fatal(err)
			}
		}
	})
}

func BenchmarkCutSolids(b *testing.B) {
	benchmarkOnRipple(b, func(b *testing.B, m *Mesh, p Plane) {
		for b.Loop() {
			if _, _, err := m.CutSolids(p); err != nil {
				b.Fatal(err)
			}
		}
	})
}
