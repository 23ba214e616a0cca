package mesh

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// clipper is a polygon that is being cut into triangles: a ring of places, each
// a node of the section at a point. Holes are joined to it by bridges, run once
// each way, so a node may have several places.
type clipper struct {
	node       []int32
	at         []r2.Point
	prev, next []int32
	gone       []bool
	blunt      []bool // no left turn here: reflex or straight
	grid       grid   // places that are or were blunt
	facets     [][3]int32
	areas      []float64 // twice the signed area of each facet
}

// earClip triangulates an outer ring with holes by cutting off ears (Meisters
// 1975; holes bridged as in Eberly, Triangulation by Ear Clipping, 2002; both
// from memory). It returns the facets and by how much area they overlap.
//
// All decisions are exact for the points given. For a polygon that does not
// cross itself every facet has a positive area. Where rounding made it cross,
// some place is cut off though it is no ear, the one with the least area. Cost:
// about n log n for sections of smooth bodies, n² at worst, n times the number
// of holes for bridges.
func earClip(outer ring, holes []ring) (facets [][3]int32, waste float64) {
	c := &clipper{}
	c.append(outer)
	lone := c.bridgeAll(holes)
	c.clip()
	facets, areas := c.facets, c.areas
	for _, h := range lone { // not in sight of anything: only when rings cross
		f, _ := earClip(h.reversed(), nil)
		facets = append(facets, turned(f)...)
		areas = append(areas, h.area)
	}
	return facets, wasteOf(areas) / 2
}

// append adds a ring of its own to the places and returns its first place.
func (c *clipper) append(r ring) int32 {
	first := int32(len(c.node))
	n := int32(len(r.nodes))
	c.node = append(c.node, r.nodes...)
	c.at = append(c.at, r.points...)
	for i := range n {
		c.prev = append(c.prev, first+(i+n-1)%n)
		c.next = append(c.next, first+(i+1)%n)
	}
	return first
}

// copyOf adds another place of the same node.
func (c *clipper) copyOf(i int32) int32 {
	c.node = append(c.node, c.node[i])
	c.at = append(c.at, c.at[i])
	c.prev = append(c.prev, -1)
	c.next = append(c.next, -1)
	return int32(len(c.node)) - 1
}

func (c *clipper) link(a, b int32) { c.next[a], c.prev[b] = b, a }

