package cool

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sync/atomic"

	"bellyline/mesh/parallel"

	"github.com/golang/geo/r3"
)

// Grid is a body in cells of equal pitch, cut by its wall.
//
// Unknowns are the temperatures at the nodes that lie at least nearestWall cells
// inside. Between two of them heat flows through a whole face. Where a node has no
// neighbour along an axis, it flows to the wall, as far as that is along the axis:
// a profile that is linear from the wall is then in balance at every node, however
// the wall lies, which makes the whole second order (Shortley and Weller, J. Appl.
// Phys. 9 (1938) 334; from memory). The contact lengthens that way by its thickness
// over the cosine between axis and wall. Heat is stored in the volume of each cell
// that is inside; what is left of cells without an unknown belongs to a neighbour,
// so that volume and area are those of the body.
type Grid struct {
	frame
	body      *Body
	contactMM float64

	cellOf []int32 // the cell of each unknown, rows along x one after the other
	owner  []int32 // by cell: the unknown that has its volume; -1 none
	active []bool  // by cell: it has an unknown of its own

	volume []float64 // of each unknown, in cells
	own    []float64 // of each unknown: how much of its volume has its temperature, the rest has the wall's
	edge   []int32   // of each unknown: its place in edges, -1 without a wall
	edges  []edge    // those that touch the wall
	near   []int32   // cells that the wall goes through
	total  float64   // sum of volumes, in cells
	start  []float64 // of each unknown: what is left of the jump between melt and mold, see start.go

	plan *plan
}

const (
	// nearestWall is how near to the wall a node may be, in cells. Nearer ones would
	// need short steps in time; they are part of their inner neighbour.
	nearestWall = 0.25
	// longestPiece of the wall, in cells: a point of it is within a fifth of a cell of
	// the middle of a piece, so a node nearer than nearestWall has one in its own cell.
	longestPiece = 0.3
)

// NewGrid lays cells of pitchMM into a body, a node in the middle of its thickest
// place. The cost is about that of ten nearest points for each cell at the wall.
// Errors wrap ErrBody.
func (b *Body) NewGrid(ctx context.Context, pitchMM, contactMM float64) (*Grid, error) {
	return b.gridAt(ctx, pitchMM, contactMM, b.middle)
}

func (b *Body) gridAt(ctx context.Context, pitchMM, contactMM float64, node r3.Vector) (*Grid, error) {
	f, err := newFrame(b, pitchMM, node)
	if err != nil {
		return nil, err
	}
	g := &Grid{frame: f, body: b, contactMM: contactMM}
	nearCell, area := g.markNear()
	inside, err := b.insideNodes(ctx, f)
	if err != nil {
		return nil, err
	}
	feet := g.findFeet(inside)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	g.number(inside, feet)
	if len(g.cellOf) == 0 {
		return nil, fmt.Errorf("%w: no cell of %.3g mm fits into it; give a finer grid", ErrBody, pitchMM)
	}
	g.fill(nearCell, feet)
	if err := g.touch(ctx, area); err != nil {
		return nil, err
	}
	g.steady()
	g.plan = g.makePlan()
	g.findStart(feet)
	return g, ctx.Err()
}

// Cells returns how many unknowns there are.
func (g *Grid) Cells() int { return len(g.cellOf) }

// PitchMM returns the distance between nodes.
func (g *Grid) PitchMM() float64 { return g.h }

// markNear marks the cells that the wall goes through. What no piece has its middle
// in is cut at a corner at most. It returns the area of the wall as well.
func (g *Grid) markNear() (near []bool, areaMM2 float64) {
	near = make([]bool, g.cells())
	cells, areaMM2 := g.wallCells(g.body.skin, longestPiece*g.h)
	for _, list := range cells {
		for _, c := range list {
			near[c] = true
		}
	}
	for c, n := range near {
		if n {
			g.near = append(g.near, int32(c))
		}
	}
	return near, areaMM2
}

// foot is the plane of the wall next to a node.
type foot struct {
	at, inward r3.Vector
	depth      float64 // in mm, negative outside
}

