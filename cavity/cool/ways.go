package cool

import (
	"context"
	"slices"
	"sync/atomic"

	"bellyline/mesh/parallel"

	"github.com/golang/geo/r3"
)

func (g *cellSet) strides() [3]int { return [3]int{1, g.nx, g.nx * g.ny} }

// edge is how an unknown touches the wall: by side, lower and upper x, y, z.
type edge struct {
	arm   [6]float64 // to the wall along the axis, in cells; 0 where there is a neighbour
	slope [6]float64 // cosine between axis and the wall's normal
}

// way is a side at which an unknown touches the wall.
type way struct {
	u          int32
	side       int
	arm, slope float64
}

// touch finds how every unknown without a neighbour reaches the wall. Lines of the
// lattice meet the wall in proportion to its area, but for what they miss at edges.
func (g *cellSet) touch(ctx context.Context, areaMM2 float64) error {
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
	if met > 0 {
		g.missed = areaMM2 / met
	}
	return nil
}

// waysAlong looks along the lines of the lattice parallel to an axis.
func (g *cellSet) waysAlong(ctx context.Context, axis int) ([]way, error) {
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

func (g *cellSet) anyActive(first, stride, count int) bool {
	for i := range count {
		if g.active[first+i*stride] {
			return true
		}
	}
	return false
}

// waysOnLine adds the ways to the wall of the unknowns on one line.
func (g *cellSet) waysOnLine(ways []way, list []crossing, first, axis, count int) []way {
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
