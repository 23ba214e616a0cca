package hollow

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// setFrame looks along the pull, with x and y along the block's edges: those of the
// smallest rectangle round its outline, the edge nearest to the model's own axis
// being x. Its z is 0 on the parting face that most of the volume opens in.
func (v *view) setFrame(pieces []*piece) {
	partingMM := v.centre.Dot(v.pull) + v.mainLevel(pieces)
	v.frame = newFrame(v.pull, acrossPull(v.pull), v.centre, partingMM)
	var plan []r2.Point
	for t, on := range v.hull.on {
		if on {
			c := v.mesh.Triangles[t]
			plan = append(plan, v.plan(c[0]), v.plan(c[1]), v.plan(c[2]))
		}
	}
	outline := convexOutline(plan)
	turn := rectangleTurn(outline)
	x := v.frame.X.Mul(math.Cos(turn)).Add(v.frame.Y.Mul(math.Sin(turn)))
	v.frame = newFrame(v.pull, snapped(x), v.centre, partingMM)
	v.outline = nil
	for _, p := range outline {
		q := v.frame.To(newFrame(v.pull, acrossPull(v.pull), v.centre, partingMM).From(r3.Vector{X: p.X, Y: p.Y}))
		v.outline = append(v.outline, r2.Point{X: q.X, Y: q.Y})
	}
}

// convexOutline returns the convex hull of points, counter-clockwise (Andrew,
// Information Processing Letters 9 (1979) 216; from memory).
func convexOutline(points []r2.Point) []r2.Point {
	points = slices.Clone(points)
	slices.SortFunc(points, func(a, b r2.Point) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	points = slices.Compact(points)
	if len(points) < 3 {
		return points
	}
	half := func(order func(int) r2.Point) []r2.Point {
		var h []r2.Point
		for i := range points {
			p := order(i)
			for len(h) > 1 && h[len(h)-1].Sub(h[len(h)-2]).Cross(p.Sub(h[len(h)-2])) <= 0 {
				h = h[:len(h)-1]
			}
			h = append(h, p)
		}
		return h[:len(h)-1]
	}
	lower := half(func(i int) r2.Point { return points[i] })
	upper := half(func(i int) r2.Point { return points[len(points)-1-i] })
	return append(lower, upper...)
}

// rectangleTurn returns the angle, within 45 degrees, of an edge of the smallest
// rectangle round a convex outline; one of its edges lies on one of the outline's
// (Freeman and Shapira, Communications of the ACM 18 (1975) 409; from memory). A
// block whose outline is a circle is not turned.
func rectangleTurn(outline []r2.Point) float64 {
	least := rectangleArea(outline, 0) * (1 - 1e-6)
	turn := 0.0
	for i, a := range outline {
		d := outline[(i+1)%len(outline)].Sub(a)
		angle := math.Mod(math.Atan2(d.Y, d.X), math.Pi/2)
		if angle > math.Pi/4 {
			angle -= math.Pi / 2
		}
		if angle < -math.Pi/4 {
			angle += math.Pi / 2
		}
		if area := rectangleArea(outline, angle); area < least {
			least, turn = area*(1-1e-9), angle
		}
	}
	return turn
}

func rectangleArea(outline []r2.Point, angle float64) float64 {
	c, s := math.Cos(angle), math.Sin(angle)
	lo, hi := r2.Point{X: math.Inf(1), Y: math.Inf(1)}, r2.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, p := range outline {
		x, y := p.X*c+p.Y*s, p.Y*c-p.X*s
		lo, hi = r2.Point{X: min(lo.X, x), Y: min(lo.Y, y)}, r2.Point{X: max(hi.X, x), Y: max(hi.Y, y)}
	}
	return (hi.X - lo.X) * (hi.Y - lo.Y)
}

// mainLevel returns the height of the rims that most of the volume lies below.
func (v *view) mainLevel(pieces []*piece) float64 {
	main, most := 0.0, math.Inf(-1)
	for _, p := range pieces {
		if v.roleOf(p) != opens {
			continue
		}
		below := 0.0
		for _, q := range pieces {
			if v.roleOf(q) == opens && math.Abs(q.rimMM-p.rimMM) <= 4*v.tol {
				below += q.volume
			}
		}
		if below > most {
			main, most = p.rimMM, below
		}
	}
	return main
}
