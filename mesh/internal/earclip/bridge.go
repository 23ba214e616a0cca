package earclip

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// bridgeAll joins holes to the outer ring, the leftmost first, and returns those
// that could not be joined.
//
// A bridge runs from the hole's leftmost point to a place that lies to the left
// of it and is in sight. Holes not joined yet lie wholly to its right, so only
// the polygon as it stands has to be looked at, and one such place always is in
// sight: the ray to the left meets an edge whose left end, or something before
// it, can be seen. Where the hole touches the polygon the bridge has no length,
// or runs along the edge.
func (c *clipper) bridgeAll(holes []Ring) (lone []Ring) {
	holes = slices.Clone(holes)
	slices.SortStableFunc(holes, func(a, b Ring) int {
		p, q := a.points[lexicalMin(a.points)], b.points[lexicalMin(b.points)]
		switch {
		case lexicalLess(p, q):
			return -1
		case lexicalLess(q, p):
			return 1
		}
		return 0
	})
	for _, h := range holes {
		k := int32(lexicalMin(h.points))
		end := int32(len(c.node))
		to, ok := c.touched(h, int(k))
		if !ok {
			to, ok = c.inSight(h.points[k], end)
		}
		if !ok {
			lone = append(lone, h)
			continue
		}
		from := c.append(h) + k
		before, after := c.prev[from], c.next[to]
		from2, to2 := c.copyOf(from), c.copyOf(to)
		c.link(to, from)
		c.link(before, from2)
		c.link(from2, to2)
		c.link(to2, after)
	}
	return lone
}

// touched returns a place on point k of hole h round which the hole lies inside
// the polygon: the two touch there.
func (c *clipper) touched(h Ring, k int) (int32, bool) {
	n := len(h.points)
	before, after := h.points[(k+n-1)%n], h.points[(k+1)%n]
	for i := range int32(len(c.at)) {
		if c.at[i] == h.points[k] && c.inClosedCone(i, before) && c.inClosedCone(i, after) {
			return i, true
		}
	}
	return 0, false
}

// inSight returns the place nearest to p, among those to the left of it, from
// which the straight way to p stays inside the polygon. Nearly always one of the
// first tried will do, so each is found by a pass of its own.
func (c *clipper) inSight(p r2.Point, end int32) (int32, bool) {
	type candidate struct {
		distance float64
		place    int32
	}
	after := func(a, b candidate) bool {
		return a.distance > b.distance || a.distance == b.distance && a.place > b.place
	}
	last := candidate{distance: -1}
	for {
		best := candidate{distance: math.Inf(1)}
		for i := range end {
			if !lexicalLess(c.at[i], p) {
				continue
			}
			way := c.at[i].Sub(p)
			q := candidate{way.Dot(way), i}
			if after(q, last) && after(best, q) {
				best = q
			}
		}
		if math.IsInf(best.distance, 1) {
			return 0, false
		}
		if c.inCone(best.place, p) && c.clear(best.place, p, end) {
			return best.place, true
		}
		last = best
	}
}

// inCone reports whether the way from place i to p starts into the polygon, or
// along one of the two edges there and ends on it.
func (c *clipper) inCone(i int32, p r2.Point) bool {
	a, b, d := c.at[c.prev[i]], c.at[i], c.at[c.next[i]]
	if within(a, b, p) || within(b, d, p) {
		return true
	}
	if Orient2D(a, b, d) > 0 {
		return Orient2D(a, b, p) > 0 && Orient2D(b, d, p) > 0
	}
	return Orient2D(a, b, p) > 0 || Orient2D(b, d, p) > 0
}

// inClosedCone is inCone with the directions of both edges allowed.
func (c *clipper) inClosedCone(i int32, p r2.Point) bool {
	a, b, d := c.at[c.prev[i]], c.at[i], c.at[c.next[i]]
	if Orient2D(a, b, d) > 0 {
		return Orient2D(a, b, p) >= 0 && Orient2D(b, d, p) >= 0
	}
	return Orient2D(a, b, p) >= 0 || Orient2D(b, d, p) >= 0
}

// within reports whether p lies on the segment from a to b, ends left out.
func within(a, b, p r2.Point) bool {
	return p != a && p != b && r2.RectFromPoints(a, b).ContainsPoint(p) && Orient2D(a, b, p) == 0
}

// clear reports whether nothing of the polygon bars the way from place i to p.
// The way may end on an edge, and start on one if it leaves to its left.
func (c *clipper) clear(i int32, p r2.Point, end int32) bool {
	q := c.at[i]
	way := r2.RectFromPoints(p, q)
	for j := range end {
		a, b := c.at[j], c.at[c.next[j]]
		if max(a.X, b.X) < way.X.Lo || min(a.X, b.X) > way.X.Hi ||
			max(a.Y, b.Y) < way.Y.Lo || min(a.Y, b.Y) > way.Y.Hi {
			continue
		}
		if within(q, p, a) || within(q, p, b) {
			return false
		}
		if a == q || b == q {
			continue
		}
		if Orient2D(q, p, a)*Orient2D(q, p, b) < 0 {
			sp, sq := Orient2D(a, b, p), Orient2D(a, b, q)
			if sp*sq < 0 || sq == 0 && sp < 0 {
				return false
			}
		}
	}
	return true
}
