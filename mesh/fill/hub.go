package fill

import (
	"math"

	"bellyline/mesh/halfedge"
	"bellyline/mesh/internal/bvh"

	"github.com/golang/geo/r3"
)

// A lid drawn as a fan has thousands of facets with a common corner, and all their
// boxes meet there. They need not be compared: if all facets at the corner face one
// way, and go round it once, then seen from there each keeps to a sector of its own.
// (What goes round a corner of a balanced surface goes round a whole number of
// times, and overlaps nowhere if that number is 1. If some of it is in clear leaves,
// the corner is inside a column that the surface passes once, and facets that cross
// and have a corner in common cross from that corner on: so none do.)

// hub is a corner that all facets of a leaf have.
type hub struct {
	up     r3.Vector // sum of the normals of its facets
	angle  float64   // sum of their angles there, seen from above
	facing bool      // all face up, with some slack
}

// hubsOf returns for each of some leaves a corner that its facets have in common and
// need not be compared around, -1 if there is none. The leaves have to be all that
// may hold facets at such a corner, and the surface balanced.
func hubsOf(t *bvh.Tree, leaves []int, slack float64) []int32 {
	common := make([]int32, len(leaves))
	hubs := map[int32]*hub{}
	for i, leaf := range leaves {
		common[i] = leafCorner(t, t.Leaf(leaf))
		if v := common[i]; v >= 0 && hubs[v] == nil {
			hubs[v] = &hub{facing: true}
		}
	}
	if len(hubs) == 0 {
		return common
	}
	eachSpoke(t, leaves, hubs, func(h *hub, p, q, r r3.Vector) {
		h.up = h.up.Add(q.Sub(p).Cross(r.Sub(p)))
	})
	for _, h := range hubs {
		h.up = h.up.Normalize()
	}
	eachSpoke(t, leaves, hubs, func(h *hub, p, q, r r3.Vector) { h.addSector(q.Sub(p), r.Sub(p), slack) })
	for i, v := range common {
		// The number of turns is whole, so half a turn tells it from any other.
		if v >= 0 && !(hubs[v].facing && hubs[v].angle < 3*math.Pi) {
			common[i] = -1
		}
	}
	return common
}

// leafCorner returns the first corner that all of some facets have, -1 if there
// is none.
func leafCorner(t *bvh.Tree, facets []int32) int32 {
	for _, v := range t.Mesh.Triangles[facets[0]] {
		all := true
		for _, f := range facets {
			tri := t.Mesh.Triangles[f]
			all = all && halfedge.HasCorner(tri, v) && !halfedge.IsDegenerate(tri)
		}
		if all {
			return v
		}
	}
	return -1
}

// eachSpoke calls f for each facet at a hub, with its corners from the hub on.
func eachSpoke(t *bvh.Tree, leaves []int, hubs map[int32]*hub, f func(h *hub, p, q, r r3.Vector)) {
	for _, leaf := range leaves {
		for _, facet := range t.Leaf(leaf) {
			tri := t.Mesh.Triangles[facet]
			for k, v := range tri {
				if h := hubs[v]; h != nil && !halfedge.IsDegenerate(tri) {
					f(h, t.Mesh.Vertices[v], t.Mesh.Vertices[tri[halfedge.After(k)]], t.Mesh.Vertices[tri[halfedge.After(halfedge.After(k))]])
				}
			}
		}
	}
}

// addSector adds the facet between two sides that start at the hub.
func (h *hub) addSector(a, b r3.Vector, slack float64) {
	twice := h.up.Dot(a.Cross(b))
	if !(twice > slack*(a.Norm()+b.Norm())) {
		h.facing = false
		return
	}
	// The angle between what is seen of both: their parts across up.
	h.angle += math.Atan2(twice, a.Dot(b)-h.up.Dot(a)*h.up.Dot(b))
}
