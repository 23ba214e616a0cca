package hollow

import (
	"math"

	"github.com/golang/geo/r2"

	"bellyline/mesh/exact"
)

// cutLine is a vertical plane, seen from above as a line through at.
type cutLine struct {
	at, along r2.Point // along has length 1; the plane's normal is along turned right
}

// off is how far a point lies to the right of the line.
func (l cutLine) off(p r2.Point) float64 {
	d := p.Sub(l.at)
	return d.X*l.along.Y - d.Y*l.along.X
}

// crossed is the section of a hollow that a cutLine makes at one place: from a
// rim across the floor to the other rim.
type crossed struct {
	sides   []int32 // sides of facets that are crossed in turn, the first and the last at a rim
	widthMM float64 // between the rims
	areaMM2 float64 // below the line between the rims
	from    r2.Point
	to      r2.Point
}

// section finds the section that holds the line's own point; false is a line
// with no rim on both sides of it, or where the floor does not lead from one to
// the other.
func (v *view) section(rims []int32, line cutLine) (crossed, bool) {
	left, right := none, none
	toLeft, toRight := math.Inf(1), math.Inf(1)
	for _, s := range rims {
		a, b := v.side(s)
		p, ok := v.crossing(a, b, line)
		if !ok {
			continue
		}
		switch x := p.Sub(line.at).Dot(line.along); {
		case x >= 0 && x < toRight:
			toRight, right = x, s
		case x < 0 && -x < toLeft:
			toLeft, left = -x, s
		}
	}
	if left == none || right == none {
		return crossed{}, false
	}
	c := crossed{}
	for s := left; ; {
		c.sides = append(c.sides, s)
		if s == right && len(c.sides) > 1 {
			break
		}
		if len(c.sides) > 1 {
			if v.twins[s] == none || v.label[v.twins[s]/3] != inside {
				return c, false // another rim
			}
			s = v.twins[s]
		}
		s = v.otherSide(s, line)
		if s == none || len(c.sides) > len(v.label) {
			return c, false
		}
	}
	return v.measureSection(c, line), true
}

// otherSide returns the other side of a facet that the line crosses.
func (v *view) otherSide(s int32, line cutLine) int32 {
	for o := next(s); o != s; o = next(o) {
		a, b := v.side(o)
		if _, ok := v.crossing(a, b, line); ok {
			return o
		}
	}
	return none
}

// crossing returns where the edge between two corners crosses a line, reckoned the
// same from either end. A corner on the line counts as right of it.
func (v *view) crossing(a, b int32, line cutLine) (r2.Point, bool) {
	if a > b {
		a, b = b, a
	}
	p, q := v.plan(a), v.plan(b)
	x, y := line.off(p), line.off(q)
	if (x < 0) == (y < 0) {
		return r2.Point{}, false
	}
	return p.Add(q.Sub(p).Mul(x / (x - y))), true
}

// share is how far along the edge from the lower to the higher numbered corner it
// is crossed.
func (v *view) share(a, b int32, line cutLine) float64 {
	x, y := line.off(v.plan(min(a, b))), line.off(v.plan(max(a, b)))
	return x / (x - y)
}

// measureSection works out the width and the area of a section.
func (v *view) measureSection(c crossed, line cutLine) crossed {
	type point struct{ x, z float64 }
	var points []point
	for _, s := range c.sides {
		a, b := v.side(s)
		p, _ := v.crossing(a, b, line)
		k := v.share(a, b, line)
		z := v.z[min(a, b)] + (v.z[max(a, b)]-v.z[min(a, b)])*k
		points = append(points, point{p.Sub(line.at).Dot(line.along), z})
	}
	first, last := points[0], points[len(points)-1]
	c.from, c.to = line.at.Add(line.along.Mul(first.x)), line.at.Add(line.along.Mul(last.x))
	c.widthMM = last.x - first.x
	var twice exact.Sum
	for i := 1; i+1 < len(points); i++ {
		p, q := points[i], points[i+1]
		twice = twice.Plus((p.x-first.x)*(q.z-first.z) - (q.x-first.x)*(p.z-first.z))
	}
	c.areaMM2 = math.Abs(twice.Value()) / 2
	return c
}

// rimsOf lists the sides of a piece's facets at parting faces.
func (v *view) rimsOf(p *piece) []int32 {
	var list []int32
	for _, l := range p.loops {
		for _, s := range l {
			if what, _ := v.beyond(s); what == up {
				list = append(list, s)
			}
		}
	}
	return list
}
