package main

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
)

func TestSnappedIsExactInSinglePrecision(t *testing.T) {
	for _, p := range []r3.Vector{{X: 1023.99999, Y: -1e-9, Z: 1.0 / 3}, {X: -1023.7, Y: 100, Z: 5e-324}} {
		s := snapped(p)
		if d := s.Sub(p); max(math.Abs(d.X), math.Abs(d.Y), math.Abs(d.Z)) > grid/2 {
			t.Errorf("%v was moved to %v", p, s)
		}
		for _, c := range []float64{s.X, s.Y, s.Z} {
			if float64(float32(c)) != c || math.Signbit(c) && c == 0 {
				t.Errorf("%v became %v: %g is no grid value", p, s, c)
			}
		}
	}
}

// A cell at the corner of a limb's end has three corners in the parting plane.
// Parted from neighbour to neighbour it would leave a facet in that plane, back
// to back with its mirror image, although that diagonal is the shorter one.
func TestNoFacetInThePartingPlane(t *testing.T) {
	before, corner, after, inner := r3.Vector{}, r3.Vector{X: 1, Y: 0.2}, r3.Vector{X: 1, Y: 1}, r3.Vector{X: -1, Y: 3, Z: 2}
	if squared(after.Sub(before)) >= squared(inner.Sub(corner)) {
		t.Fatal("the wrong diagonal is not the shorter one")
	}
	for turn := range 4 {
		c := []r3.Vector{before, corner, after, inner}
		c = append(c[turn:], c[:turn]...)
		s := &skin{corners: c, cells: [][4]int32{{0, 1, 2, 3}}}
		m := s.finish()
		for f := range m.Triangles {
			a, b, c := m.Corners(f)
			if a.Z == 0 && b.Z == 0 && c.Z == 0 {
				t.Errorf("turned by %d, the facet %v %v %v lies in the parting plane", turn, a, b, c)
			}
		}
	}
}

func TestCellsArePartedAlongTheShorterDiagonal(t *testing.T) {
	a, b, c, d := r3.Vector{Z: 1}, r3.Vector{X: 1, Z: 1}, r3.Vector{X: 3, Y: 3, Z: 1}, r3.Vector{Y: 1, Z: 1}
	if !swapsDiagonal(a, b, c, d) || swapsDiagonal(b, c, d, a) {
		t.Error("the diagonal from (1,0) to (0,1) is shorter than that from (0,0) to (3,3)")
	}
}
