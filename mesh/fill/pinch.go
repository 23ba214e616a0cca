package fill

import (
	"cmp"
	"slices"

	"bellyline/mesh/halfedge"
	"bellyline/mesh/internal/bvh"
)

// pinched says whether facets meet at a vertex without being joined around it by
// edges: two shells that touch there, or one that touches itself. Edges have to be
// used twice at most.
//
// No such vertex is on a facet in a clear leaf, because the surface passes a point
// of its column once only. So it is enough to look at the vertices that have all
// their facets in doubtful leaves.
func pinched(t *bvh.Tree, doubt doubtful) bool {
	settled := make([]bool, len(t.Mesh.Vertices))
	var edges []cornerEdge
	corners := 0
	for i, leaf := range doubt.flags[0] {
		for _, f := range t.Leaf(i) {
			tri := t.Mesh.Triangles[f]
			switch {
			case halfedge.IsDegenerate(tri):
			case !leaf:
				settled[tri[0]], settled[tri[1]], settled[tri[2]] = true, true, true
			default:
				for k, v := range tri {
					next, last := tri[halfedge.After(k)], tri[halfedge.After(halfedge.After(k))]
					edges = append(edges, cornerEdge{v, next, int32(corners)}, cornerEdge{v, last, int32(corners)})
					corners++
				}
			}
		}
	}
	slices.SortFunc(edges, func(a, b cornerEdge) int {
		return cmp.Or(cmp.Compare(a.vertex, b.vertex), cmp.Compare(a.end, b.end), cmp.Compare(a.corner, b.corner))
	})
	sets := halfedge.NewSets(corners) // of corners, joined across edges
	for i := 1; i < len(edges); i++ {
		if a, b := edges[i-1], edges[i]; a.vertex == b.vertex && a.end == b.end {
			sets.Join(a.corner, b.corner)
		}
	}
	for i := 1; i < len(edges); i++ {
		a, b := edges[i-1], edges[i]
		if a.vertex == b.vertex && !settled[a.vertex] && sets.Root(a.corner) != sets.Root(b.corner) {
			return true
		}
	}
	return false
}

// cornerEdge is an edge at a vertex, as a corner of a facet has it.
type cornerEdge struct {
	vertex, end int32
	corner      int32
}
