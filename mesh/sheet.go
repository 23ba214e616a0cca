package mesh

import (
	"math"
	"sync/atomic"

	"github.com/golang/geo/r3"
)

// A closed surface that passes through an upright column once over each point of
// its base does not touch itself in the column. That is quick to see for many
// facets at once, and lets the search for crossing facets leave out nearly all of
// a clean model.
//
// Take a direction, "up", a rectangle across it, and the part of space over the
// rectangle between a lower and an upper lid. Let every facet with a point in the
// column face up, and let none reach a lid. The surface has no boundary, so what
// lies in the column ends only at its side walls. Seen from above, it covers every
// point of the rectangle equally often: a covering number changes only across the
// image of a boundary, and facets that all face up do not cancel. If one point is
// covered once, then all are, and two facets that met inside the column would
// cover a point twice. This needs the whole surface to be balanced (every edge run
// as often one way as the other), nothing else: no neighbours, no smoothness.

// column is such a part of space. Lengths are about the tree's centre.
type column struct {
	east, north, up r3.Vector // orthonormal
	lo, hi          r3.Vector // of the rectangle (X east, Y north) and of the lids (Z up)
	at              r3.Vector // a point of the rectangle, in the middle of one facet
	own             int32     // that facet
}

// clearLeaves says of each leaf of a tree whether it is known to meet no facet
// other than at common corners. Flags are only ever set, so workers may set them
// in any order.
type clearLeaves []atomic.Bool

// sheetSearch holds what one worker needs to look for such columns.
type sheetSearch struct {
	t       *Tree
	slack   float64 // by how much everything has to be clear
	clear   clearLeaves
	stack   []treeNode
	facets  []int32 // to be put into a column
	inside  []int32 // leaves that turned out to be inside the column
	visited int
}

// findClear returns the leaves that lie in columns which the surface passes once,
// with at least the slack to every decision: so facets may move by a little less
// than half of it and still not meet. The surface has to be balanced.
func (t *Tree) findClear(slackMM float64) clearLeaves {
	clear := make(clearLeaves, len(t.levels[0]))
	// Runs from a size that gives every worker enough of them.
	level := 0
	for level < len(t.levels)-1 && len(t.levels[level+1]) >= 64 {
		level++
	}
	inBlocks(len(t.levels[level]), 1, func(_, from, to int) {
		s := sheetSearch{t: t, slack: slackMM, clear: clear}
		for i := from; i < to; i++ {
			s.node(treeNode{int32(level), int32(i)})
		}
	})
	return clear
}

// node looks for columns around what is in a box of the tree: one for everything
// or, if that fails, for each box in it.
func (s *sheetSearch) node(n treeNode) {
	first, last := s.t.leavesOf(n)
	s.facets = s.facets[:0]
	for i := first; i < last; i++ {
		if !s.clear[i].Load() {
			s.facets = append(s.facets, s.t.leaf(int(i))...)
		}
	}
	if len(s.facets) == 0 {
		return
	}
	if s.isSheet(s.facets) {
		for _, i := range s.inside {
			s.clear[i].Store(true)
		}
		return
	}
	if n.level > 0 {
		first, last := s.t.children(n)
		for i := first; i < last; i++ {
			s.node(treeNode{n.level - 1, i})
		}
	}
}

// isSheet says whether the given facets lie in a column which the surface passes
// once, and leaves the numbers of all leaves inside the column in s.inside.
func (s *sheetSearch) isSheet(facets []int32) bool {
	c, ok := s.columnOf(facets)
	if !ok {
		return false
	}
	s.inside = s.inside[:0]
	test := c.test(s.slack)
	root, _ := s.t.root()
	s.stack = append(s.stack[:0], root)
	for len(s.stack) > 0 {
		n := s.stack[len(s.stack)-1]
		s.stack = s.stack[:len(s.stack)-1]
		if n.level == 0 {
			s.visited++
			inside := true
			for _, f := range s.t.leaf(int(n.index)) {
				agrees, in := s.agrees(&c, f)
				if !agrees {
					return false
				}
				inside = inside && in
			}
			if inside {
				s.inside = append(s.inside, n.index)
			}
			continue
		}
		first, last := s.t.children(n)
		for i := first; i < last; i++ {
			if test.meets(&s.t.levels[n.level-1][i]) {
				s.stack = append(s.stack, treeNode{n.level - 1, i})
			}
		}
	}
	return true
}

