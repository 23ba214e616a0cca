package hollow

import "math"

// hull is which facets lie on the block's convex hull, and on which of its flats,
// none for a facet that is a face of its own (rounded edges of a block).
type hull struct {
	on   []bool
	flat []int32
}

// hullOf marks the facets on the convex hull: those with all corners on one of
// its planes. That takes the planes of the block by distance and asks every
// other facet whether anything lies in front of it.
func (s *surface) hullOf(flats []flat) hull {
	h := hull{on: make([]bool, len(s.mesh.Triangles)), flat: make([]int32, len(s.mesh.Triangles))}
	for t := range h.flat {
		h.flat[t] = none
	}
	for i, f := range flats {
		if f.outside {
			h.takeFlat(s, int32(i), f)
		}
	}
	for t := range h.on {
		if !h.on[t] && s.areas[t] > 0 && s.isHullFacet(t) {
			h.on[t] = true
		}
	}
	return h
}

func (h hull) takeFlat(s *surface, i int32, f flat) {
	on := make([]bool, len(s.mesh.Vertices))
	for _, b := range s.blocks {
		if support(b.box, f.normal) < f.height-s.tol {
			continue
		}
		for v := b.from; v < b.to; v++ {
			on[v] = math.Abs(s.mesh.Vertices[v].Dot(f.normal)-f.height) <= s.tol
		}
	}
	for t, c := range s.mesh.Triangles {
		if !h.on[t] && on[c[0]] && on[c[1]] && on[c[2]] {
			h.on[t], h.flat[t] = true, i
		}
	}
}

// isHullFacet says whether nothing lies in front of a facet's own plane. Its
// corners are known to within tol, so the plane is known the worse the further
// away and the smaller the facet is; more slack than a thousandth of the size
// would take in floors of shallow hollows.
func (s *surface) isHullFacet(t int) bool {
	a, b, c := s.mesh.Corners(t)
	height := a.Dot(s.normals[t])
	for _, p := range s.far[:min(8, len(s.far))] { // nearly all facets of hollows stop here
		if p.Dot(s.normals[t])-height > 1e-3*s.size {
			return false
		}
	}
	longest := max(b.Sub(a).Norm(), c.Sub(b).Norm(), a.Sub(c).Norm())
	smallest := 2 * s.areas[t] / longest
	slack := min(s.tol*(1+s.size/smallest), 1e-3*s.size)
	return !s.inFront(s.normals[t], height, slack)
}
