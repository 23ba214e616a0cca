package tree

import (
	"bellyline/mesh/halfedge"
	"bellyline/mesh/internal/lattice"

	"github.com/golang/geo/r3"
)

// Winding returns the winding number of a point: how many outward shells of a
// closed surface it is inside of, less the inward ones. Three rays that go
// different ways have to agree; ok is false if they do not, which only an open
// surface can bring about, or if the point is on the surface. Every decision is
// exact for coordinates rounded to 2^-50 of half the longest side of the box, so
// nearer to the surface than that either answer may come. It costs what three
// rays cost, and is safe for many goroutines.
func (t *Tree) Winding(p r3.Vector) (w int, ok bool) {
	if len(t.h.Order) == 0 || !t.h.Box.Contains(p) {
		return 0, true
	}
	l := lattice.New(t.h.Box, 0)
	at := l.Unmoved(p)
	const rays, tries = 3, 9
	agreed := 0
	for try := range uint64(tries) {
		n, err := t.windingAlong(l, at, l.FarPoint(try, int(try%3)))
		switch {
		case err != nil:
			continue
		case agreed > 0 && n != w:
			return 0, false
		}
		w = n
		if agreed++; agreed == rays {
			return w, true
		}
	}
	return 0, false
}

// windingAlong counts the facets that a line to a point outside goes through. It
// fails if the line meets an edge, or starts on a facet.
func (t *Tree) windingAlong(l lattice.Lattice, from, far r3.Vector) (int, error) {
	w := 0
	err := t.h.AlongLine(l, from, far, func(f int32) error {
		if halfedge.IsDegenerate(t.h.Mesh.Triangles[f]) {
			return nil
		}
		c := l.UnmovedFacet(t.h.Mesh, f)
		sign, err := c.Pierce(from, far)
		w -= sign // going in on the way out means having been outside
		return err
	})
	return w, err
}
