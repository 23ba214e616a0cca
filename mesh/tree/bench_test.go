package tree

import (
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/solids"
)

func BenchmarkTree1M(b *testing.B) {
	m := mesh.New(solids.Torus(50, 10, 1000, 500))
	for b.Loop() {
		New(m)
	}
}

func BenchmarkNearest100k(b *testing.B) {
	t := New(mesh.New(solids.Torus(50, 10, 500, 100)))
	for b.Loop() {
		t.Nearest(r3.Vector{X: 43, Y: 21, Z: 5})
	}
}

func BenchmarkBallRadius100k(b *testing.B) {
	t := New(mesh.New(solids.Torus(50, 10, 500, 100)))
	for b.Loop() {
		t.BallRadius(r3.Vector{X: 60}, r3.Vector{X: -1}, creaseAngle)
	}
}
