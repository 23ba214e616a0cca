package cool

import (
	"context"
	"fmt"
	"math"

	"bellyline/mesh/parallel"

	"github.com/golang/geo/r3"
)

// cellSet is a body in cells of equal pitch, cut by its wall, whatever that is made of.
//
// Unknowns are the temperatures at the nodes that lie at least nearestWall cells
// inside. Heat is stored in the volume of each cell that is inside; what is left
// of cells without an unknown belongs to a neighbour, so that volume and area are
// those of the body.
type cellSet struct {
	frame
	body *Body

	cellOf []int32   // the cell of each unknown, rows along x one after the other
	owner  []int32   // by cell: the unknown that has its volume; -1 none
	active []bool    // by cell: it has an unknown of its own
	near   []int32   // cells that the wall goes through
	feet   []foot    // the wall next to them
	depths []float64 // of each unknown near the wall, in mm; -1 further in

	volume []float64 // of each unknown, in cells
	total  float64   // sum of volumes
	cutOff []cutOff  // unknowns whose volume does not lie round their node
	edge   []int32   // of each unknown: its place in edges, -1 without a wall
	edges  []edge    // those that touch the wall
	missed float64   // area of the wall over what the lines of the lattice meet of it; 0: they meet none
}

const (
	// nearestWall is how near to the wall a node may be, in cells. Nearer ones would
	// need short steps in time; they are part of their inner neighbour.
	nearestWall = 0.25
	// longestPiece of the wall, in cells: a point of it is within a fifth of a cell of
	// the middle of a piece, so a node nearer than nearestWall has one in its own cell.
	longestPiece = 0.3
)

// layCells lays cells of pitchMM into a body, a node at a place. The cost is about
// that of ten nearest points for each cell at the wall. Errors wrap ErrBody.
func (b *Body) layCells(ctx context.Context, pitchMM float64, node r3.Vector) (*cellSet, error) {
	f, err := newFrame(b, pitchMM, node)
	if err != nil {
		return nil, err
	}
	g := &cellSet{frame: f, body: b}
	nearCell, area := g.markNear()
	inside, err := b.insideNodes(ctx, f)
	if err != nil {
		return nil, err
	}
	g.findFeet(inside)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	g.number(inside)
	if len(g.cellOf) == 0 {
		return nil, fmt.Errorf("%w: no cell of %.3g mm fits into it; give a finer grid", ErrBody, pitchMM)
	}
	g.fill(nearCell)
	if err := g.touch(ctx, area); err != nil {
		return nil, err
	}
	g.steady()
	g.findDepths()
	return g, ctx.Err()
}

// Cells returns how many unknowns there are.
func (g *cellSet) Cells() int { return len(g.cellOf) }

// PitchMM returns the distance between nodes.
func (g *cellSet) PitchMM() float64 { return g.h }

// markNear marks the cells that the wall goes through. What no piece has its middle
// in is cut at a corner at most. It returns the area of the wall as well.
func (g *cellSet) markNear() (near []bool, areaMM2 float64) {
	near = make([]bool, g.cells())
	cells, areaMM2 := g.wallCells(g.body.skin)
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

// findFeet finds the planes of the wall for the cells near it.
func (g *cellSet) findFeet(inside []bool) {
	g.feet = make([]foot, len(g.near))
	parallel.Blocks(len(g.feet), 256, func(_, from, to int) {
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
			g.feet[i] = f
		}
	})
}

// number gives unknowns to the cells whose nodes are well inside.
func (g *cellSet) number(inside []bool) {
	g.owner = make([]int32, len(inside))
	g.active = inside
	for i, c := range g.near {
		g.active[c] = inside[c] && g.feet[i].depth >= nearestWall*g.h
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
func (g *cellSet) fill(near []bool) {
	g.volume = make([]float64, len(g.cellOf))
	depth := make([]float64, len(g.cellOf))  // of the nodes at the wall, in cells
	moment := make([]float64, len(g.cellOf)) // volume times its mean depth
	for u, c := range g.cellOf {
		if !near[c] {
			g.volume[u] = 1
		}
	}
	for i, c := range g.near {
		f := g.feet[i]
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
	for u, d := range depth {
		if d > 0 && g.volume[u] > 0 {
			g.cutOff = append(g.cutOff, cutOff{int32(u), d, moment[u] / g.volume[u]})
		}
	}
}

// cutOff is an unknown at the wall: how deep its node lies and how deep its volume
// does in the mean, in cells.
type cutOff struct {
	u           int32
	depth, mean float64
}

// adopt returns the unknown round a cell that lies best in a direction, a near one
// rather than one aside; -1 for none.
func (g *cellSet) adopt(c int, inward r3.Vector) int32 {
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

// steady makes every cell heavy enough for the step in time: a sliver gets the
// heat of a seventh of a cell for each neighbour.
func (g *cellSet) steady() {
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
