package mesh

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
)

// ringMesh is a torus of 2 n^2 facets, built without a weld; vertices come in the
// order in which facets first use them, as from a file.
func ringMesh(n int) *Mesh {
	m := &Mesh{Vertices: make([]r3.Vector, n*n), Triangles: make([][3]int32, 0, 2*n*n)}
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		for j := range n {
			s, c := math.Sincos(2 * math.Pi * float64(j) / float64(n))
			m.Vertices[i*n+j] = r3.Vector{X: (20 + 6*c) * cos, Y: (20 + 6*c) * sin, Z: 6 * s}
		}
	}
	at := func(i, j int) int32 { return int32(i%n*n + j%n) }
	for i := range n {
		for j := range n {
			a, b, c, d := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
			m.Triangles = append(m.Triangles, [3]int32{a, b, c}, [3]int32{a, c, d})
		}
	}
	return m
}

// shuffled is the same surface with facets in random order, the worst a file can do
// to a cache.
func shuffled(m *Mesh) *Mesh {
	out := &Mesh{Vertices: make([]r3.Vector, 0, len(m.Vertices)), Triangles: make([][3]int32, 0, len(m.Triangles))}
	number := make([]int32, len(m.Vertices))
	for _, f := range rand.New(rand.NewPCG(1, 1)).Perm(len(m.Triangles)) {
		var t [3]int32
		for k, v := range m.Triangles[f] {
			if number[v] == 0 {
				out.Vertices = append(out.Vertices, m.Vertices[v])
				number[v] = int32(len(out.Vertices))
			}
			t[k] = number[v] - 1
		}
		out.Triangles = append(out.Triangles, t)
	}
	return out
}

// onRings runs a benchmark at 100 thousand, 1 and 10 million facets.
func onRings(b *testing.B, f func(m *Mesh)) {
	for _, n := range []int{224, 708, 2237} {
		for _, order := range []string{"in order", "shuffled"} {
			b.Run(fmt.Sprintf("%d facets %s", 2*n*n, order), func(b *testing.B) {
				m := ringMesh(n)
				if order == "shuffled" {
					m = shuffled(m)
				}
				b.ReportAllocs()
				for b.Loop() {
					f(m)
				}
			})
		}
	}
}

func BenchmarkCheck(b *testing.B)    { onRings(b, func(m *Mesh) { m.Check() }) }
func BenchmarkMoments(b *testing.B)  { onRings(b, func(m *Mesh) { m.Moments() }) }
func BenchmarkMeasure(b *testing.B)  { onRings(b, func(m *Mesh) { m.Measure() }) }
func BenchmarkShells(b *testing.B)   { onRings(b, func(m *Mesh) { m.Shells() }) }
func BenchmarkBounds(b *testing.B)   { onRings(b, func(m *Mesh) { m.Bounds() }) }
func BenchmarkBalanced(b *testing.B) { onRings(b, func(m *Mesh) { m.Balanced() }) }
