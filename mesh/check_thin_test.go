package mesh

import (
	"math"
	"math/big"
)

// ThinFacets counts facets of three different corners that are thinner than half
// a float32 step at the largest coordinate, in rational arithmetic.
func ThinFacets(m *Mesh) int {
	largest := 0.0
	for _, p := range m.Vertices {
		largest = max(largest, math.Abs(p.X), math.Abs(p.Y), math.Abs(p.Z))
	}
	step := float64(math.Nextafter32(float32(largest), float32(math.Inf(1)))) - largest
	thin := new(big.Rat).SetFloat64(step / 2)
	thin.Mul(thin, thin)
	n := 0
	for f := range m.Triangles {
		if m.HeightOf(int32(f)) > step {
			continue // twice what could make it thin: no need to ask exactly
		}
		p, q, r := m.Corners(f)
		a, b, c := rational(p), rational(q), rational(r)
		e, f, g := b.sub(a), c.sub(a), c.sub(b)
		normal := e.cross(f)
		longest := e.dot(e)
		for _, l := range []*big.Rat{f.dot(f), g.dot(g)} {
			if l.Cmp(longest) > 0 {
				longest = l
			}
		}
		if p != q && q != r && r != p && normal.dot(normal).Cmp(new(big.Rat).Mul(thin, longest)) <= 0 {
			n++
		}
	}
	return n
}