// bridgeAll joins holes to the outer ring, the leftmost first, and returns those
// that could not be joined.
//
// A bridge runs from the hole's leftmost point to a place that lies to the left
// of it and is in sight. Holes not joined yet lie wholly to its right, so only
// the polygon as it stands has to be looked at, and one such place always is in
// sight: the ray to the left meets an edge whose left end, or something before
// it, can be seen.
func (c *clipper) bridgeAll(holes []ring) (lone []ring) {
	holes = slices.Clone(holes)
	slices.SortStableFunc(holes, func(a, b ring) int {
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
		to, ok := c.inSight(h.points[k], end)
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

// inCone reports whether the way from place i to p starts into the polygon.
func (c *clipper) inCone(i int32, p r2.Point) bool {
	a, b, d := c.at[c.prev[i]], c.at[i], c.at[c.next[i]]
	if orient2D(a, b, d) > 0 {
		return orient2D(a, b, p) > 0 && orient2D(b, d, p) > 0
	}
	return orient2D(a, b, p) > 0 || orient2D(b, d, p) > 0
}

// clear reports whether nothing of the polygon bars the way from place i to p.
// The way may end on an edge, and start on one if it leaves to its left.
func (c *clipper) clear(i int32, p r2.Point, end int32) bool {
	q := c.at[i]
	way := r2.RectFromPoints(p, q)
	on := func(x r2.Point) bool {
		return x != p && x != q && way.ContainsPoint(x) && orient2D(q, p, x) == 0
	}
	for j := range end {
		a, b := c.at[j], c.at[c.next[j]]
		if max(a.X, b.X) < way.X.Lo || min(a.X, b.X) > way.X.Hi ||
			max(a.Y, b.Y) < way.Y.Lo || min(a.Y, b.Y) > way.Y.Hi {
			continue
		}
		if on(a) || on(b) {
			return false
		}
		if a == q || b == q {
			continue
		}
		if orient2D(q, p, a)*orient2D(q, p, b) < 0 {
			sp, sq := orient2D(a, b, p), orient2D(a, b, q)
			if sp*sq < 0 || sq == 0 && sp < 0 {
				return false
			}
		}
	}
	return true
}

// clip cuts off ears until nothing is left.
func (c *clipper) clip() {
	left := len(c.node)
	c.prepare()
	place, tried := int32(0), 0
	for left > 3 {
		switch {
		case c.spike(place):
			// Out and back along one segment: nothing lies between.
			a, b := c.prev[place], c.next[place]
			place = c.remove(place)
			place = c.remove(b)
			c.turn(a)
			c.turn(c.next[a])
			left -= 2
			tried = 0
		case c.needle(place) || c.ear(place):
			place = c.cut(place)
			left--
			tried = 0
		case tried > left:
			place = c.cut(c.leastHarm(place))
			left--
			tried = 0
		default:
			place = c.next[place]
			tried++
		}
	}
	if left == 3 && !c.spike(place) && !c.spike(c.next[place]) && !c.spike(c.prev[place]) {
		c.emit(place)
	}
}

func (c *clipper) prepare() {
	c.gone = make([]bool, len(c.node))
	c.blunt = make([]bool, len(c.node))
	count := 0
	for i := range c.node {
		c.blunt[i] = c.isBlunt(int32(i))
		if c.blunt[i] {
			count++
		}
	}
	c.grid = newGrid(c.at, count)
	for i := range c.node {
		if c.blunt[i] {
			c.grid.insert(int32(i), c.at[i])
		}
	}
}

func (c *clipper) isBlunt(i int32) bool {
	return orient2D(c.at[c.prev[i]], c.at[i], c.at[c.next[i]]) <= 0
}

// spike reports whether the polygon comes back from place i to where it came
// from.
func (c *clipper) spike(i int32) bool { return c.node[c.prev[i]] == c.node[c.next[i]] }

// needle reports whether the outline at place i stays where it is or comes back
// on itself, so that nothing lies in the triangle there.
func (c *clipper) needle(i int32) bool {
	a, b, d := c.at[c.prev[i]], c.at[i], c.at[c.next[i]]
	if a == b || b == d {
		return true
	}
	return c.blunt[i] && a.Sub(b).Dot(d.Sub(b)) > 0 && orient2D(a, b, d) == 0
}

// ear reports whether the triangle at place i may be cut off: a left turn, and
// no other place in the triangle or on its edges. Only blunt places need be
// looked at: when any lies in there, so does a blunt one. Places at the
// triangle's corners do not count, nor do those that touch one of its two old
// edges from outside: the polygon may touch itself there.
func (c *clipper) ear(i int32) bool {
	if c.blunt[i] {
		return false
	}
	ia, ic := c.prev[i], c.next[i]
	a, b, d := c.at[ia], c.at[i], c.at[ic]
	return !c.grid.any(r2.RectFromPoints(a, b, d), func(w int32) bool {
		if c.gone[w] || !c.blunt[w] || w == ia || w == ic {
			return false
		}
		p := c.at[w]
		if p == a || p == b || p == d || orient2D(d, a, p) < 0 {
			return false
		}
		ab, bd := orient2D(a, b, p), orient2D(b, d, p)
		return ab >= 0 && bd >= 0 &&
			!(ab == 0 && c.outside(w, a, b)) && !(bd == 0 && c.outside(w, b, d))
	})
}

// outside reports whether the outline at place w, which lies on the edge from a
// to b, stays on the edge's right.
func (c *clipper) outside(w int32, a, b r2.Point) bool {
	return orient2D(a, b, c.at[c.prev[w]]) <= 0 && orient2D(a, b, c.at[c.next[w]]) <= 0
}

// leastHarm returns the place whose triangle has the least area.
func (c *clipper) leastHarm(start int32) int32 {
	best, least := start, math.Inf(1)
	for i := start; ; {
		area := math.Abs(twiceArea(c.at[c.prev[i]], c.at[i], c.at[c.next[i]]))
		if area < least {
			best, least = i, area
		}
		if i = c.next[i]; i == start {
			return best
		}
	}
}

// cut takes the triangle at place i off and returns where to go on: not at the
// next place but at the one after, so that a round polygon is halved again and
// again instead of being cut into a fan.
func (c *clipper) cut(i int32) int32 {
	a, b := c.prev[i], c.next[i]
	c.emit(i)
	c.remove(i)
	c.turn(a)
	c.turn(b)
	return c.next[b]
}

func (c *clipper) emit(i int32) {
	a, b := c.prev[i], c.next[i]
	c.facets = append(c.facets, [3]int32{c.node[a], c.node[i], c.node[b]})
	c.areas = append(c.areas, twiceArea(c.at[a], c.at[i], c.at[b]))
}

// remove takes place i out and returns the one after it.
func (c *clipper) remove(i int32) int32 {
	c.gone[i] = true
	c.link(c.prev[i], c.next[i])
	return c.next[i]
}

// turn finds again whether place i is blunt.
func (c *clipper) turn(i int32) {
	blunt := c.isBlunt(i)
	if blunt && !c.blunt[i] {
		c.grid.insert(i, c.at[i]) // perhaps once more: harmless
	}
	c.blunt[i] = blunt
}
