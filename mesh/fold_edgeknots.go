package mesh

import (
	"math/bits"

	"bellyline/mesh/halfedge"
)

// edgeKnots finds the point in which an edge of a body meets a knot's plane. It is a
// table of open places, filled to half at most by a closed body, since the library's
// map takes most of the time of an imprint.
type edgeKnots struct {
	places []edgeKnot
	shift  int
}

// edgeKnot is one point; after is the vertex that it is, and one more, so that 0 is an
// open place.
type edgeKnot struct {
	edge        uint64
	knot, after int32
}

// newEdgeKnots has room for at least n points.
func newEdgeKnots(n int) edgeKnots {
	size := bits.Len(uint(n) | 1)
	return edgeKnots{places: make([]edgeKnot, 1<<size), shift: 64 - size}
}

// find returns the vertex of an edge at a knot; where it has none yet, it gets the one
// offered.
func (e *edgeKnots) find(edge uint64, knot, offered int32) (vertex int32, found bool) {
	at := int(halfedge.Mix(edge^uint64(knot)*0x9e3779b97f4a7c15) >> e.shift)
	for ; e.places[at].after > 0; at = (at + 1) & (len(e.places) - 1) {
		if p := &e.places[at]; p.edge == edge && p.knot == knot {
			return p.after - 1, true
		}
	}
	e.places[at] = edgeKnot{edge, knot, offered + 1}
	return offered, false
}
