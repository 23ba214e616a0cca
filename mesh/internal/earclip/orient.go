package earclip

import (
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// Orient2D returns +1 when a, b, c run counter-clockwise, -1 when clockwise and
// 0 when they lie on a line. The answer is exact for the float64 values given.
//
// The filter is the first stage of Shewchuk (1997, Adaptive Precision
// Floating-Point Arithmetic and Fast Robust Geometric Predicates, orient2d;
// from memory): with u = 2^-53 the computed determinant l-r errs by no more
// than (3u+16u²)(|l|+|r|) when nothing underflows; the added constant covers
// that case. Exact arithmetic stands behind it.
func Orient2D(a, b, c r2.Point) int {
	const filter = 4 * 0x1p-53
	l := float64((a.X - c.X) * (b.Y - c.Y))
	r := float64((a.Y - c.Y) * (b.X - c.X))
	det := l - r
	if l < 0 {
		l = -l
	}
	if r < 0 {
		r = -r
	}
	bound := filter*(l+r) + 0x1p-1000
	switch {
	case det > bound:
		return 1
	case det < -bound:
		return -1
	case (a.X == c.X || b.Y == c.Y) && (a.Y == c.Y || b.X == c.X):
		return 0 // both products are exactly zero
	}
	return orientExact(a, b, c)
}

func orientExact(a, b, c r2.Point) int {
	pc := r3.NewPreciseVector(c.X, c.Y, 0)
	ca := r3.NewPreciseVector(a.X, a.Y, 0).Sub(pc)
	cb := r3.NewPreciseVector(b.X, b.Y, 0).Sub(pc)
	return ca.Cross(cb).Z.Sign()
}

// DropAxis projects space onto two of its axes by leaving one out, so that the
// projection moves no coordinate and rounds nothing.
type DropAxis struct {
	axis r3.Axis
	flip bool
}

// NewDropAxis leaves out the axis nearest to n. Counter-clockwise seen against
// n, that is from the side that n points to, stays counter-clockwise.
func NewDropAxis(n r3.Vector) DropAxis {
	axis := n.LargestComponent()
	var along float64
	switch axis {
	case r3.XAxis:
		along = n.X
	case r3.YAxis:
		along = n.Y
	default:
		along = n.Z
	}
	return DropAxis{axis: axis, flip: along < 0}
}

// Point returns a point of space as the two axes that are kept see it.
func (f DropAxis) Point(v r3.Vector) r2.Point {
	var p r2.Point
	switch f.axis {
	case r3.XAxis:
		p = r2.Point{X: v.Y, Y: v.Z}
	case r3.YAxis:
		p = r2.Point{X: v.Z, Y: v.X}
	default:
		p = r2.Point{X: v.X, Y: v.Y}
	}
	if f.flip {
		p.X, p.Y = p.Y, p.X
	}
	return p
}
