package mesh

import (
	"slices"

	"bellyline/mesh/halfedge"
)

// WrongFacet is a facet that is broken, repeated, or faces the wrong way.
type WrongFacet struct {
	Facet int32
	// Kind is DegenerateFacet, ZeroAreaFacet or DuplicateFacet, of the later ones of
	// those that are alike; MisorientedEdge for a facet that is turned over against
	// the larger part of the surface that it is joined to; InsideOutShell for the
	// facets of such a shell.
	Kind ProblemKind
}

// WrongFacets returns the facets at fault, to show where they are: each once, in
// rising order, and at most limit of them. Which facets are turned over is not told
// of a surface with one side only. The cost is a few times that of Check.
func (m *Mesh) WrongFacets(limit int) []WrongFacet {
	s := m.survey()
	_, thin := m.MeasureFacets()
	kinds := map[int32]ProblemKind{}
	add := func(facet int32, kind ProblemKind) {
		if _, known := kinds[facet]; !known {
			kinds[facet] = kind
		}
	}
	if s.Degenerate > 0 {
		for f, t := range m.Triangles {
			if halfedge.IsDegenerate(t) {
				add(int32(f), DegenerateFacet)
			}
		}
	}
	for _, f := range thin {
		add(f, ZeroAreaFacet)
	}
	if s.Duplicate > 0 {
		s.Table.EachEdge(0, len(m.Vertices), func(_ int32, uses []halfedge.Use) {
			s.Table.EachRepeat(uses, func(a, b halfedge.Use) { add(max(a.Half().Facet(), b.Half().Facet()), DuplicateFacet) })
		})
	}
	addTurned(s, m, add)
	if s.Boundary+s.Misoriented == 0 {
		shells := m.shellsOf(s)
		insideOut, _ := m.facingIn(shells)
		for _, i := range insideOut {
			for _, f := range shells[i].Triangles {
				add(f, InsideOutShell)
			}
		}
	}
	list := make([]WrongFacet, 0, len(kinds))
	for f, kind := range kinds {
		list = append(list, WrongFacet{f, kind})
	}
	slices.SortFunc(list, func(a, b WrongFacet) int { return int(a.Facet) - int(b.Facet) })
	return list[:min(len(list), limit)]
}

// addTurned adds the facets of the smaller area of each patch whose facets disagree.
func addTurned(s *halfedge.Survey, m *Mesh, add func(facet int32, kind ProblemKind)) {
	if s.Misoriented == 0 {
		return
	}
	p, strip := s.FindPatches(m.AreaOf)
	if strip >= 0 {
		return
	}
	for f, i := range p.Of {
		if i >= 0 && p.Turned[f] != (2*p.All[i].TurnedArea > p.All[i].Area) {
			add(int32(f), MisorientedEdge)
		}
	}
}
