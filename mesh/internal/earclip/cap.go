package earclip

import (
	"cmp"
	"slices"

	"bellyline/mesh/exact"

	"github.com/golang/geo/r2"
)

// Ring is one loop of a section in the frame of the plane, counter-clockwise
// when its area is positive.
type Ring struct {
	Nodes  []int32
	points []r2.Point
	box    r2.Rect
	Area   float64 // in the frame, which may foreshorten
}

// NewRing returns the ring of nodes at points.
func NewRing(nodes []int32, points []r2.Point) Ring {
	return Ring{Nodes: nodes, points: points, box: r2.RectFromPoints(points...), Area: shoelace(points)}
}

// shoelace returns the signed area of a polygon, reckoned about its first point.
func shoelace(p []r2.Point) float64 {
	sum := exact.Double{}
	for i := 2; i < len(p); i++ {
		sum = sum.PlusFloat(TwiceArea(p[0], p[i-1], p[i]) / 2)
	}
	return sum.Value()
}

// TwiceArea returns twice the signed area of a triangle, positive counter-clockwise.
func TwiceArea(a, b, c r2.Point) float64 { return b.Sub(a).Cross(c.Sub(a)) }

// Reversed returns the ring run the other way.
func (r Ring) Reversed() Ring {
	nodes, points := slices.Clone(r.Nodes), slices.Clone(r.points)
	slices.Reverse(nodes)
	slices.Reverse(points)
	return Ring{Nodes: nodes, points: points, box: r.box, Area: -r.Area}
}

// Turned returns the facets facing the other way.
func Turned(facets [][3]int32) [][3]int32 {
	out := make([][3]int32, len(facets))
	for i, t := range facets {
		out[i] = [3]int32{t[0], t[2], t[1]}
	}
	return out
}

// CapRings triangulates outer rings with the holes that lie in them.
func CapRings(rings []Ring) [][3]int32 {
	holes, alone := Nest(rings)
	var facets [][3]int32
	for i, r := range rings {
		switch {
		case r.Area >= 0:
			flat, _ := Fill(r, holes[i])
			facets = append(facets, flat...)
		case alone[i]:
			facets = append(facets, capAlone(r)...)
		}
	}
	return facets
}

// capAlone caps a hole that lies in no outer ring.
func capAlone(hole Ring) [][3]int32 {
	facets, _ := Fill(hole.Reversed(), nil)
	return Turned(facets)
}

// Nest finds for each outer ring the holes that lie in it, and which holes lie
// in none. A hole belongs to the smallest ring round it.
func Nest(rings []Ring) (holes [][]Ring, alone []bool) {
	holes, alone = make([][]Ring, len(rings)), make([]bool, len(rings))
	var outer []int
	for i, r := range rings {
		if r.Area >= 0 {
			outer = append(outer, i)
		}
	}
	slices.SortStableFunc(outer, func(a, b int) int { return cmp.Compare(rings[a].Area, rings[b].Area) })
	for i, r := range rings {
		if r.Area >= 0 {
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
func (o Ring) encloses(r Ring) bool {
	if -r.Area > o.Area {
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
func (o Ring) place(p r2.Point) int {
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
		side := Orient2D(a, b, p)
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
