// Package earclip triangulates plane regions with holes, adding no point.
package earclip

import (
	"math"

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

// Fill triangulates an outer ring with holes by cutting off ears (Meisters
// 1975; holes bridged as in Eberly, Triangulation by Ear Clipping, 2002; both
// from memory). It returns the facets and the area that they cover in vain by
// folding over each other.
//
// All decisions are exact for the points given. For a polygon that does not
// cross itself every facet has a positive area. Where rounding made it cross,
// some place is cut off though it is no ear, the one with the least area. Cost:
// about n log n for sections of smooth bodies, n² at worst, n times the number
// of holes for bridges.
func Fill(outer Ring, holes []Ring) (facets [][3]int32, waste float64) {
	c := &clipper{}
	c.append(outer)
	lone := c.bridgeAll(holes)
	c.clip()
	for _, h := range lone { // not in sight of anything: only when rings cross
		c.facets = append(c.facets, capAlone(h)...)
		waste -= 2 * h.Area
	}
	for _, a := range c.areas {
		waste += (math.Abs(a) - a) / 2
	}
	return c.facets, waste
}

// FoldLimit is the share of a ring's area that facets may cover in vain before
// they are held to fold. Rounding of points by 2^-53 of the ring's size along its
// whole outline wastes less than 1e-12 of any ring that is not a sliver, and a
// real fold wastes far more.
const FoldLimit = 1e-9

// append adds a ring of its own to the places and returns its first place.
func (c *clipper) append(r Ring) int32 {
	first := int32(len(c.node))
	n := int32(len(r.Nodes))
	c.node = append(c.node, r.Nodes...)
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

// clip cuts off ears until nothing is left.
func (c *clipper) clip() {
	c.prepare()
	for rings := []int32{0}; len(rings) > 0; {
		start := rings[len(rings)-1]
		rings = append(rings[:len(rings)-1], c.clipRing(start)...)
	}
}

// clipRing cuts ears off the polygon through one place. Where the polygon
// touches itself it may fall in two; then both are returned, to be gone on with.
func (c *clipper) clipRing(place int32) (rest []int32) {
	left, tried := c.size(place), 0
	for left > 3 {
		switch {
		case c.spike(place):
			// Out and back along one segment: nothing lies between.
			a, b := c.prev[place], c.next[place]
			c.remove(place)
			place = c.remove(b)
			c.turn(a)
			c.turn(place)
			left -= 2
			tried = 0
		case c.needle(place) || c.ear(place):
			place = c.cut(place)
			left--
			tried = 0
		case tried > left:
			if a, b, ok := c.split(place); ok {
				return []int32{a, b}
			}
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
	return nil
}

// size counts the places of a polygon.
func (c *clipper) size(start int32) int {
	n := 1
	for i := c.next[start]; i != start; i = c.next[i] {
		n++
	}
	return n
}

// split looks for a place that lies on an edge and parts the polygon
// there. As the edge must stay whole, a facet without area goes between: the edge and the
// place. It returns a place of each part.
func (c *clipper) split(start int32) (a, b int32, ok bool) {
	for i := start; ; {
		p, q := c.at[i], c.at[c.next[i]]
		w := int32(-1)
		c.grid.any(r2.RectFromPoints(p, q), func(k int32) bool {
			if !c.gone[k] && c.blunt[k] && within(p, q, c.at[k]) && c.reaches(start, k) {
				w = k
			}
			return w >= 0
		})
		if w >= 0 {
			return c.part(i, w)
		}
		if i = c.next[i]; i == start {
			return 0, 0, false
		}
	}
}

// reaches reports whether both places are of one polygon.
func (c *clipper) reaches(from, to int32) bool {
	for i := c.next[from]; i != from; i = c.next[i] {
		if i == to {
			return true
		}
	}
	return from == to
}

// part parts the polygon at place w, which lies on the edge that begins at i.
func (c *clipper) part(i, w int32) (a, b int32, ok bool) {
	j := c.next[i]
	c.facets = append(c.facets, [3]int32{c.node[i], c.node[j], c.node[w]})
	w2 := c.copyOf(w)
	c.gone, c.blunt = append(c.gone, false), append(c.blunt, false)
	c.link(c.prev[w], w2)
	c.link(w2, j)
	c.link(i, w)
	for _, k := range []int32{i, j, w, w2} {
		c.turn(k)
	}
	return w, w2, true
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
	return Orient2D(c.at[c.prev[i]], c.at[i], c.at[c.next[i]]) <= 0
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
	return c.blunt[i] && a.Sub(b).Dot(d.Sub(b)) > 0 && Orient2D(a, b, d) == 0
}

// ear reports whether the triangle at place i may be cut off: a left turn, and
// no other place in the triangle or on its edges. Only blunt places need be
// looked at: when any lies in there, so does a blunt one. The polygon may touch
// the triangle's corners from outside.
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
		switch c.at[w] {
		case a:
			return c.enters(w, d, a, b)
		case b:
			return c.enters(w, a, b, d)
		case d:
			return c.enters(w, b, d, a)
		}
		return Orient2D(d, a, c.at[w]) >= 0 && Orient2D(a, b, c.at[w]) >= 0 && Orient2D(b, d, c.at[w]) >= 0
	})
}

// enters reports whether the outline at place w, which lies on the corner b of a
// triangle, runs into the triangle there, or runs along both its sides: then
// nothing of the polygon is left between.
func (c *clipper) enters(w int32, a, b, d r2.Point) bool {
	along := true
	for _, p := range [2]r2.Point{c.at[c.prev[w]], c.at[c.next[w]]} {
		in, out := Orient2D(a, b, p), Orient2D(b, d, p)
		if in > 0 && out > 0 {
			return true
		}
		along = along && in >= 0 && out >= 0
	}
	return along
}

// leastHarm returns the place whose triangle has the least area.
func (c *clipper) leastHarm(start int32) int32 {
	best, least := start, math.Inf(1)
	for i := start; ; {
		area := math.Abs(TwiceArea(c.at[c.prev[i]], c.at[i], c.at[c.next[i]]))
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
	c.areas = append(c.areas, TwiceArea(c.at[a], c.at[i], c.at[b]))
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
