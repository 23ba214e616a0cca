package mend

import (
	"bellyline/mesh"
	"bellyline/mesh/halfedge"
)

// stripRounds is how many strips with one side only are dropped, one a round. A surface
// with more is not worth mending.
const stripRounds = 16

// dropStrips removes what makes a surface have one side only, until none is left or
// patches says why not.
//
// Where facets fold back on each other and some are missing, two sheets that touch
// along an edge become neighbours there though they face each other, and the way over
// that edge leads from outside to inside. As given such neighbours run their edge the
// same way, so these are the facets that go. A band by itself, like Möbius's, encloses
// nothing and goes as a whole.
//
// What goes may have been part of a body: with as much again missing, it is taken to
// bound no more than a ball of twice its area. Holes that it leaves have a
// bound of their own. If S is dropped and C the cap put there instead, they enclose no
// more than a ball of area S + C, which is below the sum of the two.
func (d *mender) dropStrips() error {
	for range stripRounds {
		s := d.survey()
		if s.Misoriented == 0 {
			return nil
		}
		_, strip := s.FindPatches(d.m.AreaOf)
		if strip < 0 {
			return nil
		}
		if err := d.ctx.Err(); err != nil {
			return err
		}
		band, bent := s.PatchAround(strip)
		if !d.isLoose(s, band) {
			band = bent
			if !d.isLocal(bent) {
				return nil
			}
		}
		var area float64
		for _, f := range band {
			area += d.m.AreaOf(int(f))
		}
		open := Mend{Kind: OneSidedFacet, VolumeMM3: ballOfArea(2 * area), MayChangeVolume: true}
		d.dropAs(open, band, "part of a strip with one side only, at %s")
	}
	return nil
}

// isLoose says whether a band can go as a whole: it is less than half of the surface,
// and no more edges are open without it.
func (d *mender) isLoose(s *halfedge.Survey, band []int32) bool {
	in := make([]bool, len(d.m.Triangles))
	for _, f := range band {
		in[f] = true
	}
	var area, all float64
	rest := &mesh.Mesh{Vertices: d.m.Vertices}
	for f, t := range d.m.Triangles {
		a := d.m.AreaOf(f)
		all += a
		if in[f] {
			area += a
		} else {
			rest.Triangles = append(rest.Triangles, t)
		}
	}
	return 2*area < all && surveyOf(rest).Boundary <= s.Boundary
}

// isLocal says whether facets lie in places no larger than the largest hole that is
// closed.
func (d *mender) isLocal(facets []int32) bool {
	at := map[int32]int32{} // the first of the facets at a vertex
	sets := halfedge.NewSets(len(facets))
	for i, f := range facets {
		for _, v := range d.m.Triangles[f] {
			if first, seen := at[v]; seen {
				sets.Join(first, int32(i))
			} else {
				at[v] = int32(i)
			}
		}
	}
	places := map[int32][]int32{}
	for i, f := range facets {
		root := sets.Root(int32(i))
		places[root] = append(places[root], f)
	}
	for _, place := range places {
		box := d.m.BoxOf(place)
		if box.Diagonal() > d.hole {
			return false
		}
	}
	return len(facets) > 0
}
