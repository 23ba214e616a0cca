package weld

import (
	"math"

	"github.com/golang/geo/r3"
)

// NearCorners finds for corners in ascending order which to weld: into[v] is the
// vertex that v becomes, itself for nearly all, and welded how many change.
func NearCorners(vertices []r3.Vector, triangles [][3]int32, corners []int32, distance float64) (into []int32, welded int) {
	into = make([]int32, len(vertices))
	for v := range into {
		into[v] = int32(v)
	}
	if !(distance > 0) {
		return into, 0
	}
	near := newNeighbours(vertices, distance)
	for _, v := range corners {
		if first := near.within(v); first >= 0 {
			into[v] = first
		} else {
			near.keep(v)
		}
	}
	dropCollapsing(triangles, into)
	for _, v := range corners {
		if into[v] != v {
			welded++
		}
	}
	return into, welded
}

// dropCollapsing takes back the welding of every set of corners of which a
// facet has two.
func dropCollapsing(triangles [][3]int32, into []int32) {
	bad := make([]bool, len(into))
	for _, t := range triangles {
		for k := range 3 {
			if a, b := t[k], t[(k+1)%3]; a != b && into[a] == into[b] {
				bad[into[a]] = true
			}
		}
	}
	for v := range into {
		if bad[into[v]] {
			into[v] = int32(v)
		}
	}
}

// neighbours finds kept vertices by place: those in each cell of a grid are a
// chain. Cells are two distances wide, so at most eight are looked at.
type neighbours struct {
	vertices []r3.Vector
	distance float64
	origin   r3.Vector
	cells    *Welder // the numbers of the cells in use
	last     []int32 // vertex kept last in each cell
	before   map[int32]int32
}

func newNeighbours(vertices []r3.Vector, distance float64) *neighbours {
	n := &neighbours{vertices: vertices, distance: distance, cells: NewWelder(0), before: map[int32]int32{}}
	n.origin = vertices[0]
	for _, v := range vertices {
		n.origin = r3.Vector{X: min(n.origin.X, v.X), Y: min(n.origin.Y, v.Y), Z: min(n.origin.Z, v.Z)}
	}
	return n
}

// cell returns where a point is in the grid. The grid is at most half a million
// cells wide, see crackPart, and points may lie one distance below the origin.
func (n *neighbours) cell(p r3.Vector) Corner {
	q := p.Sub(n.origin).Mul(0.5 / n.distance)
	return Corner{uint32(int32(math.Floor(q.X))), uint32(int32(math.Floor(q.Y))), uint32(int32(math.Floor(q.Z)))}
}

// keep makes v one that later ones may be welded to.
func (n *neighbours) keep(v int32) {
	c := n.cells.Add(n.cell(n.vertices[v]))
	if int(c) == len(n.last) {
		n.last = append(n.last, -1)
	}
	if n.last[c] >= 0 {
		n.before[v] = n.last[c]
	}
	n.last[c] = v
}

// within returns the first of the kept vertices no further from v than the
// distance, or -1.
func (n *neighbours) within(v int32) int32 {
	p := n.vertices[v]
	d := r3.Vector{X: n.distance, Y: n.distance, Z: n.distance}
	low, high := n.cell(p.Sub(d)), n.cell(p.Add(d))
	first := int32(-1)
	for x := low[0]; x != high[0]+1; x++ {
		for y := low[1]; y != high[1]+1; y++ {
			for z := low[2]; z != high[2]+1; z++ {
				c := n.cells.find(Corner{x, y, z})
				if c < 0 {
					continue
				}
				for u, ok := n.last[c], true; ok; u, ok = n.next(u) {
					if n.vertices[u].Sub(p).Norm() <= n.distance && (first < 0 || u < first) {
						first = u
					}
				}
			}
		}
	}
	return first
}

// next returns the vertex kept before u in u's cell.
func (n *neighbours) next(u int32) (int32, bool) {
	before, ok := n.before[u]
	return before, ok
}

// Compact leaves out the vertices that are not their own in into: those welded to
// others, which no triangle may name any more. The rest keep their order.
func Compact(vertices []r3.Vector, triangles [][3]int32, into []int32) (kept []r3.Vector, renumbered [][3]int32) {
	number := make([]int32, len(vertices))
	renumbered = make([][3]int32, len(triangles))
	for v, p := range vertices {
		if into[v] == int32(v) {
			number[v] = int32(len(kept))
			kept = append(kept, p)
		}
	}
	for i, t := range triangles {
		renumbered[i] = [3]int32{number[t[0]], number[t[1]], number[t[2]]}
	}
	return kept, renumbered
}
