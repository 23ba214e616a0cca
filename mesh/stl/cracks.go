package stl

import (
	"fmt"
	"math/bits"
	"slices"

	"bellyline/mesh"
	"bellyline/mesh/halfedge"
	"bellyline/mesh/internal/weld"
	"bellyline/mesh/parallel"
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
	odd, corners := oddEdges(m)
	distance := crackPart * m.Bounds().Diagonal()
	into, welded := weld.NearCorners(m.Vertices, m.Triangles, corners, distance)
	if welded == 0 {
		return
	}
	closer := &mesh.Mesh{Vertices: m.Vertices, Triangles: make([][3]int32, len(m.Triangles))}
	for i, t := range m.Triangles {
		closer.Triangles[i] = [3]int32{into[t[0]], into[t[1]], into[t[2]]}
	}
	if left, _ := oddEdges(closer); left >= odd {
		return
	}
	vertices, triangles := weld.Compact(closer.Vertices, closer.Triangles, into)
	model.Mesh = &mesh.Mesh{Vertices: vertices, Triangles: triangles}
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
func oddEdges(m *mesh.Mesh) (edges int, corners []int32) {
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
