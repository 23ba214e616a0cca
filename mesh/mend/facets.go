package mend

import (
	"fmt"
	"slices"

	"bellyline/mesh"
	"bellyline/mesh/halfedge"
	"bellyline/mesh/internal/weld"
)

// dropDegenerate removes facets with two equal corners. They bound nothing, so
// this changes nothing.
func (d *mender) dropDegenerate() error {
	var drop []int32
	for f, t := range d.m.Triangles {
		if halfedge.IsDegenerate(t) {
			drop = append(drop, int32(f))
		}
	}
	d.drop(DegenerateFacet, drop, "two corners are equal, at %s")
	return nil
}

// drop removes facets, given in ascending order, whose loss changes nothing, and notes
// it.
func (d *mender) drop(kind Kind, facets []int32, text string) {
	d.dropAs(Mend{Kind: kind}, facets, text)
}

// dropAs removes facets, given in ascending order, and notes it as a mend of which the
// count and the places are missing.
func (d *mender) dropAs(mend Mend, facets []int32, text string) {
	if len(facets) == 0 {
		return
	}
	mend.Count = len(facets)
	for _, f := range facets[:min(len(facets), mesh.MaxPlaces)] {
		at, _, _ := d.m.Corners(int(f))
		mend.Places = append(mend.Places, mesh.Place{Facet: int(d.file[f]), At: at, Text: fmt.Sprintf(text, mesh.PlaceText(at))})
	}
	d.note(mend)
	keep := len(d.m.Triangles) - len(facets)
	triangles, file := make([][3]int32, 0, keep), make([]int32, 0, keep)
	turned := make([]bool, 0, keep)
	for f, t := range d.m.Triangles {
		if len(facets) > 0 && facets[0] == int32(f) {
			facets = facets[1:]
			continue
		}
		triangles, file, turned = append(triangles, t), append(file, d.file[f]), append(turned, d.turned[f])
	}
	d.m, d.file, d.turned = &mesh.Mesh{Vertices: d.m.Vertices, Triangles: triangles}, file, turned
}

// dropUnusedVertices removes vertices that no facet uses.
func (d *mender) dropUnusedVertices() {
	used := make([]bool, len(d.m.Vertices))
	for _, t := range d.m.Triangles {
		used[t[0]], used[t[1]], used[t[2]] = true, true, true
	}
	if !slices.Contains(used, false) {
		return
	}
	into := make([]int32, len(used))
	for v := range into {
		into[v] = int32(v)
		if !used[v] {
			into[v] = -1
		}
	}
	vertices, triangles := weld.Compact(d.m.Vertices, d.m.Triangles, into)
	d.m = &mesh.Mesh{Vertices: vertices, Triangles: triangles}
}

// dropStraySlivers removes facets without area that hang on nothing: parts made
// of such facets alone, all of whose outer edges are open ones. Where they go no
// edge becomes open. A sliver that closes a T-joint has edges that would, so it
// stays.
func (d *mender) dropStraySlivers() error {
	s := d.survey()
	if s.Boundary == 0 {
		return nil
	}
	_, flat := d.m.MeasureFacets()
	sets := halfedge.NewSets(len(flat))
	edges := map[uint64]sliverEdge{}
	for i, f := range flat {
		for _, key := range edgeKeys(d.m, f) {
			e, seen := edges[key]
			if !seen {
				e.first = int32(i)
			}
			sets.Join(e.first, int32(i))
			e.uses++
			edges[key] = e
		}
	}
	tallies := talliesOf(s, keysOf(edges))
	needed := make([]bool, len(flat)) // by the first of a set
	for key, e := range edges {
		if e.uses%2 != 0 && tallies[key].uses()%2 == 0 {
			needed[sets.Root(e.first)] = true
		}
	}
	var drop []int32
	for i, f := range flat {
		if !needed[sets.Root(int32(i))] && d.hasOddEdge(f, tallies) {
			drop = append(drop, f)
		}
	}
	d.drop(ZeroAreaFacet, drop, "corners on one line, at %s")
	return nil
}

// sliverEdge is an edge of facets without area.
type sliverEdge struct {
	first int32 // the first such facet at it
	uses  int   // how many there are
}

func (d *mender) hasOddEdge(f int32, tallies map[uint64]tally) bool {
	for _, key := range edgeKeys(d.m, f) {
		if tallies[key].uses()%2 != 0 {
			return true
		}
	}
	return false
}

// edgeKeys names the three edges of a facet.
func edgeKeys(m *mesh.Mesh, f int32) [3]uint64 {
	t := m.Triangles[f]
	return [3]uint64{endsKey(t[0], t[1]), endsKey(t[1], t[2]), endsKey(t[2], t[0])}
}

// endsKey names the edge between two vertices.
func endsKey(a, b int32) uint64 { return halfedge.Key(min(a, b), max(a, b)) }

// tally counts how often an edge is run from its smaller vertex to its larger
// one, and back.
type tally struct{ forward, backward int }

func (t tally) uses() int { return t.forward + t.backward }
func (t tally) net() int  { return t.forward - t.backward }

// talliesOf counts the uses of some edges.
func talliesOf(s *halfedge.Survey, keys []uint64) map[uint64]tally {
	found := make(map[uint64]tally, len(keys))
	slices.Sort(keys)
	var scratch []halfedge.Use
	for len(keys) > 0 {
		v := int32(keys[0] >> 32)
		scratch = s.Table.At(v, scratch)
		for rest := scratch; len(rest) > 0; {
			n := halfedge.SameEdge(rest)
			forward := halfedge.Forward(rest[:n])
			key := endsKey(v, rest[0].Other())
			if _, wanted := slices.BinarySearch(keys, key); wanted {
				found[key] = tally{forward, n - forward}
			}
			rest = rest[n:]
		}
		n := 1
		for n < len(keys) && int32(keys[n]>>32) == v {
			n++
		}
		keys = keys[n:]
	}
	return found
}

func keysOf[V any](edges map[uint64]V) []uint64 {
	keys := make([]uint64, 0, len(edges))
	for key := range edges {
		keys = append(keys, key)
	}
	return keys
}
