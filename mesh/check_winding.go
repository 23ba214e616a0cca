package mesh

import (
	"math"

	"bellyline/mesh/exact"
	"bellyline/mesh/parallel"

	"github.com/golang/geo/r3"
)

// WindingNumber returns how often some facets of a closed surface enclose a point:
// the sum of the solid angles of its facets over the full sphere (van Oosterom and
// Strackee, IEEE Trans. Biomed. Eng. 30 (1983) 125; from memory). It is NaN for a
// point on a facet, as near as rounding can tell.
func (m *Mesh) WindingNumber(facets []int32, p r3.Vector) float64 {
	parts := make([]exact.Sum, parallel.Count(len(facets), momentBlock))
	parallel.Blocks(len(facets), momentBlock, func(block, from, to int) {
		var s exact.Sum
		for _, f := range facets[from:to] {
			a, b, c := m.Corners(int(f))
			s = s.Plus(solidAngle(a.Sub(p), b.Sub(p), c.Sub(p)))
		}
		parts[block] = s
	})
	var total exact.Sum
	for _, s := range parts {
		total = total.Merge(s)
	}
	return total.Value() / (4 * math.Pi)
}

// solidAngle returns the angle that a triangle fills, seen from the origin:
// positive when its corners are clockwise from there, which is counter-clockwise
// from outside. It is NaN where the origin is on the triangle: there the angle
// jumps from -2 pi to 2 pi.
func solidAngle(a, b, c r3.Vector) float64 {
	la, lb, lc := a.Norm(), b.Norm(), c.Norm()
	sine := a.Dot(b.Cross(c))
	cosine := la*lb*lc + a.Dot(b)*lc + b.Dot(c)*la + c.Dot(a)*lb
	// Both are off by some roundoff times this; a millionfold margin keeps a sum
	// over many facets a whole number.
	if tiny := 1e-9 * la * lb * lc; math.Abs(sine) <= tiny && cosine <= tiny {
		return math.NaN()
	}
	return 2 * math.Atan2(sine, cosine)
}
