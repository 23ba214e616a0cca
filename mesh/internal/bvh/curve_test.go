package bvh

import (
	"testing"

	"github.com/golang/geo/r3"
)

// Hilbert's curve visits every cell of a cube once, and goes from cell to
// neighbouring cell: that is what makes it Hilbert's.
func TestCurveGoesFromCellToNeighbour(t *testing.T) {
	for levels := 1; levels <= 5; levels++ {
		checkCurve(t, levels)
	}
}

func checkCurve(t *testing.T, levels int) {
	side := 1 << levels
	c := newCurve()
	at := map[uint32]r3.Vector{}
	for x := range side {
		for y := range side {
			for z := range side {
				p := r3.Vector{X: float64(x), Y: float64(y), Z: float64(z)}
				at[c.place(p, levels)] = p
			}
		}
	}
	if len(at) != side*side*side {
		t.Fatalf("%d places for %d cells", len(at), side*side*side)
	}
	for i := uint32(1); i < uint32(len(at)); i++ {
		a, ok := at[i-1]
		b, also := at[i]
		if !ok || !also || a.Sub(b).Norm() != 1 {
			t.Fatalf("place %d is %v, place %d is %v", i-1, a, i, b)
		}
	}
}
