package tree

import (
	"math"

	"bellyline/mesh/internal/bvh"

	"github.com/golang/geo/r3"
)

// Nearest returns the point of the surface that is nearest to p, on which facet it
// is, and how far away. Of several facets that are equally near it names the
// one with the lowest number. On an empty mesh the facet is -1 and the distance
// infinite. It takes time in proportion to the logarithm of the facets, except for
// points that are equally far from many, and is safe for many goroutines.
func (t *Tree) Nearest(p r3.Vector) (facet int, q r3.Vector, distanceMM float64) {
	s := nearestSearch{h: t.h, from: p.Sub(t.h.Centre), facet: -1, squared: math.Inf(1)}
	if root, ok := t.h.Root(); ok {
		s.node(root)
	}
	if s.facet < 0 {
		return -1, r3.Vector{}, math.Inf(1)
	}
	return int(s.facet), s.at.Add(t.h.Centre), math.Sqrt(s.squared)
}

// nearestSearch is what is nearest so far.
type nearestSearch struct {
	h       *bvh.Tree
	from    r3.Vector // about the tree's centre, like at
	facet   int32
	at      r3.Vector
	squared float64 // of the distance

	// Facets whose outward normals are nearer to against a direction than a cosine
	// says are left out.
	filtered bool
	away     r3.Vector
	cosine   float64
}

// node looks into a box, its nearer parts first.
func (s *nearestSearch) node(n bvh.Node) {
	if n.Level == 0 {
		for _, f := range s.h.Leaf(int(n.Index)) {
			a, b, c := s.h.Mesh.Corners(int(f))
			if s.filtered {
				n := b.Sub(a).Cross(c.Sub(a))
				if -n.Dot(s.away) > s.cosine*n.Norm() {
					continue
				}
			}
			q := nearestOnFacet(s.from, a.Sub(s.h.Centre), b.Sub(s.h.Centre), c.Sub(s.h.Centre))
			squared := q.Sub(s.from).Norm2()
			if squared < s.squared || squared == s.squared && f < s.facet {
				s.facet, s.at, s.squared = f, q, squared
			}
		}
		return
	}
	first, last := s.h.Children(n)
	var order [bvh.Fan]int32
	var away [bvh.Fan]float64
	count := 0
	for i := first; i < last; i++ {
		d := s.h.Levels[n.Level-1][i].SquaredDistance(s.from)
		j := count
		for ; j > 0 && away[j-1] > d; j-- {
			order[j], away[j] = order[j-1], away[j-1]
		}
		order[j], away[j] = i, d
		count++
	}
	for j := range count {
		// Rounding of the distances is far below this margin.
		if away[j] > s.squared*(1+0x1p-40) {
			return
		}
		s.node(bvh.Node{Level: n.Level - 1, Index: order[j]})
	}
}

// nearestOnFacet returns the point of a triangle that is nearest to p: a corner, a
// point of a side, or the foot of the perpendicular (Ericson, Real-Time Collision
// Detection, 2005, 5.1.5; from memory).
func nearestOnFacet(p, a, b, c r3.Vector) r3.Vector {
	ab, ac, ap := b.Sub(a), c.Sub(a), p.Sub(a)
	d1, d2 := ab.Dot(ap), ac.Dot(ap)
	if d1 <= 0 && d2 <= 0 {
		return a
	}
	bp := p.Sub(b)
	d3, d4 := ab.Dot(bp), ac.Dot(bp)
	if d3 >= 0 && d4 <= d3 {
		return b
	}
	vc := d1*d4 - d3*d2
	if vc <= 0 && d1 >= 0 && d3 <= 0 && d1 > d3 {
		return a.Add(ab.Mul(d1 / (d1 - d3)))
	}
	cp := p.Sub(c)
	d5, d6 := ab.Dot(cp), ac.Dot(cp)
	if d6 >= 0 && d5 <= d6 {
		return c
	}
	vb := d5*d2 - d1*d6
	if vb <= 0 && d2 >= 0 && d6 <= 0 && d2 > d6 {
		return a.Add(ac.Mul(d2 / (d2 - d6)))
	}
	va := d3*d6 - d5*d4
	if va <= 0 && d4 >= d3 && d5 >= d6 && d4-d3+d5-d6 > 0 {
		return b.Add(c.Sub(b).Mul((d4 - d3) / (d4 - d3 + d5 - d6)))
	}
	whole := va + vb + vc
	if !(whole > 0) {
		return nearestOnSides(p, a, b, c)
	}
	return a.Add(ab.Mul(vb / whole)).Add(ac.Mul(vc / whole))
}

// nearestOnSides is for facets without area.
func nearestOnSides(p, a, b, c r3.Vector) r3.Vector {
	best, squared := a, math.Inf(1)
	for _, side := range [3][2]r3.Vector{{a, b}, {b, c}, {c, a}} {
		along := side[1].Sub(side[0])
		q := side[0]
		if length := along.Norm2(); length > 0 {
			q = q.Add(along.Mul(min(max(along.Dot(p.Sub(q))/length, 0), 1)))
		}
		if d := q.Sub(p).Norm2(); d < squared {
			best, squared = q, d
		}
	}
	return best
}
