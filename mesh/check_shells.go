package mesh

import (
	"bellyline/mesh/exact"
	"bellyline/mesh/halfedge"
	"bellyline/mesh/parallel"

	"github.com/golang/geo/r3"
)

// Shell is a part of the surface that is connected by shared edges. Parts that
// only touch at a vertex are shells of their own.
type Shell struct {
	Triangles []int32 // indices into Mesh.Triangles, ascending
	Oriented  bool    // closed, and every edge run as often one way as the other
	VolumeMM3 float64 // signed; means something only if Oriented
	Box       Box
}

// Shells returns the connected parts in the order of their first facets. Facets
// with two equal corners belong to none. It takes 16 bytes a facet and costs
// about as much as Check.
func (m *Mesh) Shells() []Shell { return m.shellsOf(m.survey()) }

// shellsOf is Shells where the edges have been looked at already.
func (m *Mesh) shellsOf(s *halfedge.Survey) []Shell {
	shellOf, count := s.ShellNumbers()
	shells := sortByShell(shellOf, count, len(m.Triangles)-s.Degenerate)
	torn := s.TornShells(shellOf, count)
	for i := range shells {
		shells[i].Oriented = !torn[i].Load()
		shells[i].Box = m.BoxOf(shells[i].Triangles)
		shells[i].VolumeMM3 = m.VolumeOf(shells[i].Triangles, shells[i].Box.Centre())
	}
	return shells
}

// sortByShell returns shells with their facets: a counting sort.
func sortByShell(shellOf []int32, count, facets int) []Shell {
	sizes := make([]int, count)
	for _, s := range shellOf {
		if s >= 0 {
			sizes[s]++
		}
	}
	all := make([]int32, facets)
	shells := make([]Shell, count)
	next := 0
	for i, n := range sizes {
		shells[i].Triangles = all[next : next : next+n]
		next += n
	}
	for f, s := range shellOf {
		if s >= 0 {
			shells[s].Triangles = append(shells[s].Triangles, int32(f))
		}
	}
	return shells
}

// BoxOf returns the box of some facets, the zero Box of none.
func (m *Mesh) BoxOf(facets []int32) Box {
	if len(facets) == 0 {
		return Box{}
	}
	a, _, _ := m.Corners(int(facets[0]))
	box := Box{Min: a, Max: a}
	for _, f := range facets {
		for _, v := range m.Triangles[f] {
			box = box.With(m.Vertices[v])
		}
	}
	return box
}

// VolumeOf returns the signed volume between some facets and a local origin.
func (m *Mesh) VolumeOf(facets []int32, origin r3.Vector) float64 {
	parts := make([]exact.Sum, parallel.Count(len(facets), momentBlock))
	parallel.Blocks(len(facets), momentBlock, func(b, from, to int) {
		var s exact.Sum
		for _, f := range facets[from:to] {
			s = s.Plus(m.det(int(f), origin))
		}
		parts[b] = s
	})
	var total exact.Sum
	for _, s := range parts {
		total = total.Merge(s)
	}
	return total.Value() / 6
}

// det returns six times the signed volume between a facet and an origin.
func (m *Mesh) det(f int, origin r3.Vector) float64 {
	a, b, c := m.Corners(f)
	return a.Sub(origin).Dot(b.Sub(a).Cross(c.Sub(a)))
}
