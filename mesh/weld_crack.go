package mesh

import (
	"fmt"
	"math"
	"math/bits"
	"slices"

	"bellyline/mesh/internal/halfedge"
	"bellyline/mesh/parallel"

	"github.com/golang/geo/r3"
)

// crackPart is the distance within which corners on a crack are welded, in parts
// of the diagonal of the model's box. Programs that round a corner differently
// for two facets differ by a step of float32 or two, 1.2e-7 of the coordinate
// each; what is drawn on purpose is far larger.
const crackPart = 1e-6

// closeCracks welds corners that lie on edges with an odd number of facets and
// within crackPart of the size of each other, when that leaves fewer such edges.
// Corners whose welding would collapse a facet stay as they were. Of corners
// welded the first in the file stays.
func closeCracks(model *Model) {
	m := model.Mesh
	odd, corners := m.oddEdges()
	distance := crackPart * m.Bounds().Diagonal()
	into, welded := nearCorners(m, corners, distance)
	if welded == 0 {
		return
	}
	closer := &Mesh{Vertices: m.Vertices, Triangles: make([][3]int32, len(m.Triangles))}
	for i, t := range m.Triangles {
		closer.Triangles[i] = [3]int32{into[t[0]], into[t[1]], into[t[2]]}
	}
	if left, _ := closer.oddEdges(); left >= odd {
		return
	}
	model.Mesh = compact(closer, into)
	model.WeldedWithinMM = distance
	model.Notes = append(model.Notes, Note{Kind: NoteNearWeld, Count: welded,
		Text: fmt.Sprintf("%s welded to others within %.2g mm to close cracks", count(int64(welded), "corner"), distance)})
}

// edgesHash returns the sum modulo 2 of the hashes of all edges. It is zero where
// every edge belongs to an even number of facets, as in a closed surface. Where
// some do not it is zero by chance only, once in 2^64 times. It needs no memory.
func edgesHash(triangles [][3]int32) uint64 {
	var sum uint64
	for _, t := range triangles {
		sum ^= edgeHash(t[0], t[1]) ^ edgeHash(t[1], t[2]) ^ edgeHash(t[2], t[0])
	}
	return sum
}

// edgeHash mixes an edge's ends, whose order does not matter, in the way of
// corner.tag. An edge between equal corners is none and has 0.
func edgeHash(a, b int32) uint64 {
	if a == b {
		return 0
	}
	const (
		k0 = 0x082efa98ec4e6c89
		k1 = 0x452821e638d01377
		k2 = 0xbe5466cf34e90c6c
	)
	high, low := bits.Mul64(uint64(min(a, b))*k2^k0, uint64(max(a, b))*k2^k1)
	return high ^ low
}

// oddEdges returns how many edges belong to an odd number of facets, and their
// corners in ascending order.
func (m *Mesh) oddEdges() (edges int, corners []int32) {
	table := halfedge.NewTable(m.Triangles, len(m.Vertices))
	found := make([][]int32, len(m.Vertices)/blockPoints+1)
	parallel.Blocks(len(m.Vertices), blockPoints, func(block, from, to int) {
		var uses []halfedge.Use
		for v := int32(from); v < int32(to); v++ {
			uses = table.At(v, uses)
			for rest := uses; len(rest) > 0; {
				n := halfedge.SameEdge(rest)
				if n%2 == 1 {
					found[block] = append(found[block], v, rest[0].Other())
				}
				rest = rest[n:]
			}
		}
	})
	for _, list := range found {
		corners = append(corners, list...)
	}
	edges = len(corners) / 2
	slices.Sort(corners)
	return edges, slices.Compact(corners)
}

// nearCorners finds for corners in ascending order which to weld: into[v] is the
// vertex that v becomes, itself for nearly all, and welded how many change.
func nearCorners(m *Mesh, corners []int32, distance float64) (into []int32, welded int) {
	into = make([]int32, len(m.Vertices))
	for v := range into {
		into[v] = int32(v)
	}
	if !(distance > 0) {
		return into, 0
	}
	near := newNeighbours(m.Vertices, distance)
	for _, v := range corners {
		if first := near.within(v); first >= 0 {
			into[v] = first
		} else {
			near.keep(v)
		}
	}
	dropCollapsing(m.Triangles, into)
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
	cells    *welder // the numbers of the cells in use
	last     []int32 // vertex kept last in each cell
	before   map[int32]int32
}

func newNeighbours(vertices []r3.Vector, distance float64) *neighbours {
	n := &neighbours{vertices: vertices, distance: distance, cells: newWelder(0), before: map[int32]int32{}}
	n.origin = vertices[0]
	for _, v := range vertices {
		n.origin = r3.Vector{X: min(n.origin.X, v.X), Y: min(n.origin.Y, v.Y), Z: min(n.origin.Z, v.Z)}
	}
	return n
}

// cell returns where a point is in the grid. The grid is at most half a million
// cells wide, see crackPart, and points may lie one distance below the origin.
func (n *neighbours) cell(p r3.Vector) corner {
	q := p.Sub(n.origin).Mul(0.5 / n.distance)
	return corner{uint32(int32(math.Floor(q.X))), uint32(int32(math.Floor(q.Y))), uint32(int32(math.Floor(q.Z)))}
}

// keep makes v one that later ones may be welded to.
func (n *neighbours) keep(v int32) {
	c := n.cells.add(n.cell(n.vertices[v]))
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
				c := n.cells.find(corner{x, y, z})
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

// compact returns the mesh without the vertices that were welded to others. The
// rest keep their order.
func compact(m *Mesh, into []int32) *Mesh {
	number := make([]int32, len(m.Vertices))
	kept := &Mesh{Triangles: make([][3]int32, len(m.Triangles))}
	for v, p := range m.Vertices {
		if into[v] == int32(v) {
			number[v] = int32(len(kept.Vertices))
			kept.Vertices = append(kept.Vertices, p)
		}
	}
	for i, t := range m.Triangles {
		kept.Triangles[i] = [3]int32{number[t[0]], number[t[1]], number[t[2]]}
	}
	return kept
}
