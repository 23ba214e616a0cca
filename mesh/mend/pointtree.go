package mend

import (
	"cmp"
	"slices"

	"github.com/golang/geo/r3"
)

// pointTree finds vertices near a line segment: a k-d tree (Bentley, CACM 18
// (1975) 509; from memory) kept in one array. The middle of a run splits it along
// the axis that its depth stands for.
type pointTree struct {
	vertices []r3.Vector
	order    []int32
}

// newPointTree builds the tree of some vertices, in time n log^2 n.
func newPointTree(vertices []r3.Vector, some []int32) *pointTree {
	t := &pointTree{vertices: vertices, order: slices.Clone(some)}
	t.build(t.order, 0)
	return t
}

func (t *pointTree) build(run []int32, depth int) {
	if len(run) < 2 {
		return
	}
	slices.SortFunc(run, func(a, b int32) int {
		return cmp.Or(cmp.Compare(coordinate(t.vertices[a], depth), coordinate(t.vertices[b], depth)), cmp.Compare(a, b))
	})
	t.build(run[:len(run)/2], depth+1)
	t.build(run[len(run)/2+1:], depth+1)
}

// coordinate returns one coordinate of a point.
func coordinate(p r3.Vector, depth int) float64 {
	switch depth % 3 {
	case 0:
		return p.X
	case 1:
		return p.Y
	default:
		return p.Z
	}
}

// near calls hit for each vertex that may be within a distance of the segment
// from a to b, and for some that are not.
func (t *pointTree) near(a, b r3.Vector, distance float64, hit func(v int32)) {
	t.visit(t.order, 0, a, b, distance, hit)
}

// visit goes through the vertices of a run; from a to b is the part of the
// segment that may be near them.
func (t *pointTree) visit(run []int32, depth int, a, b r3.Vector, distance float64, hit func(v int32)) {
	for len(run) > 0 {
		middle := run[len(run)/2]
		hit(middle)
		cut := coordinate(t.vertices[middle], depth)
		low, high := run[:len(run)/2], run[len(run)/2+1:]
		if p, q, some := clip(a, b, depth, cut+distance, 1); some {
			t.visit(low, depth+1, p, q, distance, hit)
		}
		p, q, some := clip(a, b, depth, cut-distance, -1)
		if !some {
			return
		}
		run, depth, a, b = high, depth+1, p, q
	}
}

// clip returns the part of a segment whose coordinate, times side, is at most the
// limit times side, and whether there is any.
func clip(a, b r3.Vector, depth int, limit, side float64) (r3.Vector, r3.Vector, bool) {
	da, db := side*(coordinate(a, depth)-limit), side*(coordinate(b, depth)-limit)
	switch {
	case da > 0 && db > 0:
		return a, b, false
	case da > 0:
		a = a.Add(b.Sub(a).Mul(da / (da - db)))
	case db > 0:
		b = b.Add(a.Sub(b).Mul(db / (db - da)))
	}
	return a, b, true
}
