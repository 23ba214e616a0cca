package mesh

import (
	"context"
	"math"

	"bellyline/mesh/parallel"

	"github.com/golang/geo/r3"
)

// Tree finds the facets near a place: a hierarchy of boxes round runs of facets
// that lie close together. It stays right only as long as its mesh is not changed.
//
// It takes about 8 bytes a facet. Building it takes time in proportion to the
// facets, on as many threads as there are, with the same result for any number.
type Tree struct {
	m      *Mesh
	box    Box
	centre r3.Vector // boxes are about this point, so that float32 is fine enough
	order  []int32   // all facets, in the order of a curve through space
	// levels[0] holds a box for each run of fan facets in the order, levels[l] one
	// for each run of fan boxes of levels[l-1]; the last has a single box.
	levels [][]box32
}

const (
	fan       = 8    // facets or boxes in a box
	treeBlock = 4096 // facets worked on at once, a multiple of fan
)

// box32 is a box in float32, rounded outwards.
type box32 struct {
	min, max [3]float32
}

// emptyBox is around nothing.
func emptyBox() box32 {
	inf := float32(math.Inf(1))
	return box32{min: [3]float32{inf, inf, inf}, max: [3]float32{-inf, -inf, -inf}}
}

// NewTree builds the tree of a mesh.
func NewTree(m *Mesh) *Tree {
	t, _ := buildTree(context.Background(), m, m.Bounds(), -1)
	return t
}

// buildTree builds a tree and, if thin is not negative, the cones of the normals in
// each of its boxes (see leafLook). When ctx ends it is worth nothing.
func buildTree(ctx context.Context, m *Mesh, box Box, thin float64) (*Tree, [][]normalCone) {
	t := &Tree{m: m, box: box, centre: box.Centre()}
	boxes, cones := t.makeLeaves(ctx, thin)
	t.levels = append(t.levels, boxes)
	allCones := [][]normalCone{cones}
	for len(boxes) > 1 {
		boxes = boxesAbove(boxes)
		t.levels = append(t.levels, boxes)
		if cones != nil {
			cones = conesAbove(cones)
			allCones = append(allCones, cones)
		}
	}
	return t, allCones
}

// boxesAbove returns the boxes around each run of boxes.
func boxesAbove(below []box32) []box32 {
	above := make([]box32, fanCount(len(below)))
	parallel.Blocks(len(above), treeBlock/fan, func(_, from, to int) {
		for i := from; i < to; i++ {
			above[i] = emptyBox()
			for _, b := range below[i*fan : min(len(below), i*fan+fan)] {
				above[i].add(b)
			}
		}
	})
	return above
}

// conesAbove returns the cones around each run of cones.
func conesAbove(below []normalCone) []normalCone {
	above := make([]normalCone, fanCount(len(below)))
	parallel.Blocks(len(above), treeBlock/fan, func(_, from, to int) {
		for i := from; i < to; i++ {
			above[i] = coneOfCones(below[i*fan : min(len(below), i*fan+fan)])
		}
	})
	return above
}

// leaf returns the facets in box i of the lowest level.
func (t *Tree) leaf(i int) []int32 { return t.order[i*fan : min(len(t.order), i*fan+fan)] }

// boxAround rounds a box outwards by a little more than float32 loses: half a
// step is 2^-24 of a coordinate, the float64 differences before it 2^-52 of the
// mesh's size.
func boxAround(lo, hi r3.Vector) box32 {
	return box32{
		min: [3]float32{below32(lo.X), below32(lo.Y), below32(lo.Z)},
		max: [3]float32{above32(hi.X), above32(hi.Y), above32(hi.Z)},
	}
}

func below32(x float64) float32 { return float32(x - math.Abs(x)*0x1p-22) }
func above32(x float64) float32 { return float32(x + math.Abs(x)*0x1p-22) }

// add widens the box to hold another one.
func (b *box32) add(c box32) {
	for k := range 3 {
		if c.min[k] < b.min[k] {
			b.min[k] = c.min[k]
		}
		if c.max[k] > b.max[k] {
			b.max[k] = c.max[k]
		}
	}
}

// meets says whether two boxes have a point in common.
func (b *box32) meets(c *box32) bool {
	return b.min[0] <= c.max[0] && c.min[0] <= b.max[0] &&
		b.min[1] <= c.max[1] && c.min[1] <= b.max[1] &&
		b.min[2] <= c.max[2] && c.min[2] <= b.max[2]
}

// treeNode is a box of the tree: its level and its number there.
type treeNode struct {
	level, index int32
}

// root returns the box around everything, false for a tree without facets.
func (t *Tree) root() (treeNode, bool) {
	return treeNode{level: int32(len(t.levels) - 1)}, len(t.order) > 0
}

// children returns the numbers of the boxes in a box that is not a leaf: those of
// the level below from first up to last, without last.
func (t *Tree) children(n treeNode) (first, last int32) {
	below := int32(len(t.levels[n.level-1]))
	return n.index * fan, min(below, n.index*fan+fan)
}

// leavesOf returns the numbers of the leaves in a box, without last.
func (t *Tree) leavesOf(n treeNode) (first, last int32) {
	first, last = n.index, n.index+1
	for range n.level {
		first, last = first*fan, last*fan
	}
	return first, min(last, int32(len(t.levels[0])))
}

// fanCount returns how many boxes of fan things there are.
func fanCount(things int) int { return (things + fan - 1) / fan }
