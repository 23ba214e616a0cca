package fill

import (
	"context"
	"math"
	"sync/atomic"

	"bellyline/mesh/internal/bvh"
	"bellyline/mesh/parallel"

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

	// The same in float32, for boxes: directions, a box around everything, and how far
	// float32 may be off.
	axes   [3][3]float32
	around bvh.Box32
	reach  float32
}

// clearLeaves says of each leaf of a tree whether it is known to meet no facet
// other than at common corners. Flags are only ever set, so workers may set them
// in any order.
type clearLeaves []atomic.Bool

// sheetSearch holds what one worker needs to look for such columns.
type sheetSearch struct {
	t      *bvh.Tree
	cones  [][]bvh.NormalCone
	slack  float64 // by how much everything has to be clear
	clear  clearLeaves
	stack  []bvh.Node
	inside []bvh.Node // boxes that turned out to be inside the column
}

// findClear returns the leaves that lie in columns which the surface passes once,
// with at least the slack to every decision: so facets may move by a little less
// than half of it and still not meet. The surface has to be balanced, and the cones
// made for facets no thinner than the slack. When ctx ends it stops early.
func findClear(ctx context.Context, t *bvh.Tree, cones [][]bvh.NormalCone, slackMM float64) clearLeaves {
	found := make(clearLeaves, len(t.Levels[0]))
	// Runs of a size that gives every worker enough of them.
	level := 0
	for level < len(t.Levels)-1 && len(t.Levels[level+1]) >= 64 {
		level++
	}
	parallel.Blocks(len(t.Levels[level]), 1, func(_, from, to int) {
		s := sheetSearch{t: t, cones: cones, slack: slackMM, clear: found}
		for i := from; i < to && ctx.Err() == nil; i++ {
			s.node(bvh.Node{Level: int32(level), Index: int32(i)})
		}
	})
	return found
}

// node looks for columns around what is in a box of the tree: one for everything
// or, if that fails, for each box in it.
func (s *sheetSearch) node(n bvh.Node) {
	if s.allClear(n) {
		return
	}
	if s.isSheet(n) {
		for _, i := range s.inside {
			first, last := s.t.LeavesOf(i)
			for l := first; l < last; l++ {
				s.clear[l].Store(true)
			}
		}
		return
	}
	if n.Level > 0 {
		first, last := s.t.Children(n)
		for i := first; i < last; i++ {
			s.node(bvh.Node{Level: n.Level - 1, Index: i})
		}
	}
}

func (s *sheetSearch) allClear(n bvh.Node) bool {
	first, last := s.t.LeavesOf(n)
	for i := first; i < last; i++ {
		if !s.clear[i].Load() {
			return false
		}
	}
	return true
}

// How much of a cone may be tilted against a column, as cosines.
const (
	widest  = 0.25 // of the normals of the facets that a column is made for
	tiltest = 0.2  // of any facet in a column, with "up"

	// thinnest is how thin facets with a cone may be, in slacks (see leafLook). Tilted
	// as far as that, a facet is seen with at least 0.2 of its area. Its longest side
	// is at most twice the one measured, so seen from above the edges of its box are
	// no more than four times that together; 0.2 x 32 / 4 is 1.6 slacks of height.
	thinnest = 32
)

// isSheet says whether what is in a box lies in a column which the surface passes
// once, and leaves the boxes of all levels inside the column in s.inside.
func (s *sheetSearch) isSheet(n bvh.Node) bool {
	if s.cones[n.Level][n.Index].Cos < widest {
		return false
	}
	c := s.columnOf(n)
	s.inside = append(s.inside[:0], n) // the column is made around its leaves
	root, _ := s.t.Root()
	s.stack = append(s.stack[:0], root)
	for len(s.stack) > 0 {
		n := s.stack[len(s.stack)-1]
		s.stack = s.stack[:len(s.stack)-1]
		lo, hi, meets := c.seenBox(&s.t.Levels[n.Level][n.Index])
		if !meets {
			continue
		}
		if s.cones[n.Level][n.Index].Least(&c.axes[2]) > tiltest && c.suits(lo, hi) {
			if c.holds(lo, hi) {
				s.inside = append(s.inside, n)
			}
			continue
		}
		if n.Level > 0 {
			first, last := s.t.Children(n)
			for i := first; i < last; i++ {
				s.stack = append(s.stack, bvh.Node{Level: n.Level - 1, Index: i})
			}
			continue
		}
		allIn := true
		for _, f := range s.t.Leaf(int(n.Index)) {
			agrees, in := s.agrees(&c, f)
			if !agrees {
				return false
			}
			allIn = allIn && in
		}
		if allIn {
			s.inside = append(s.inside, n)
		}
	}
	return true
}