// columnTest asks which boxes a column meets.
type columnTest struct {
	box    box32         // around the column
	axes   [3][3]float32 // its directions
	middle [3]float32    // along each
	half   [3]float32    // along each, with some more for rounding
}

func (c *column) test(slack float64) columnTest {
	t := columnTest{box: c.box(slack)}
	middle, half := c.lo.Add(c.hi).Mul(0.5), c.hi.Sub(c.lo).Mul(0.5)
	for k, a := range [3]r3.Vector{c.east, c.north, c.up} {
		t.axes[k] = [3]float32{float32(a.X), float32(a.Y), float32(a.Z)}
	}
	reach := 0x1p-18*(middle.Norm()+half.Norm()) + slack
	t.middle = [3]float32{float32(middle.X), float32(middle.Y), float32(middle.Z)}
	t.half = [3]float32{float32(half.X + reach), float32(half.Y + reach), float32(half.Z + reach)}
	return t
}

func (t *columnTest) meets(b *box32) bool {
	if !b.meets(&t.box) {
		return false
	}
	var middle, half [3]float32
	for k := range 3 {
		middle[k], half[k] = (b.min[k]+b.max[k])/2, (b.max[k]-b.min[k])/2
	}
	for k := range 3 {
		a := &t.axes[k]
		along := a[0]*middle[0] + a[1]*middle[1] + a[2]*middle[2] - t.middle[k]
		reach := abs32(a[0])*half[0] + abs32(a[1])*half[1] + abs32(a[2])*half[2] + t.half[k]
		if along > reach || along < -reach {
			return false
		}
	}
	return true
}

func abs32(x float32) float32 {
	if x < 0 {
		return -x
	}
	return x
}

// columnOf returns a column around some facets, and false if they face too many
// ways to have one.
func (s *sheetSearch) columnOf(facets []int32) (column, bool) {
	var sum r3.Vector
	var most float64
	c := column{}
	for _, f := range facets {
		p, q, r := s.t.m.Corners(int(f))
		n := q.Sub(p).Cross(r.Sub(p))
		sum = sum.Add(n)
		if size := n.Norm2(); size > most {
			most, c.own = size, f
		}
	}
	length := sum.Norm()
	if !(length > 0) {
		return c, false
	}
	c.up = sum.Mul(1 / length)
	c.east = c.up.Ortho()
	c.north = c.up.Cross(c.east)
	inf := math.Inf(1)
	c.lo, c.hi = r3.Vector{X: inf, Y: inf, Z: inf}, r3.Vector{X: -inf, Y: -inf, Z: -inf}
	for _, f := range facets {
		for _, v := range s.t.m.Triangles[f] {
			p := c.seen(s.t.m.Vertices[v].Sub(s.t.centre))
			c.lo = r3.Vector{X: min(c.lo.X, p.X), Y: min(c.lo.Y, p.Y), Z: min(c.lo.Z, p.Z)}
			c.hi = r3.Vector{X: max(c.hi.X, p.X), Y: max(c.hi.Y, p.Y), Z: max(c.hi.Z, p.Z)}
		}
	}
	p, q, r := s.t.m.Corners(int(c.own))
	c.at = c.seen(p.Add(q).Add(r).Mul(1.0 / 3).Sub(s.t.centre))
	c.widen(s.slack)
	return c, true
}

// widen makes the column a little wider than its facets, and puts the lids where
// a surface as curved as the facets are stays clear of them.
func (c *column) widen(slack float64) {
	lid := 0.5*(c.hi.Z-c.lo.Z) + 0.05*(c.hi.X-c.lo.X+c.hi.Y-c.lo.Y) + 4*slack
	c.lo = c.lo.Sub(r3.Vector{X: slack, Y: slack, Z: lid})
	c.hi = c.hi.Add(r3.Vector{X: slack, Y: slack, Z: lid})
}

// seen returns a point in the column's own coordinates.
func (c *column) seen(p r3.Vector) r3.Vector {
	return r3.Vector{X: p.Dot(c.east), Y: p.Dot(c.north), Z: p.Dot(c.up)}
}