// findFeet returns the planes of the wall for the cells near it, in their order.
func (g *Grid) findFeet(inside []bool) []foot {
	feet := make([]foot, len(g.near))
	parallel.Blocks(len(feet), 256, func(_, from, to int) {
		for i := from; i < to; i++ {
			c := int(g.near[i])
			p := g.node(c)
			facet, q, mm := g.body.wall.Nearest(p)
			f := foot{at: q, depth: mm}
			if mm < 1e-3*g.h {
				a, b, d := g.body.skin.Corners(facet)
				f.inward = d.Sub(a).Cross(b.Sub(a)).Normalize()
			} else {
				f.inward = p.Sub(q).Mul(1 / mm)
				if !inside[c] {
					f.inward = f.inward.Mul(-1)
				}
			}
			if !inside[c] {
				f.depth = -mm
			}
			feet[i] = f
		}
	})
	return feet
}

// number gives unknowns to the cells whose nodes are well inside.
func (g *Grid) number(inside []bool, feet []foot) {
	g.owner = make([]int32, len(inside))
	g.active = inside
	for i, c := range g.near {
		g.active[c] = inside[c] && feet[i].depth >= nearestWall*g.h
	}
	for c, active := range g.active {
		g.owner[c] = -1
		if active {
			g.owner[c] = int32(len(g.cellOf))
			g.cellOf = append(g.cellOf, int32(c))
		}
	}
}

// fill sums the volumes, and gives what has no unknown to a neighbour. A cell's
// wall is taken for flat.
func (g *Grid) fill(near []bool, feet []foot) {
	g.volume = make([]float64, len(g.cellOf))
	depth := make([]float64, len(g.cellOf))  // of the nodes at the wall, in cells
	moment := make([]float64, len(g.cellOf)) // volume times its mean depth
	for u, c := range g.cellOf {
		if !near[c] {
			g.volume[u] = 1
		}
	}
	for i, c := range g.near {
		f := feet[i]
		share, m := halfSpace(f.depth/g.h, f.inward)
		if g.owner[c] < 0 && share > 0 {
			g.owner[c] = g.adopt(int(c), f.inward)
		}
		u := g.owner[c]
		if u < 0 {
			continue
		}
		if depth[u] == 0 {
			at := g.cellOf[u]
			depth[u] = max(g.node(int(at)).Sub(f.at).Dot(f.inward)/g.h, nearestWall)
			if !near[at] {
				moment[u] = depth[u]
			}
		}
		g.volume[u] += share
		moment[u] += m
	}
	g.level(depth, moment)
}

// level finds how much of the heat of each unknown at the wall belongs to the wall's
// temperature: its volume lies less deep than its node, and the temperature falls
// nearly in proportion.
func (g *Grid) level(depth, moment []float64) {
	g.own = make([]float64, len(g.cellOf))
	contact := g.contactMM / g.h
	for u := range g.own {
		g.own[u] = 1
		if depth[u] > 0 && g.volume[u] > 0 && !math.IsInf(contact, 1) {
			g.own[u] = min((moment[u]/g.volume[u]+contact)/(depth[u]+contact), 1)
		}
	}
}

// adopt returns the unknown round a cell that lies best in a direction, a near one
// rather than one aside; -1 for none.
func (g *Grid) adopt(c int, inward r3.Vector) int32 {
	i, j, k := g.split(c)
	best, owner := math.Inf(-1), int32(-1)
	for z := max(k-1, 0); z <= min(k+1, g.nz-1); z++ {
		for y := max(j-1, 0); y <= min(j+1, g.ny-1); y++ {
			for x := max(i-1, 0); x <= min(i+1, g.nx-1); x++ {
				at := g.at(x, y, z)
				if at == c || !g.active[at] {
					continue
				}
				step := r3.Vector{X: float64(x - i), Y: float64(y - j), Z: float64(z - k)}
				if along := step.Dot(inward) / (step.Norm() * step.Norm2()); along > best+1e-9 {
					best, owner = along, g.owner[at]
				}
			}
		}
	}
	return owner
}

func (g *Grid) strides() [3]int { return [3]int{1, g.nx, g.nx * g.ny} }

// edge is how an unknown touches the wall: by side, lower and upper x, y, z.
type edge struct {
	arm   [6]float64 // to the wall along the axis, in cells; 0 where there is a neighbour
	slope [6]float64 // cosine between axis and the wall's normal
	wall  [6]float64 // conductance to the wall, a face over a pitch being 1
}

