package fill

import (
	"bellyline/mesh/halfedge"
	"bellyline/mesh/internal/bvh"
	"bellyline/mesh/internal/lattice"

	"github.com/golang/geo/r3"
)

// rayWinding returns the winding number just outside the surface at the start of a
// half-edge, by counting the facets that a line from the middle of the edge to a
// point outside the mesh goes through. Every decision is exact.
func (fl *flood) rayWinding(t *bvh.Tree, h halfedge.Edge) (int, error) {
	s := fl.s
	from, to := s.ends(h)
	f, g := h.Facet(), s.twin[h.Facet()][h.Corner()].Facet()
	// On a lattice of half the step the middle has whole coordinates too, and the
	// differences are below 2^53 still.
	middle := s.at[from].Add(s.at[to])
	far := s.lattice.FarPoint(uint64(h), 0).Mul(2)
	w := 0
	err := t.AlongLine(s.lattice, middle.Mul(0.5), far.Mul(0.5), func(other int32) error {
		if other == f || other == g || halfedge.IsDegenerate(s.m.Triangles[other]) {
			return nil
		}
		doubled := s.doubled(other)
		sign, err := doubled.Pierce(middle, far)
		w += -sign // going in on the way out means being outside at first
		return err
	})
	if err != nil {
		return 0, err
	}
	if w, err = s.outOfWedge(w, f, g, far); err != nil {
		return 0, err
	}
	// Back from the middle to the start.
	twin := s.twin[h.Facet()][h.Corner()]
	sign := 1
	if twin < h {
		sign = -1
	}
	edge := min(h, twin)
	for _, p := range fl.list[fl.of[edge][0]:fl.of[edge][1]] {
		through := s.doubled(p.facet)
		atStart, atMiddle := through.Side(s.at[from].Mul(2)), through.Side(middle)
		if atMiddle == 0 {
			return 0, lattice.ErrFlat
		}
		if atStart != atMiddle {
			w -= sign * int(p.sign)
		}
	}
	return w, nil
}

// doubled returns the corners of a facet on a lattice of half the step.
func (s *surface) doubled(f int32) lattice.Corners {
	c := s.corners(f)
	for k := range c {
		c[k] = c[k].Mul(2)
	}
	return c
}

// outOfWedge turns the winding number at the middle of an edge, on the side that
// far lies on, into the one outside both facets of the edge. Where the edge is
// convex, outside is over one facet or the other; where it is not, over both.
func (s *surface) outOfWedge(w int, f, g int32, far r3.Vector) (int, error) {
	overF, overG := s.doubled(f), s.doubled(g)
	onF, onG := overF.Side(far), overG.Side(far)
	ridge := 0
	for k, id := range s.ids[g] {
		if !halfedge.HasCorner(s.ids[f], id) {
			ridge = overF.Side(overG[k])
		}
	}
	if onF == 0 || onG == 0 {
		return 0, lattice.ErrFlat
	}
	outside := onF > 0 || onG > 0
	if ridge > 0 {
		outside = onF > 0 && onG > 0
	}
	if ridge == 0 && onF != onG {
		// A flat facet back to back with its partner; there is no inside between them.
		outside = true
	}
	if !outside {
		w--
	}
	return w, nil
}
