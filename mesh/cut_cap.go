package mesh

import (
	"cmp"
	"slices"

	"bellyline/mesh/internal/exact"

	"github.com/golang/geo/r2"
)

// ring is one loop of a section in the frame of the plane, counter-clockwise
// when its area is positive.
type ring struct {
	nodes  []int32
	points []r2.Point
	box    r2.Rect
	area   float64 // in the frame, which may foreshorten
}

func newRing(nodes []int32, points []r2.Point) ring {
	return ring{nodes: nodes, points: points, box: r2.RectFromPoints(points...), area: shoelace(points)}
}

// shoelace returns the signed area of a polygon, reckoned about its first point.
func shoelace(p []r2.Point) float64 {
	sum := exact.Double{}
	for i := 2; i < len(p); i++ {
		sum = sum.PlusFloat(twiceArea(p[0], p[i-1], p[i]) / 2)
	}
	return sum.Value()
}

func twiceArea(a, b, c r2.Point) float64 { return b.Sub(a).Cross(c.Sub(a)) }

// reversed returns the ring run the other way.
func (r ring) reversed() ring {
	nodes, points := slices.Clone(r.nodes), slices.Clone(r.points)
	slices.Reverse(nodes)
	slices.Reverse(points)
	return ring{nodes: nodes, points: points, box: r.box, area: -r.area}
}

// caps triangulates a section: facets over its nodes that face up.
//
// Every segment of the section is the edge of one facet, every other edge has a
// facet on both sides, and no point is added. That holds by construction, also
// where rounding has made a loop cross itself a little, so that the parts are
// closed in every case; what geometry can spoil is only the shape of facets.
func (c *cutter) caps(s *section) [][3]int32 {
	rings := make([]ring, len(s.loops))
	var total float64
	for i, loop := range s.loops {
		points := make([]r2.Point, len(loop))
		for k, n := range loop {
			points[k] = c.flat(s, n)
		}
		rings[i] = newRing(loop, points)
		total += rings[i].area
	}
	if total >= 0 {
		return capRings(rings)
	}
	for i := range rings { // the surface is inside out
		rings[i] = rings[i].reversed()
	}
	return turned(capRings(rings))
}

// turned returns the facets facing the other way.
func turned(facets [][3]int32) [][3]int32 {
	out := make([][3]int32, len(facets))
	for i, t := range facets {
		out[i] = [3]int32{t[0], t[2], t[1]}
	}
	return out
}

// capRings triangulates outer rings with the holes that lie in them.
func capRings(rings []ring) [][3]int32 {
	holes, alone := nest(rings)
	var facets [][3]int32
	for i, r := range rings {
		switch {
		case r.area >= 0:
			flat, _ := earClip(r, holes[i])
			facets = append(facets, flat...)
		case alone[i]:
			facets = append(facets, capAlone(r)...)
		}
	}
	return facets
}

// capAlone caps a hole that lies in no outer ring.
func capAlone(hole ring) [][3]int32 {
	facets, _ := earClip(hole.reversed(), nil)
	return turned(facets)
}

// nest finds for each outer ring the holes that lie in it, and which holes lie
// in none. A hole belongs to the smallest ring round it.
func nest(rings []ring) (holes [][]ring, alone []bool) {
	holes, alone = make([][]ring, len(rings)), make([]bool, len(rings))
	var outer []int
	for i, r := range rings {
		if r.area >= 0 {
			outer = append(outer, i)
		}
	}
	slices.SortStableFunc(outer, func(a, b int) int { return cmp.Compare(rings[a].area, rings[b].area) })
	for i, r := range rings {
		if r.area >= 0 {
			continue
		}
		alone[i] = true
		for _, o := range outer {
			if rings[o].box.Contains(r.box) && rings[o].encloses(r) {
				holes[o] = append(holes[o], r)
				alone[i] = false
				break
			}
		}
	}
	return holes, alone
}

// encloses reports whether r lies in o, by the first point of r that is not on
// the outline of o.
func (o ring) encloses(r ring) bool {
	if -r.area > o.area {
		return false
	}
	for _, p := range r.points {
		switch o.place(p) {
		case 1:
			return true
		case -1:
			return false
		}
	}
	return true
}

// place returns 1 when p lies inside the ring, -1 outside, 0 on its outline.
// Exact: the parity of edges crossed by a ray towards +x.
func (o ring) place(p r2.Point) int {
	inside := -1
	for i, a := range o.points {
		b := o.points[(i+1)%len(o.points)]
		if a.Y == p.Y && b.Y == p.Y {
			if min(a.X, b.X) <= p.X && p.X <= max(a.X, b.X) {
				return 0
			}
			continue
		}
		if p.Y < min(a.Y, b.Y) || p.Y > max(a.Y, b.Y) || p.X > max(a.X, b.X) {
			continue
		}
		side := orient2D(a, b, p)
		if side == 0 {
			return 0
		}
		upward := a.Y <= p.Y && p.Y < b.Y
		downward := b.Y <= p.Y && p.Y < a.Y
		if upward && side > 0 || downward && side < 0 {
			inside = -inside
		}
	}
	return inside
}

// lexicalMin returns the index of the leftmost, then lowest point.
func lexicalMin(p []r2.Point) int {
	least := 0
	for i := range p {
		if lexicalLess(p[i], p[least]) {
			least = i
		}
	}
	return least
}

func lexicalLess(a, b r2.Point) bool { return a.X < b.X || a.X == b.X && a.Y < b.Y }