// way is a side at which an unknown touches the wall.
type way struct {
	u          int32
	side       int
	arm, slope float64
}

// touch finds how every unknown without a neighbour reaches the wall. Lines of the
// lattice meet the wall in proportion to its area, but for what they miss at
// edges: the contact is given that share more.
func (g *Grid) touch(ctx context.Context, areaMM2 float64) error {
	g.edge = make([]int32, len(g.cellOf))
	for u := range g.edge {
		g.edge[u] = -1
	}
	met := 0.0
	for axis := range 3 {
		list, err := g.waysAlong(ctx, axis)
		if err != nil {
			return err
		}
		for _, w := range list {
			if g.edge[w.u] < 0 {
				g.edge[w.u] = int32(len(g.edges))
				g.edges = append(g.edges, edge{})
			}
			e := &g.edges[g.edge[w.u]]
			e.arm[w.side], e.slope[w.side] = w.arm, w.slope
			met += w.slope * g.h * g.h
		}
	}
	if met == 0 || math.IsInf(g.contactMM, 1) {
		return nil
	}
	for i := range g.edges {
		e := &g.edges[i]
		for side, arm := range e.arm {
			if arm == 0 {
				continue
			}
			if g.contactMM > 0 {
				arm += g.contactMM / g.h * met / (max(e.slope[side], 1e-9) * areaMM2)
			}
			e.wall[side] = 1 / arm
		}
	}
	return nil
}

// waysAlong looks along the lines of the lattice parallel to an axis.
func (g *Grid) waysAlong(ctx context.Context, axis int) ([]way, error) {
	strides, sizes := g.strides(), [3]int{g.nx, g.ny, g.nz}
	along := [3]r3.Vector{{X: 1}, {Y: 1}, {Z: 1}}[axis]
	a, b := (axis+1)%3, (axis+2)%3
	const size = 16
	lines := sizes[a] * sizes[b]
	parts := make([][]way, parallel.Count(lines, size))
	var broken atomic.Int64
	parallel.Blocks(lines, size, func(n, from, to int) {
		var list []crossing
		for line := from; line < to && ctx.Err() == nil; line++ {
			first := line%sizes[a]*strides[a] + line/sizes[a]*strides[b]
			if !g.anyActive(first, strides[axis], sizes[axis]) {
				continue
			}
			var ok bool
			if list, ok = g.body.crossings(g.node(first), along, g.h, list); !ok {
				broken.Store(int64(first) + 1)
				continue
			}
			parts[n] = g.waysOnLine(parts[n], list, first, axis, sizes[axis])
		}
	})
	if first := int(broken.Load()); first > 0 {
		return nil, g.body.notClosed(g.node(first - 1))
	}
	return slices.Concat(parts...), ctx.Err()
}

func (g *Grid) anyActive(first, stride, count int) bool {
	for i := range count {
		if g.active[first+i*stride] {
			return true
		}
	}
	return false
}

// waysOnLine adds the ways to the wall of the unknowns on one line.
func (g *Grid) waysOnLine(ways []way, list []crossing, first, axis, count int) []way {
	stride := g.strides()[axis]
	next := 0 // the first crossing beyond the node
	for i := 1; i < count-1; i++ {
		c := first + i*stride
		if !g.active[c] {
			continue
		}
		for next < len(list) && list[next].at <= float64(i) {
			next++
		}
		if next == 0 || next == len(list) {
			continue // an unknown is inside: never
		}
		if below := list[next-1]; !g.active[c-stride] {
			ways = append(ways, way{g.owner[c], 2 * axis, max(float64(i)-below.at, nearestWall), below.slope})
		}
		if above := list[next]; !g.active[c+stride] {
			ways = append(ways, way{g.owner[c], 2*axis + 1, max(above.at-float64(i), nearestWall), above.slope})
		}
	}
	return ways
}

// steady makes every cell heavy enough for the step in time: a sliver gets the
// heat of a seventh of a cell for each neighbour.
func (g *Grid) steady() {
	for u, c := range g.cellOf {
		neighbours := 0
		for _, step := range g.strides() {
			for _, o := range [2]int{int(c) - step, int(c) + step} {
				if g.active[o] {
					neighbours++
				}
			}
		}
		g.volume[u] = max(g.volume[u], float64(neighbours)*stepShare)
		g.total += g.volume[u]
	}
}
