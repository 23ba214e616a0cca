package mesh

import (
	"math"

	"github.com/golang/geo/r3"
)

// flatFacets returns the facets whose three different corners lie exactly on one
// line, and on the way the signed volume, exact enough for its sign.
func (m *Mesh) flatFacets() (flat []int32, volume float64) {
	if len(m.Triangles) == 0 {
		return nil, 0
	}
	origin, _, _ := m.Corners(0)
	blocks := blockCount(len(m.Triangles), momentBlock)
	sums := make([]sum, blocks)
	lists := make([][]int32, blocks)
	inBlocks(len(m.Triangles), momentBlock, func(block, from, to int) {
		var s sum
		for t := from; t < to; t++ {
			a, b, c := m.Corners(t)
			e, f := b.Sub(a), c.Sub(a)
			n := e.Cross(f)
			s = s.plus(a.Sub(origin).Dot(n))
			if mayBeParallel(e, f, n) && !isDegenerate(m.Triangles[t]) && onOneLine(a, b, c) {
				lists[block] = append(lists[block], int32(t))
			}
		}
		sums[block] = s
	})
	var total sum
	for i, s := range sums {
		total = total.merge(s)
		flat = append(flat, lists[i]...)
	}
	return flat, total.value() / 6
}

// mayBeParallel says that the computed cross product n of two differences of
// points could be 0 but for rounding. Each of its components is off by at most
// gamma(4) of the products it is the difference of: two roundings of the factors,
// the product, the difference. So past 1e-15 of the largest product it is not 0.
func mayBeParallel(e, f, n r3.Vector) bool {
	le := max(math.Abs(e.X), math.Abs(e.Y), math.Abs(e.Z))
	lf := max(math.Abs(f.X), math.Abs(f.Y), math.Abs(f.Z))
	return max(math.Abs(n.X), math.Abs(n.Y), math.Abs(n.Z)) <= 1e-15*le*lf
}

// onOneLine decides it in exact arithmetic.
func onOneLine(a, b, c r3.Vector) bool {
	p := r3.PreciseVectorFromVector(a)
	e := r3.PreciseVectorFromVector(b).Sub(p)
	f := r3.PreciseVectorFromVector(c).Sub(p)
	n := e.Cross(f)
	return n.X.Sign() == 0 && n.Y.Sign() == 0 && n.Z.Sign() == 0
}
