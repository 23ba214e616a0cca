package mesh

import (
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r3"
)

// crackPart is the distance within which corners on a crack are welded, in parts
// of the diagonal of the model's box. Programs that write a float32 differently
// for two facets differ by a step of it or two, 1.2e-7 of the largest coordinate;
// details are never smaller than a thousandth of a bait.
const crackPart = 1e-6

// closeCracks welds corners that lie on edges with one facet only and closer
// than crackPart of the size, when that leaves fewer such edges. A set of
// corners whose welding would collapse a facet stays as it was. Of corners
// welded the first in the file stays.
func closeCracks(model *Model) {
	m := model.Mesh
	if edgesEven(m.Triangles) {
		return
	}
	odd := oddEdges(m.Triangles)
	distance := crackPart * m.Bounds().Diagonal()
	into, welded := nearCorners(m, odd, distance)
	if welded == 0 {
		return
	}
	triangles := make([][3]int32, len(m.Triangles))
	for i, t := range m.Triangles {
		triangles[i] = [3]int32{into[t[0]], into[t[1]], into[t[2]]}
	}
	if len(oddEdges(triangles)) >= len(odd) {
		return
	}
	model.Mesh = compact(m.Vertices, triangles, into)
	model.WeldedWithinMM = distance
	model.Notes = append(model.Notes, Note{Kind: NoteNearWeld, Count: welded,
		Text: fmt.Sprintf("%s welded to others within %.2g mm to close cracks", count(int64(welded), "corner"), distance)})
}

// edgesEven reports whether every edge belongs to an even number of facets, as
// it does in a closed surface. It is told by a sum modulo 2 of 64-bit hashes of
// the edges, which for odd edges is zero once in 1.8e19 times. One pass, no
// memory.
func edgesEven(triangles [][3]int32) bool {
	const size = 1 << 16
	sums := make([]uint64, (len(triangles)+size-1)/size)
	inBlocks(len(triangles), size, func(block, from, to int) {
		var sum uint64
		for _, t := range triangles[from:to] {
			sum ^= edgeHash(t[0], t[1]) ^ edgeHash(t[1], t[2]) ^ edgeHash(t[2], t[0])
		}
		sums[block] = sum
	})
	var sum uint64
	for _, s := range sums {
		sum ^= s
	}
	return sum == 0
}

// edgeHash mixes an edge's ends, whose order does not matter. An edge between
// equal corners is none and has 0. The constants are those of the finishing step
// of MurmurHash3 (Appleby, 2011).
func edgeHash(a, b int32) uint64 {
	if a == b {
		return 0
	}
	h := endsKey(a, b) + 0x9e3779b97f4a7c15
	h = (h ^ h>>33) * 0xff51afd7ed558ccd
	h = (h ^ h>>33) * 0xc4ceb9fe1a85ec53
	return h ^ h>>33
}

// endsKey puts an edge's ends into one number, the smaller on top.
func endsKey(a, b int32) uint64 {
	return uint64(min(a, b))<<32 | uint64(max(a, b))
}

// oddEdges returns the keys of the edges that belong to an odd number of facets,
// sorted.
func oddEdges(triangles [][3]int32) []uint64 {
	keys := make([]uint64, 0, 3*len(triangles))
	for _, t := range triangles {
		for k := range 3 {
			if a, b := t[k], t[(k+1)%3]; a != b {
				keys = append(keys, endsKey(a, b))
			}
		}
	}
	slices.Sort(keys)
	odd := keys[:0]
	for i := 0; i < len(keys); {
		n := 1
		for i+n < len(keys) && keys[i+n] == keys[i] {
			n++
		}
		if n%2 == 1 {
			odd = append(odd, keys[i])
		}
		i += n
	}
	return odd
}

// nearCorners finds for the corners of odd edges which to weld: into[v] is the
// vertex that v becomes, itself for nearly all, and welded how many change.
func nearCorners(m *Mesh, odd []uint64, distance float64) (into []int32, welded int) {
	corners := make([]int32, 0, 2*len(odd))
	for _, key := range odd {
		corners = append(corners, int32(key>>32), int32(key))
	}
	slices.Sort(corners)
	corners = slices.Compact(corners)
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
	bad := map[int32]bool{}
	for _, t := range triangles {
		for k := range 3 {
			if a, b := t[k], t[(k+1)%3]; a != b && into[a] == into[b] {
				bad[into[a]] = true
			}
		}
	}
	if len(bad) == 0 {
		return
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

// compact returns the mesh of triangles without the vertices that were welded
// to others. The rest keep their order.
func compact(vertices []r3.Vector, triangles [][3]int32, into []int32) *Mesh {
	number := make([]int32, len(vertices))
	kept := make([]r3.Vector, 0, len(vertices))
	for v, p := range vertices {
		if into[v] == int32(v) {
			number[v] = int32(len(kept))
			kept = append(kept, p)
		}
	}
	for i, t := range triangles {
		triangles[i] = [3]int32{number[t[0]], number[t[1]], number[t[2]]}
	}
	return &Mesh{Vertices: kept, Triangles: triangles}
}
