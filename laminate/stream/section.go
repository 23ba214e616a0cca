package stream

import (
	"math"
	"slices"

	"bellyline/mesh/outline"

	"github.com/golang/geo/r2"
)

// Section is one cross-section of a cavity, in mm: X runs across, Y along the
// back direction. Loops are closed, outer ones counter-clockwise and holes
// clockwise. Plastic is where they wind round a point once or more, so loops of
// overlapping shells count once.
type Section struct {
	Loops [][]r2.Point
}

// edge is one side of a loop; plastic lies to its left.
type edge struct{ a, b r2.Point }

func (s Section) edges() []edge {
	var list []edge
	for _, loop := range s.Loops {
		list = append(list, sides(loop)...)
	}
	return list
}

func sides(loop []r2.Point) []edge {
	var list []edge
	for i, p := range loop {
		if q := loop[(i+1)%len(loop)]; q != p {
			list = append(list, edge{p, q})
		}
	}
	return list
}

// Bounds returns the box around all loops.
func (s Section) Bounds() r2.Rect {
	box := r2.EmptyRect()
	for _, loop := range s.Loops {
		for _, p := range loop {
			box = box.AddPoint(p)
		}
	}
	return box
}

// AreaMM2 is the area that plastic takes.
func (s Section) AreaMM2() float64 { return s.AreaBelowMM2(math.Inf(1)) }

// AreaBelowMM2 is the area below a height. Between two neighbours among the
// places where a loop turns, is crossed or meets that height, the plastic on an
// upright line is a linear function of the line's place, so its middle value is
// exact. Cost: sides times places; for a single loop one pass.
func (s Section) AreaBelowMM2(height float64) float64 {
	edges := s.edges()
	if !s.overlapping() {
		return plainAreaBelow(edges, height)
	}
	places := s.turns(edges, height)
	area := 0.0
	for i := range max(0, len(places)-1) {
		width := places[i+1] - places[i]
		for _, p := range scanLine(edges, places[i]+width/2) {
			area += width * max(0, min(p.hi, height)-p.lo)
		}
	}
	return area
}

// plainAreaBelow is the area below a height within loops that nowhere wind
// round a point twice: the flux of (0, min(y, height)) out of them.
func plainAreaBelow(edges []edge, height float64) float64 {
	if len(edges) == 0 {
		return 0
	}
	base := edges[0].a.Y
	top, area := height-base, 0.0
	for _, e := range edges {
		y0, y1, dx := e.a.Y-base, e.b.Y-base, e.a.X-e.b.X
		switch {
		case y0 <= top && y1 <= top:
			area += dx * (y0 + y1) / 2
		case y0 >= top && y1 >= top:
			area += dx * top
		default:
			low := min(y0, y1)
			part := (top - low) / math.Abs(y1-y0)
			area += dx * (part*(low+top)/2 + (1-part)*top)
		}
	}
	return area
}

// overlapping tells whether two loops cross, or an outer loop lies in another.
func (s Section) overlapping() bool {
	for i, loop := range s.Loops {
		for j, other := range s.Loops {
			switch {
			case i < j && len(crossings(loop, other)) > 0:
				return true
			case i != j && outline.Area(loop) > 0 && outline.Area(other) > 0 && outline.Winding(other, loop[0]) != 0 && !s.islandIn(i):
				return true
			}
		}
	}
	return false
}

// islandIn tells whether loop i lies where the others leave a hole.
func (s Section) islandIn(i int) bool {
	around := 0
	for j, loop := range s.Loops {
		if j != i {
			around += outline.Winding(loop, s.Loops[i][0])
		}
	}
	return around <= 0
}

// turns lists where plastic on upright lines stops being linear, in order.
func (s Section) turns(edges []edge, height float64) []float64 {
	var places []float64
	for _, e := range edges {
		places = append(places, e.a.X)
		if (e.a.Y < height) != (e.b.Y < height) && !math.IsInf(height, 0) {
			places = append(places, e.a.X+(e.b.X-e.a.X)*(height-e.a.Y)/(e.b.Y-e.a.Y))
		}
	}
	for i, loop := range s.Loops {
		for _, other := range s.Loops[:i] {
			for _, p := range crossings(loop, other) {
				places = append(places, p.X)
			}
		}
	}
	slices.Sort(places)
	return slices.Compact(places)
}

// crossings returns all places where sides of two loops cross.
func crossings(p, q []r2.Point) []r2.Point {
	if !r2.RectFromPoints(p...).Intersects(r2.RectFromPoints(q...)) {
		return nil
	}
	var list []r2.Point
	others := sides(q)
	for _, e := range sides(p) {
		lo, hi := min(e.a.Y, e.b.Y), max(e.a.Y, e.b.Y)
		d := e.b.Sub(e.a)
		for _, f := range others {
			if f.a.Y < lo && f.b.Y < lo || f.a.Y > hi && f.b.Y > hi {
				continue
			}
			g := f.b.Sub(f.a)
			sa, sb := d.Cross(f.a.Sub(e.a)), d.Cross(f.b.Sub(e.a))
			ta, tb := g.Cross(e.a.Sub(f.a)), g.Cross(e.b.Sub(f.a))
			if (sa > 0) != (sb > 0) && (ta > 0) != (tb > 0) {
				list = append(list, f.a.Add(g.Mul(sa/(sa-sb))))
			}
		}
	}
	return list
}