// box returns an upright box around the column.
func (c *column) box(slack float64) box32 {
	middle, half := c.lo.Add(c.hi).Mul(0.5), c.hi.Sub(c.lo).Mul(0.5)
	centre := c.east.Mul(middle.X).Add(c.north.Mul(middle.Y)).Add(c.up.Mul(middle.Z))
	reach := c.east.Abs().Mul(half.X).Add(c.north.Abs().Mul(half.Y)).Add(c.up.Abs().Mul(half.Z)).
		Add(r3.Vector{X: slack, Y: slack, Z: slack})
	return boxAround(centre.Sub(reach), centre.Add(reach))
}

// agrees says whether a facet is as the column wants it: out of the column, or
// facing up, clear of the lids, and covering the chosen point only if it is the
// facet that the point was chosen in. It also says whether it is all inside.
func (s *sheetSearch) agrees(c *column, f int32) (agrees, inside bool) {
	tri := &s.t.m.Triangles[f]
	p := c.seen(s.t.m.Vertices[tri[0]].Sub(s.t.centre))
	q := c.seen(s.t.m.Vertices[tri[1]].Sub(s.t.centre))
	r := c.seen(s.t.m.Vertices[tri[2]].Sub(s.t.centre))
	slack := s.slack
	lo := r3.Vector{X: min(p.X, q.X, r.X), Y: min(p.Y, q.Y, r.Y), Z: min(p.Z, q.Z, r.Z)}
	hi := r3.Vector{X: max(p.X, q.X, r.X), Y: max(p.Y, q.Y, r.Y), Z: max(p.Z, q.Z, r.Z)}
	if lo.X > c.hi.X+slack || hi.X < c.lo.X-slack || lo.Y > c.hi.Y+slack || hi.Y < c.lo.Y-slack ||
		lo.Z > c.hi.Z+slack || hi.Z < c.lo.Z-slack {
		return true, false
	}
	pq, pr := q.Sub(p), r.Sub(p)
	twice := pq.X*pr.Y - pq.Y*pr.X
	// No edge is longer than this, so the facet's smallest height, seen from above,
	// is at least twice its area over this.
	longest := hi.X - lo.X + hi.Y - lo.Y
	if !(twice > slack*longest) {
		return false, false
	}
	if lo.Z < c.lo.Z+slack || hi.Z > c.hi.Z-slack {
		if !c.clearOfLids(p, pq, pr, twice, slack) {
			return false, false
		}
	}
	if f != c.own && !missesPoint(p, q, r, c.at, slack*longest) {
		return false, false
	}
	return true, lo.X > c.lo.X+slack/2 && hi.X < c.hi.X-slack/2 && lo.Y > c.lo.Y+slack/2 && hi.Y < c.hi.Y-slack/2 &&
		lo.Z > c.lo.Z+slack/2 && hi.Z < c.hi.Z-slack/2
}

// clearOfLids says whether a facet that reaches past a lid does so outside the
// column: its plane is a linear function of the place in the rectangle.
func (c *column) clearOfLids(p, pq, pr r3.Vector, twice, slack float64) bool {
	slopeX := (pq.Z*pr.Y - pr.Z*pq.Y) / twice
	slopeY := (pq.X*pr.Z - pr.X*pq.Z) / twice
	middle, half := c.lo.Add(c.hi).Mul(0.5), c.hi.Sub(c.lo).Mul(0.5)
	height := p.Z + slopeX*(middle.X-p.X) + slopeY*(middle.Y-p.Y)
	// A move by the slack changes the plane by more where it is steep.
	steep := 1 + math.Abs(slopeX) + math.Abs(slopeY)
	if steep > 8 {
		return false
	}
	reach := math.Abs(slopeX)*half.X + math.Abs(slopeY)*half.Y + 8*slack*steep
	return height-reach > c.lo.Z && height+reach < c.hi.Z
}

// missesPoint says whether a point is outside a facet that faces up, seen from
// above, by more than a margin (a length times the longest edge).
func missesPoint(p, q, r, at r3.Vector, margin float64) bool {
	return outside2(p, q, at) < -margin || outside2(q, r, at) < -margin || outside2(r, p, at) < -margin
}

// outside2 is negative right of the line from p to q, seen from above: twice the
// area of the triangle p, q, at.
func outside2(p, q, at r3.Vector) float64 {
	return (q.X-p.X)*(at.Y-p.Y) - (q.Y-p.Y)*(at.X-p.X)
}
