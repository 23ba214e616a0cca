package mesh

import (
	"bytes"
	"context"
	"math"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh/internal/solids"
)

// ripple is a closed body of n*n facets with a waved skin, about as long and as
// thick as a bait.
func ripple(n int) *Mesh {
	c := solids.Sphere(1, n)
	for i, p := range c {
		wave := 1 + 0.05*math.Sin(40*p.X)*math.Cos(30*p.Y)
		c[i] = r3.Vector{X: 50 * p.X, Y: 8 * wave * p.Y, Z: 11 * wave * p.Z}
	}
	return New(solids.Float32(c))
}

func benchmarkOnRipple(b *testing.B, f func(b *testing.B, m *Mesh, p Plane)) {
	oblique := r3.Vector{X: 0.1, Y: 0.2, Z: 0.97}.Normalize()
	for _, size := range []struct {
		name string
		n    int
	}{{"100k", 316}, {"1M", 1000}} {
		m := ripple(size.n)
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

// BenchmarkWrite is to be compared with BenchmarkReadForCut: both move the same
// facets.
func BenchmarkWrite(b *testing.B) {
	m := ripple(1000)
	var file bytes.Buffer
	for b.Loop() {
		file.Reset()
		if err := Write(&file, "ripple", m); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkReadForCut(b *testing.B) {
	var file bytes.Buffer
	if err := Write(&file, "ripple", ripple(1000)); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Read(context.Background(), bytes.NewReader(file.Bytes()), ReadOptions{}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkCap cuts caps of many points: a comb of teeth, and a wavy outline.
func BenchmarkCap(b *testing.B) {
	for _, n := range []int{1000, 10000, 100000} {
		star := make([]r3.Vector, n)
		for i := range star {
			r := 10 + float64(i%2)*9
			star[i] = r3.Vector{X: r * math.Cos(2*math.Pi*float64(i)/float64(n)), Y: r * math.Sin(2*math.Pi*float64(i)/float64(n))}
		}
		r := flatRing(star)
		b.Run(map[int]string{1000: "star1k", 10000: "star10k", 100000: "star100k"}[n], func(b *testing.B) {
			for b.Loop() {
				earClip(r, nil)
			}
		})
	}
}

// BenchmarkCapHoles cuts a cap with 900 round holes.
func BenchmarkCapHoles(b *testing.B) {
	outer, holes := perforated(30, 12)
	for b.Loop() {
		earClip(outer, holes)
	}
}
