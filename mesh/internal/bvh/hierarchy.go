// Package bvh is a bounding volume hierarchy over the facets of a mesh, with cones of
// their normals.
package bvh

import (
	"context"
	"math"

	"bellyline/mesh"
	"bellyline/mesh/parallel"
	"bellyline/mesh/vector"

	"github.com/golang/geo/r3"
)

// Tree finds the facets near a place: a hierarchy of boxes round runs of facets
// that lie close together. It stays right only as long as its mesh is not changed.
//
// It takes about 8 bytes a facet. Building it takes time in proportion to the
// facets, on as many threads as there are, with the same result for any number.
type Tree struct {
	Mesh   *mesh.Mesh
	Box    mesh.Box
	Centre r3.Vector // boxes are about this point, so that float32 is fine enough
	Order  []int32   // all facets, in the order of a curve through space
	// Levels[0] holds a box for each run of fan facets in the order, Levels[l] one
	// for each run of fan boxes of Levels[l-1]; the last has a single box.
	Levels [][]Box32
}

const (
	Fan   = 8    // facets or boxes in a box
	Block = 4096 // facets worked on at once, a multiple of fan
)

// Box32 is a box in float32, rounded outwards.
type Box32 struct {
	Min, Max [3]float32
}

// emptyBox is around nothing.
func emptyBox() Box32 {
	inf := float32(math.Inf(1))
	return Box32{Min: [3]float32{inf, inf, inf}, Max: [3]float32{-inf, -inf, -inf}}
}

// New builds the hierarchy of a mesh.
func New(m *mesh.Mesh) *Tree {
	h, _ := Build(context.Background(), m, m.Bounds(), -1)
	return h
}

// Build builds a hierarchy and, if thin is not negative, the cones of the normals in
// each of its boxes (see leafLook). When ctx ends it is worth nothing.
func Build(ctx context.Context, m *mesh.Mesh, box mesh.Box, thin float64) (*Tree, [][]NormalCone) {
	t := &Tree{Mesh: m, Box: box, Centre: box.Centre()}
	boxes, cones := t.makeLeaves(ctx, thin)
	t.Levels = append(t.Levels, boxes)
	allCones := [][]NormalCone{cones}
	for len(boxes) > 1 {
		boxes = boxesAbove(boxes)
		t.Levels = append(t.Levels, boxes)
		if cones != nil {
			cones = conesAbove(cones)
			allCones = append(allCones, cones)
		}
	}
	return t, allCones
}

// boxesAbove returns the boxes around each run of boxes.
func boxesAbove(below []Box32) []Box32 {
	above := make([]Box32, fanCount(len(below)))
	parallel.Blocks(len(above), Block/Fan, func(_, from, to int) {
		for i := from; i < to; i++ {
			above[i] = emptyBox()
			for _, b := range below[i*Fan : min(len(below), i*Fan+Fan)] {
				above[i].add(b)
			}
		}
	})
	return above
}

// conesAbove returns the cones around each run of cones.
func conesAbove(below []NormalCone) []NormalCone {
	above := make([]NormalCone, fanCount(len(below)))
	parallel.Blocks(len(above), Block/Fan, func(_, from, to int) {
		for i := from; i < to; i++ {
			above[i] = coneOfCones(below[i*Fan : min(len(below), i*Fan+Fan)])
		}
	})
	return above
}

// Leaf returns the facets in box i of the lowest level.
func (t *Tree) Leaf(i int) []int32 { return t.Order[i*Fan : min(len(t.Order), i*Fan+Fan)] }

// BoxAround rounds a box outwards by a little more than float32 loses: half a
// step is 2^-24 of a coordinate, the float64 differences before it 2^-52 of the
// mesh's size.
func BoxAround(lo, hi r3.Vector) Box32 {
	return Box32{
		Min: [3]float32{below32(lo.X), below32(lo.Y), below32(lo.Z)},
		Max: [3]float32{Above32(hi.X), Above32(hi.Y), Above32(hi.Z)},
	}
}

func below32(x float64) float32 { return float32(x - math.Abs(x)*0x1p-22) }

// Above32 rounds up to float32, by a little more than that takes.
func Above32(x float64) float32 { return float32(x + math.Abs(x)*0x1p-22) }

// add widens the box to hold another one.
func (b *Box32) add(c Box32) {
	for k := range 3 {
		if c.Min[k] < b.Min[k] {
			b.Min[k] = c.Min[k]
		}
		if c.Max[k] > b.Max[k] {
			b.Max[k] = c.Max[k]
		}
	}
}

// Meets says whether two boxes have a point in common.
func (b *Box32) Meets(c *Box32) bool {
	return b.Min[0] <= c.Max[0] && c.Min[0] <= b.Max[0] &&
		b.Min[1] <= c.Max[1] && c.Min[1] <= b.Max[1] &&
		b.Min[2] <= c.Max[2] && c.Min[2] <= b.Max[2]
}

// SquaredDistance returns the square of the distance from a point to a box.
func (b *Box32) SquaredDistance(p r3.Vector) float64 {
	sum := 0.0
	for k, x := range vector.XYZ(p) {
		if lo := float64(b.Min[k]); x < lo {
			sum += (lo - x) * (lo - x)
		} else if hi := float64(b.Max[k]); x > hi {
			sum += (x - hi) * (x - hi)
		}
	}
	return sum
}

// Node is a box of the tree: its level and its number there.
type Node struct {
	Level, Index int32
}

// Root returns the box around everything, false for a tree without facets.
func (t *Tree) Root() (Node, bool) {
	return Node{Level: int32(len(t.Levels) - 1)}, len(t.Order) > 0
}

// Children returns the numbers of the boxes in a box that is not a leaf: those of
// the level below from first up to last, without last.
func (t *Tree) Children(n Node) (first, last int32) {
	below := int32(len(t.Levels[n.Level-1]))
	return n.Index * Fan, min(below, n.Index*Fan+Fan)
}

// LeavesOf returns the numbers of the leaves in a box, without last.
func (t *Tree) LeavesOf(n Node) (first, last int32) {
	first, last = n.Index, n.Index+1
	for range n.Level {
		first, last = first*Fan, last*Fan
	}
	return first, min(last, int32(len(t.Levels[0])))
}

// fanCount returns how many boxes of fan things there are.
func fanCount(things int) int { return (things + Fan - 1) / Fan }
