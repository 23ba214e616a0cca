package mesh

import (
	"context"

	"github.com/golang/geo/r3"
)

// leaves are runs of fan facets with their boxes and, if wanted, cones.
type leaves struct {
	ctx   context.Context
	t     *Tree
	thin  float64 // for cones; negative if none are wanted
	facet []int32 // fan a leaf, fewer in the last one
	boxes []box32
	cones []normalCone
}

// makeLeaves puts all facets into leaves, in t.order, and returns the boxes of the
// leaves and their cones, nil if thin is negative.
//
// Most files have facets that follow each other on the surface one after the other,
// so that a run of them makes a good leaf as it stands. Facets of other runs are
// put in order along a curve first. The leaves are put in order along it in the end.
func (t *Tree) makeLeaves(ctx context.Context, thin float64) ([]box32, []normalCone) {
	l := leaves{ctx: ctx, t: t, thin: thin, facet: make([]int32, len(t.m.Triangles))}
	for f := range l.facet {
		l.facet[f] = int32(f)
	}
	compact := l.measure(0)
	loose := l.apart(compact)
	c := newCurve()
	c.sortAlongCurve(l.facet[loose:], t.middle, Box{Min: t.box.Min.Sub(t.centre), Max: t.box.Max.Sub(t.centre)})
	l.measure(loose / fan)
	return l.inOrder(c)
}

// middle returns the mean of the corners of a facet about the tree's centre.
func (t *Tree) middle(f int32) r3.Vector {
	c := t.corners(f)
	return c[0].Add(c[1]).Add(c[2]).Mul(1.0 / 3)
}

// measure works out boxes and cones from a leaf on, and returns which leaves are
// compact: their facets lie together.
func (l *leaves) measure(from int) []bool {
	count := fanCount(len(l.facet))
	if l.boxes == nil {
		l.boxes = make([]box32, count)
		if l.thin >= 0 {
			l.cones = make([]normalCone, count)
		}
	}
	compact := make([]bool, count)
	inBlocks(count-from, treeBlock/fan, func(_, first, last int) {
		var at [fan]corners
		for i := from + first; i < from+last && l.ctx.Err() == nil; i++ {
			facets := l.facet[i*fan : min(len(l.facet), i*fan+fan)]
			for k, f := range facets {
				at[k] = l.t.corners(f)
			}
			l.boxes[i] = boxOfCorners(at[:len(facets)])
			compact[i] = len(facets) == fan && isCompact(&at, &l.boxes[i])
			if l.cones != nil {
				l.cones[i] = coneOfCorners(at[:len(facets)], l.thin)
			}
		}
	})
	return compact
}

// isCompact says whether the box of a leaf is small for what is in it: no longer
// than twice as many of its facets' sides, one after the other, as if they lay in a
// square. A strip of all of them just passes.
func isCompact(facets *[fan]corners, box *box32) bool {
	sides := 0.0
	for i := range facets {
		a := facets[i][1].Sub(facets[i][0]).Abs()
		sides += a.X + a.Y + a.Z
	}
	var size float32
	for k := range 3 {
		size += box.max[k] - box.min[k]
	}
	return float64(size) <= sides*compactShare
}

// compactShare is how large the box of a compact leaf may be, as a share of one side
// of each of its facets.
const compactShare = 0.75

// apart puts the facets of leaves that are not compact behind all others, and
// returns where they start.
func (l *leaves) apart(compact []bool) (loose int) {
	kept := 0
	var rest []int32
	for i, ok := range compact {
		facets := l.facet[i*fan : min(len(l.facet), i*fan+fan)]
		if !ok {
			rest = append(rest, facets...)
			continue
		}
		if kept < i {
			copy(l.facet[kept*fan:], facets)
			l.boxes[kept] = l.boxes[i]
			if l.cones != nil {
				l.cones[kept] = l.cones[i]
			}
		}
		kept++
	}
	copy(l.facet[kept*fan:], rest)
	return kept * fan
}

// inOrder puts the leaves in order along a curve. A last one with fewer facets
// stays the last.
func (l *leaves) inOrder(c *curve) ([]box32, []normalCone) {
	order := make([]int32, len(l.boxes))
	for i := range order {
		order[i] = int32(i)
	}
	full := order[:len(l.facet)/fan]
	if len(full) > 0 {
		middle := func(i int32) r3.Vector { return l.boxes[i].middle() }
		c.sortAlongCurve(full, middle, boxOfPoints(full, middle))
	}
	t := l.t
	t.order = make([]int32, len(l.facet))
	boxes := make([]box32, len(order))
	var cones []normalCone
	if l.cones != nil {
		cones = make([]normalCone, len(order))
	}
	inBlocks(len(order), treeBlock/fan, func(_, from, to int) {
		for i := from; i < to; i++ {
			j := int(order[i])
			copy(t.leaf(i), l.facet[j*fan:min(len(l.facet), j*fan+fan)])
			boxes[i] = l.boxes[j]
			if cones != nil {
				cones[i] = l.cones[j]
			}
		}
	})
	return boxes, cones
}

// middle returns the middle of a box.
func (b *box32) middle() r3.Vector {
	return r3.Vector{
		X: float64(b.min[0]+b.max[0]) / 2, Y: float64(b.min[1]+b.max[1]) / 2, Z: float64(b.min[2]+b.max[2]) / 2,
	}
}
