package bvh

import (
	"context"
	"math"

	"bellyline/mesh"
	"bellyline/mesh/internal/hugepages"
	"bellyline/mesh/parallel"

	"github.com/golang/geo/r3"
)

// leaves are runs of fan facets with their boxes and, if wanted, cones.
type leaves struct {
	ctx   context.Context
	t     *Tree
	thin  float64 // see leafLook; negative if no cones are wanted
	facet []int32 // fan a leaf, fewer in the last one
	boxes []Box32
	cones []NormalCone
}

// makeLeaves puts all facets into leaves, in t.order, and returns the boxes of the
// leaves and their cones, nil if thin is negative.
//
// Most files have facets that follow each other on the surface one after the other,
// so that a run of them makes a good leaf as it stands. Facets of other runs are
// put in order along a curve first. The leaves are put in order along it in the end.
func (t *Tree) makeLeaves(ctx context.Context, thin float64) ([]Box32, []NormalCone) {
	l := leaves{ctx: ctx, t: t, thin: thin, facet: hugepages.Make[int32](len(t.Mesh.Triangles))}
	parallel.Blocks(len(l.facet), Block, func(_, from, to int) {
		for f := from; f < to; f++ {
			l.facet[f] = int32(f)
		}
	})
	compact := l.measure(0)
	loose := l.apart(compact)
	c := newCurve()
	c.sortAlongCurve(l.facet[loose:], t.middle, mesh.Box{Min: t.Box.Min.Sub(t.Centre), Max: t.Box.Max.Sub(t.Centre)})
	l.measure(loose / Fan)
	return l.inOrder(c)
}

// middle returns the mean of the corners of a facet about the tree's centre.
func (t *Tree) middle(f int32) r3.Vector {
	a, b, c := t.Mesh.Corners(int(f))
	return a.Add(b).Add(c).Mul(1.0 / 3).Sub(t.Centre)
}

// measure works out boxes and cones from a leaf on, and returns which leaves are
// compact: their facets lie together.
func (l *leaves) measure(from int) []bool {
	count := fanCount(len(l.facet))
	if l.boxes == nil {
		l.boxes = hugepages.Make[Box32](count)
		if l.thin >= 0 {
			l.cones = hugepages.Make[NormalCone](count)
		}
	}
	compact := make([]bool, count)
	parallel.Blocks(count-from, Block/Fan, func(_, first, last int) {
		for i := from + first; i < from+last && l.ctx.Err() == nil; i++ {
			facets := l.facet[i*Fan : min(len(l.facet), i*Fan+Fan)]
			look := l.t.lookAt(facets, l.thin)
			l.boxes[i] = BoxAround(look.lo, look.hi)
			compact[i] = len(facets) == Fan && l.boxes[i].size() <= compactShare*look.sides
			switch {
			case l.cones == nil:
			case look.thick:
				l.cones[i] = coneOfNormals(look.normals[:len(facets)])
			default:
				l.cones[i] = noCone
			}
		}
	})
	return compact
}

// leafLook is what one look at the facets of a leaf finds.
type leafLook struct {
	lo, hi  r3.Vector      // of the box about the tree's centre
	normals [Fan]r3.Vector // as long as twice the areas
	sides   float64        // sum over facets of a long side, in sums of absolute coordinates
	thick   bool           // twice the area of each facet is more than thin times that side
}

func (t *Tree) lookAt(facets []int32, thin float64) (look leafLook) {
	first := t.Mesh.Vertices[t.Mesh.Triangles[facets[0]][0]].Sub(t.Centre)
	look.lo, look.hi, look.thick = first, first, true
	for k, f := range facets {
		tri := &t.Mesh.Triangles[f]
		p := t.Mesh.Vertices[tri[0]].Sub(t.Centre)
		q := t.Mesh.Vertices[tri[1]].Sub(t.Centre)
		r := t.Mesh.Vertices[tri[2]].Sub(t.Centre)
		look.widen(p)
		look.widen(q)
		look.widen(r)
		q, r = q.Sub(p), r.Sub(p)
		side := max(math.Abs(q.X)+math.Abs(q.Y)+math.Abs(q.Z), math.Abs(r.X)+math.Abs(r.Y)+math.Abs(r.Z))
		n := q.Cross(r)
		look.normals[k] = n
		look.sides += side
		look.thick = look.thick && n.Norm2() > thin*thin*side*side
	}
	return look
}

// widen widens the box to hold a point. Comparing is quicker than min and max, which
// mind NaN and the sign of zero.
func (l *leafLook) widen(p r3.Vector) {
	if p.X < l.lo.X {
		l.lo.X = p.X
	}
	if p.X > l.hi.X {
		l.hi.X = p.X
	}
	if p.Y < l.lo.Y {
		l.lo.Y = p.Y
	}
	if p.Y > l.hi.Y {
		l.hi.Y = p.Y
	}
	if p.Z < l.lo.Z {
		l.lo.Z = p.Z
	}
	if p.Z > l.hi.Z {
		l.hi.Z = p.Z
	}
}

// size returns the sum of the edges of a box.
func (b *Box32) size() float64 {
	return float64(b.Max[0]-b.Min[0]) + float64(b.Max[1]-b.Min[1]) + float64(b.Max[2]-b.Min[2])
}

// compactShare is how large the box of a compact leaf may be, as a share of the
// sides of its facets laid one after the other: a strip of them just passes.
const compactShare = 0.75

// apart puts the facets of leaves that are not compact behind all others, and
// returns where they start.
func (l *leaves) apart(compact []bool) (loose int) {
	kept := 0
	var rest []int32
	for i, ok := range compact {
		facets := l.facet[i*Fan : min(len(l.facet), i*Fan+Fan)]
		if !ok {
			rest = append(rest, facets...)
			continue
		}
		if kept < i {
			copy(l.facet[kept*Fan:], facets)
			l.boxes[kept] = l.boxes[i]
			if l.cones != nil {
				l.cones[kept] = l.cones[i]
			}
		}
		kept++
	}
	copy(l.facet[kept*Fan:], rest)
	return kept * Fan
}

// inOrder puts the leaves in order along a curve. A last one with fewer facets
// stays the last.
func (l *leaves) inOrder(c *curve) ([]Box32, []NormalCone) {
	order := make([]int32, len(l.boxes))
	for i := range order {
		order[i] = int32(i)
	}
	full := order[:len(l.facet)/Fan]
	if len(full) > 0 {
		middle := func(i int32) r3.Vector { return l.boxes[i].middle() }
		c.sortAlongCurve(full, middle, boxOfPoints(full, middle))
	}
	t := l.t
	t.Order = hugepages.Make[int32](len(l.facet))
	boxes := hugepages.Make[Box32](len(order))
	var cones []NormalCone
	if l.cones != nil {
		cones = hugepages.Make[NormalCone](len(order))
	}
	parallel.Blocks(len(order), Block/Fan, func(_, from, to int) {
		for i := from; i < to; i++ {
			j := int(order[i])
			copy(t.Leaf(i), l.facet[j*Fan:min(len(l.facet), j*Fan+Fan)])
			boxes[i] = l.boxes[j]
			if cones != nil {
				cones[i] = l.cones[j]
			}
		}
	})
	return boxes, cones
}

// middle returns the middle of a box.
func (b *Box32) middle() r3.Vector {
	return r3.Vector{
		X: float64(b.Min[0]+b.Max[0]) / 2, Y: float64(b.Min[1]+b.Max[1]) / 2, Z: float64(b.Min[2]+b.Max[2]) / 2,
	}
}
