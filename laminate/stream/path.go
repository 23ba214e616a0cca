package stream

import (
	"fmt"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/mesh"
)

// way is where one station cuts: an upright plane, seen against the flow.
type way struct {
	frame     cavity.Frame
	plane     mesh.Plane
	origin    r3.Vector // across is counted from here
	x, length float64
	onPath    bool // only the piece at the origin counts
}

func (w way) point(v r3.Vector) r2.Point {
	return r2.Point{X: w.frame.Left.Dot(v.Sub(w.origin)), Y: w.frame.Back.Dot(v)}
}

// pick keeps the piece that the path runs through, or the one nearest to it.
func (w way) pick(pieces []Section) []Section {
	if !w.onPath || len(pieces) < 2 {
		return pieces
	}
	at := w.point(w.origin)
	best := pieces[0]
	for _, s := range pieces[1:] {
		if signedDistance(s.edges(), at) > signedDistance(best.edges(), at) {
			best = s
		}
	}
	return []Section{best}
}

// ErrPath is wrapped by errors about a drawn path.
var ErrPath = fmt.Errorf("the path cannot be followed")

// alongPath cuts across a drawn path, listed from the gate on, seen from above:
// heights along back do not count. Directions are taken over one station's length,
// so that corners are rounded by as much.
func alongPath(f cavity.Frame, path []r3.Vector, n int) ([]way, error) {
	var plan []r3.Vector
	total := 0.0
	for i, p := range path {
		plan = append(plan, p.Sub(f.Back.Mul(f.Back.Dot(p))))
		if i > 0 {
			total += plan[i].Distance(plan[i-1])
		}
	}
	if !(total > 0) {
		return nil, fmt.Errorf("%w: it has no length seen along the back", ErrPath)
	}
	length := total / float64(n)
	var list []way
	for i := range n {
		s := (float64(i) + 0.5) * length
		from, at, to := onPath(plan, s-length/2), onPath(plan, s), onPath(plan, s+length/2)
		ahead := to.Sub(from)
		if ahead.Norm() < length*1e-6 {
			return nil, fmt.Errorf("%w: it turns back on itself after %.1f mm", ErrPath, s)
		}
		own := cavity.Frame{Nose: ahead.Mul(-1 / ahead.Norm()), Back: f.Back}
		own.Left = own.Back.Cross(own.Nose)
		list = append(list, way{frame: own, plane: mesh.Plane{Normal: own.Nose, HeightMM: own.Nose.Dot(at)},
			origin: at.Add(f.Back.Mul(heightOn(path, plan, f, s))), x: s, length: length, onPath: true})
	}
	return list, nil
}

// onPath returns the point after some way along a path.
func onPath(path []r3.Vector, s float64) r3.Vector {
	for i := 1; i < len(path); i++ {
		d := path[i].Distance(path[i-1])
		if s <= d && d > 0 {
			return path[i-1].Add(path[i].Sub(path[i-1]).Mul(max(0, s) / d))
		}
		s -= d
	}
	return path[len(path)-1]
}

// heightOn returns the height of a path after some way along its plan.
func heightOn(path, plan []r3.Vector, f cavity.Frame, s float64) float64 {
	for i := 1; i < len(path); i++ {
		d := plan[i].Distance(plan[i-1])
		if s <= d && d > 0 {
			t := max(0, s) / d
			return f.Back.Dot(path[i-1])*(1-t) + f.Back.Dot(path[i])*t
		}
		s -= d
	}
	return f.Back.Dot(path[len(path)-1])
}

// alongNose cuts a cavity into n equal lengths, listed from the gate on.
func alongNose(c *cavity.Cavity, f cavity.Frame, n int, fromTail bool) []way {
	lo, hi := f.Nose.Dot(c.Mesh.Vertices[0]), f.Nose.Dot(c.Mesh.Vertices[0])
	for _, v := range c.Mesh.Vertices {
		h := f.Nose.Dot(v)
		lo, hi = min(lo, h), max(hi, h)
	}
	length := (hi - lo) / float64(n)
	list := make([]way, n)
	for i := range list {
		x := hi - (float64(i)+0.5)*length
		if fromTail {
			x = lo + (float64(i)+0.5)*length
		}
		list[i] = way{frame: f, plane: mesh.Plane{Normal: f.Nose, HeightMM: x}, x: x, length: length}
	}
	return list
}
