package fill

import (
	"testing"

	"bellyline/mesh"

	"github.com/golang/geo/r3"
)

// A facet and its like turned over, through the sides of two boxes of 4 mm: they hold
// 64 mm3 each as before, less the 8 that they share. Both sides of the fold cross
// the boxes in one place, and the winding numbers were said to disagree.
func TestFillWithAFoldThroughIt(t *testing.T) {
	corners := append(boxAt(0, 0, 0, 4), boxAt(2, 2, 2, 4)...)
	a, b, c := r3.Vector{X: -1, Y: 1, Z: 1.5}, r3.Vector{X: 8, Y: 2.5, Z: 2.25}, r3.Vector{X: 3, Y: 8, Z: 3.5}
	for _, m := range []*mesh.Mesh{mesh.New(append(corners, a, b, c, a, c, b)), mesh.New(append([]r3.Vector{a, b, c, a, c, b}, corners...))} {
		fill, err := Volume(t.Context(), m)
		if err != nil {
			t.Fatal(err)
		}
		if got := fill.VolumeMM3; got < 120-1e-9 || got > 120+1e-9 {
			t.Errorf("%g mm3, want 120", got)
		}
		for _, o := range fill.Overlaps {
			for _, v := range m.Triangles[o.Facet] {
				if p := m.Vertices[v]; p == a || p == b || p == c {
					t.Errorf("the overlap is told by facet %d, of the fold", o.Facet)
				}
			}
		}
	}
}
