package mesh

import (
	"slices"

	"github.com/golang/geo/r3"
)

// A fan is the facets around a vertex; here only those of special vertices are
// kept, which cannot do with one normal and the plain formula: next to a crease,
// or with edges of very different lengths.

// fans holds the corners of all special vertices, vertex by vertex. A corner of
// the mesh is numbered 3*facet+i, a corner in a fan by its place.
type fans struct {
	vertex []int32       // the special vertices in rising order
	first  []int32       // first[k] is the place of the first corner of vertex[k]; one more at the end
	corner []int32       // by place
	place  []int32       // by corner of the mesh: its place plus 1, or 0
	normal []r3.Vector   // by place
	flags  []cornerFlags // by place
	group  []int32       // by place: the first place of the same group; -1 for facets without direction
}

// cornerFlags says how the two edges of a corner count, as seen from its vertex.
type cornerFlags struct {
	peak         bool      // see findPeaks
	leads, comes edgeFlags // the edge to the next corner, the edge from the one before
}

// edgeFlags are what findTransitions finds of an edge.
type edgeFlags struct {
	straight bool // it leads into a flatter piece: no bend
	far      bool // its slope at this end is not to be trusted
}

// unequalEdges is from which ratio on edges of a vertex count as of very
// different lengths. Below that, what a normal between two curvatures adds to
// the facets on one side it takes from those on the other.
const unequalEdges = 2

// markSpecial marks the vertices that need a fan.
//
// Of two facets at a crease at least one is more than half the crease angle off
// any given normal; so a vertex with all facets within that has no crease.
func (b *bending) markSpecial() {
	blocks := make([][]int32, blocksOf(len(b.mesh.Triangles), bendBlock))
	inBlocks(len(b.mesh.Triangles), bendBlock, func(block, from, to int) {
		for _, t := range b.mesh.Triangles[from:to] {
			f, ok := b.measure(t)
			if !ok {
				continue
			}
			within := b.cosHalf * f.vector.Norm()
			for _, v := range t {
				if b.vertices[v].normal.Dot(f.vector) < within {
					blocks[block] = append(blocks[block], v)
				}
			}
		}
	})
	for _, list := range blocks {
		for _, v := range list {
			b.vertices[v].special = true
		}
	}
	for i := range b.vertices {
		v := &b.vertices[i]
		v.special = v.special || v.longest > unequalEdges*unequalEdges*v.shortest
	}
}

// gatherFans lists the corners of the special vertices, each vertex's in the
// order of the facets.
func (b *bending) gatherFans() {
	f := &b.fans
	slot := make([]int32, len(b.vertices))
	for v := range b.vertices {
		if b.vertices[v].special {
			slot[v] = int32(len(f.vertex))
			f.vertex = append(f.vertex, int32(v))
		}
	}
	if len(f.vertex) == 0 {
		return
	}
	f.first = make([]int32, len(f.vertex)+1)
	b.eachCornerOfSpecial(func(_ int, v int32) { f.first[slot[v]+1]++ })
	for k := range f.vertex {
		f.first[k+1] += f.first[k]
	}
	size := f.first[len(f.vertex)]
	f.corner, f.group = make([]int32, size), make([]int32, size)
	f.normal, f.flags = make([]r3.Vector, size), make([]cornerFlags, size)
	f.place = make([]int32, 3*len(b.mesh.Triangles))
	next := slices.Clone(f.first)
	b.eachCornerOfSpecial(func(corner int, v int32) {
		place := next[slot[v]]
		next[slot[v]]++
		f.corner[place] = int32(corner)
		f.place[corner] = place + 1
	})
}

// eachCornerOfSpecial calls use for every corner of a special vertex. Processors
// share the vertices, so calls for one vertex come in order.
func (b *bending) eachCornerOfSpecial(use func(corner int, v int32)) {
	b.eachShare(func(from, to int32) {
		for i, t := range b.mesh.Triangles {
			for j, v := range t {
				if v >= from && v < to && b.vertices[v].special {
					use(3*i+j, v)
				}
			}
		}
	})
}

// eachFan calls work for the corners of every special vertex, as the places from
// first to last-1, on all processors.
func (b *bending) eachFan(work func(first, last int32)) {
	f := &b.fans
	inBlocks(len(f.vertex), bendBlock/16, func(_, from, to int) {
		for k := from; k < to; k++ {
			work(f.first[k], f.first[k+1])
		}
	})
}

// splitFans tells the groups of every fan apart and gives each its normal.
func (b *bending) splitFans() {
	b.eachFan(func(first, last int32) {
		b.groupFan(first, last)
		b.groupNormals(first, last)
	})
}

// groupFan joins the facets of a fan over those of their edges that are no
// creases.
func (b *bending) groupFan(first, last int32) {
	f := &b.fans
	vector := make([]r3.Vector, last-first)
	before := make([]uint64, 0, last-first) // corners by the vertex before them
	for p := first; p < last; p++ {
		m, ok := b.measure(b.mesh.Triangles[f.corner[p]/3])
		f.group[p] = p
		if !ok {
			f.group[p] = -1
			continue
		}
		vector[p-first] = m.vector.Normalize()
		before = append(before, keyed(uint32(b.neighbour(f.corner[p], 2)), int(p)))
	}
	slices.Sort(before)
	for p := first; p < last; p++ {
		if f.group[p] < 0 {
			continue
		}
		after := keyed(uint32(b.neighbour(f.corner[p], 1)), 0)
		k, _ := slices.BinarySearch(before, after)
		for ; k < len(before) && before[k]>>32 == after>>32; k++ {
			q := item(before[k])
			if vector[p-first].Dot(vector[q-first]) > b.cosCrease {
				f.join(p, q)
			}
		}
	}
	for p := first; p < last; p++ {
		if f.group[p] >= 0 {
			f.group[p] = f.root(p)
		}
	}
}

// neighbour returns the vertex that stands step corners after a corner in its
// facet: 1 the next, 2 the one before.
func (b *bending) neighbour(corner, step int32) int32 {
	return b.mesh.Triangles[corner/3][(corner%3+step)%3]
}

// root returns the first place of the group of p.
func (f *fans) root(p int32) int32 {
	for f.group[p] != p {
		f.group[p] = f.group[f.group[p]]
		p = f.group[p]
	}
	return p
}

func (f *fans) join(p, q int32) {
	p, q = f.root(p), f.root(q)
	f.group[max(p, q)] = min(p, q)
}

// groupNormals sums Max's normal for every group of a fan. A corner whose facet
// is far off it keeps the facet's own.
func (b *bending) groupNormals(first, last int32) {
	f := &b.fans
	for p := first; p < last; p++ {
		if g := f.group[p]; g >= 0 {
			corner := f.corner[p]
			m, _ := b.measure(b.mesh.Triangles[corner/3])
			f.normal[g] = f.normal[g].Add(m.vector.Mul(1 / (m.long2[corner%3] * m.long2[(corner+2)%3])))
		}
	}
	for p := last - 1; p >= first; p-- { // the first of a group comes last
		g := f.group[p]
		if g < 0 {
			continue
		}
		m, _ := b.measure(b.mesh.Triangles[f.corner[p]/3])
		own := m.vector.Normalize()
		f.normal[p] = f.normal[g].Normalize()
		if f.normal[p].Dot(own) < cosOwn {
			f.normal[p] = own
		}
	}
}