// columnOf returns a column around the leaves in a box that has a cone.
func (s *sheetSearch) columnOf(n bvh.Node) column {
	var c column
	axis := s.cones[n.Level][n.Index].Axis
	c.up = r3.Vector{X: float64(axis[0]), Y: float64(axis[1]), Z: float64(axis[2])}.Normalize()
	c.east = c.up.Ortho()
	c.north = c.up.Cross(c.east)
	for k, a := range [3]r3.Vector{c.east, c.north, c.up} {
		c.axes[k] = [3]float32{float32(a.X), float32(a.Y), float32(a.Z)}
	}
	inf := float32(math.Inf(1))
	lo, hi := [3]float32{inf, inf, inf}, [3]float32{-inf, -inf, -inf}
	first, last := s.t.LeavesOf(n)
	for i := first; i < last; i++ {
		l, h := c.seen32(&s.t.Levels[0][i])
		for k := range 3 {
			lo[k], hi[k] = min(lo[k], l[k]), max(hi[k], h[k])
		}
	}
	c.lo = r3.Vector{X: float64(lo[0]), Y: float64(lo[1]), Z: float64(lo[2])}
	c.hi = r3.Vector{X: float64(hi[0]), Y: float64(hi[1]), Z: float64(hi[2])}
	reach := 0x1p-18*(c.lo.Norm()+c.hi.Norm()) + 2*s.slack
	c.reach = float32(reach)
	c.widen(2 * reach)
	c.around = c.box(reach)
	c.own = s.t.Order[(first+last)/2*bvh.Fan]
	p, q, r := s.t.Mesh.Corners(int(c.own))
	c.at = c.seen(p.Add(q).Add(r).Mul(1.0 / 3).Sub(s.t.Centre))
	return c
}

// widen makes the column a little wider than its leaves, and puts the lids where
// a surface as curved as the facets are stays clear of them.
func (c *column) widen(by float64) {
	lid := 0.5*(c.hi.Z-c.lo.Z) + 0.2*(c.hi.X-c.lo.X+c.hi.Y-c.lo.Y) + 2*by
	c.lo = c.lo.Sub(r3.Vector{X: by, Y: by, Z: lid})
	c.hi = c.hi.Add(r3.Vector{X: by, Y: by, Z: lid})
}

// seen returns a point in the column's own coordinates.
func (c *column) seen(p r3.Vector) r3.Vector {
	return r3.Vector{X: p.Dot(c.east), Y: p.Dot(c.north), Z: p.Dot(c.up)}
}

// seen32 returns the extent of a box in the column's own coordinates.
func (c *column) seen32(b *bvh.Box32) (lo, hi [3]float32) {
	var middle, half [3]float32
	for k := range 3 {
		middle[k], half[k] = (b.Min[k]+b.Max[k])/2, (b.Max[k]-b.Min[k])/2
	}
	for k := range 3 {
		a := &c.axes[k]
		at := bvh.Dot32(a, &middle)
		reach := abs32(a[0])*half[0] + abs32(a[1])*half[1] + abs32(a[2])*half[2]
		lo[k], hi[k] = at-reach, at+reach
	}
	return lo, hi
}

// seenBox returns the extent of a box in the column's own coordinates, rounded
// outwards, and whether it may meet the column.
func (c *column) seenBox(b *bvh.Box32) (lo, hi r3.Vector, meets bool) {
	if !b.Meets(&c.around) {
		return lo, hi, false
	}
	l, h := c.seen32(b)
	lo = r3.Vector{X: float64(l[0] - c.reach), Y: float64(l[1] - c.reach), Z: float64(l[2] - c.reach)}
	hi = r3.Vector{X: float64(h[0] + c.reach), Y: float64(h[1] + c.reach), Z: float64(h[2] + c.reach)}
	return lo, hi, lo.X <= c.hi.X && hi.X >= c.lo.X && lo.Y <= c.hi.Y && hi.Y >= c.lo.Y && lo.Z <= c.hi.Z && hi.Z >= c.lo.Z
}

// suits says whether facets within an extent are clear of the lids and of the
// chosen point.
func (c *column) suits(lo, hi r3.Vector) bool {
	return lo.Z > c.lo.Z && hi.Z < c.hi.Z &&
		(c.at.X < lo.X || c.at.X > hi.X || c.at.Y < lo.Y || c.at.Y > hi.Y)
}

// holds says whether an extent is inside the column, beyond its side walls too.
func (c *column) holds(lo, hi r3.Vector) bool {
	return lo.X > c.lo.X && hi.X < c.hi.X && lo.Y > c.lo.Y && hi.Y < c.hi.Y && lo.Z > c.lo.Z && hi.Z < c.hi.Z
}

// box returns an upright box around the column.
func (c *column) box(by float64) bvh.Box32 {
	middle, half := c.lo.Add(c.hi).Mul(0.5), c.hi.Sub(c.lo).Mul(0.5)
	centre := c.east.Mul(middle.X).Add(c.north.Mul(middle.Y)).Add(c.up.Mul(middle.Z))
	reach := c.east.Abs().Mul(half.X).Add(c.north.Abs().Mul(half.Y)).Add(c.up.Abs().Mul(half.Z)).
		Add(r3.Vector{X: by, Y: by, Z: by})
	return bvh.BoxAround(centre.Sub(reach), centre.Add(reach))
}

func abs32(x float32) float32 {
	if x < 0 {
		return -x
	}
	return x
}

// agrees says whether a facet is as the column wants it: out of the column, or
// facing up, clear of the lids, and covering the chosen point only if it is the
// facet that the point was chosen in. It also says whether it is all inside.
func (s *sheetSearch) agrees(c *column, f int32) (agrees, inside bool) {
	tri := &s.t.Mesh.Triangles[f]
	p := c.seen(s.t.Mesh.Vertices[tri[0]].Sub(s.t.Centre))
	q := c.seen(s.t.Mesh.Vertices[tri[1]].Sub(s.t.Centre))
	r := c.seen(s.t.Mesh.Vertices[tri[2]].Sub(s.t.Centre))
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
	half := r3.Vector{X: slack / 2, Y: slack / 2, Z: slack / 2}
	return true, c.holds(lo.Sub(half), hi.Add(half))
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
