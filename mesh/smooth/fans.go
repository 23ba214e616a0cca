package smooth

import (
	"slices"

	"bellyline/mesh/internal/hugepages"
	"bellyline/mesh/parallel"
	"bellyline/mesh/radix"

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
	corner []int32       // by place; rising within a fan
	normal []r3.Vector   // by place, of vertices with creases
	flags  []cornerFlags // by place
	group  []int32       // by place: the first place of the same group
}

// cornerFlags says how the two edges of a corner count, as seen from its vertex.
type cornerFlags struct {
	peak         bool      // see peakSum
	leads, comes edgeFlags // the edge to the next corner, the edge from the one before
}

// edgeFlags are what flagTransitions finds of an edge.
type edgeFlags struct {
	straight bool // it leads into a flatter piece: no bend
	far      bool // its slope at this end is not to be trusted
}

// gatherFans lists the corners of the special vertices, each vertex's in the
// order of the facets. Facets without direction are left out.
func (b *bending) gatherFans() {
	f := &b.fans
	starts := b.fanStarts()
	end := starts[len(starts)-1]
	f.vertex, f.first = hugepages.Make[int32](int(end.fans)), hugepages.Make[int32](int(end.fans)+1)
	f.first[end.fans] = end.corners
	parallel.Blocks(len(b.vertices), bendBlock, func(block, from, to int) {
		next := starts[block]
		for i := from; i < to; i++ {
			if v := &b.vertices[i]; b.marks[i].special {
				v.fan = next.fans
				f.vertex[v.fan], f.first[v.fan] = int32(i), next.corners
				next.take(v)
			}
		}
	})
	f.corner = hugepages.Make[int32](int(end.corners))
	b.placeCorners(slices.Clone(f.first))
}

// fanStart is how many fans there are, and how many corners in them.
type fanStart struct{ fans, corners int32 }

func (s *fanStart) take(v *bentVertex) {
	s.fans++
	s.corners += v.corners
}

// fanStarts counts fans: those before each block of vertices, and all at the end.
func (b *bending) fanStarts() []fanStart {
	starts := make([]fanStart, parallel.Count(len(b.vertices), bendBlock)+1)
	parallel.Blocks(len(b.vertices), bendBlock, func(block, from, to int) {
		s := &starts[block+1]
		for i := from; i < to; i++ {
			if b.marks[i].special {
				s.take(&b.vertices[i])
			}
		}
	})
	for i := 1; i < len(starts); i++ {
		starts[i].fans += starts[i-1].fans
		starts[i].corners += starts[i-1].corners
	}
	return starts
}

// placeCorners fills corner; next is the next free place of every fan.
func (b *bending) placeCorners(next []int32) {
	if len(b.fans.corner) == 0 {
		return
	}
	b.eachShare(func(from, to int32) {
		var m bentFacet
		share := uint32(to - from) // a vertex v is in it when uint32(v-from) is below
		for first, end := range b.facetsNear(from, to) {
			for i := first; i < end; i++ {
				t := &b.mesh.Triangles[i]
				for j, v := range t {
					if uint32(v-from) >= share || !b.marks[v].special || b.thin && !b.measure(t, &m) {
						continue
					}
					k := b.vertices[v].fan
					b.fans.corner[next[k]] = int32(3*i + j)
					next[k]++
				}
			}
		}
	})
}

// placeOf returns the place of a corner of the mesh in its fan, which has it.
func (f *fans) placeOf(fan, corner int32) int32 {
	first, last := f.first[fan], f.first[fan+1]
	for last-first > 8 {
		if middle := (first + last) / 2; f.corner[middle] <= corner {
			first = middle
		} else {
			last = middle
		}
	}
	for f.corner[first] != corner {
		first++
	}
	return first
}

// vertexOf returns the vertex of a corner of the mesh.
func (b *bending) vertexOf(corner int32) int32 { return b.mesh.Triangles[corner/3][corner%3] }

// fanWork is room for the work on one fan after the other.
type fanWork struct {
	vector []r3.Vector
	before []uint64
	edges  []fanEdge
	sample []fanEdge
}

// eachFan calls work for the corners of every special vertex, as the places from
// first to last-1, on all processors.
func (b *bending) eachFan(work func(w *fanWork, first, last int32)) {
	f := &b.fans
	parallel.Blocks(len(f.vertex), bendBlock/16, func(_, from, to int) {
		var w fanWork
		for k := from; k < to; k++ {
			work(&w, f.first[k], f.first[k+1])
		}
	})
}

// splitFans tells the groups of every fan apart. Those of a vertex with creases get
// normals of their own.
func (b *bending) splitFans() {
	b.eachFan(func(w *fanWork, first, last int32) {
		if b.marks[b.vertexOf(b.fans.corner[first])].creased {
			b.groupFan(w, first, last)
			b.groupNormals(first, last)
			return
		}
		for p := first; p < last; p++ {
			b.fans.group[p] = first
		}
	})
}

// groupFan joins the facets of a fan over those of their edges that are no
// creases.
func (b *bending) groupFan(w *fanWork, first, last int32) {
	f := &b.fans
	var m bentFacet
	w.vector = append(w.vector[:0], make([]r3.Vector, last-first)...)
	w.before = w.before[:0] // corners by the vertex before them
	for p := first; p < last; p++ {
		f.group[p] = p
		b.measure(&b.mesh.Triangles[f.corner[p]/3], &m)
		w.vector[p-first] = m.vector.Normalize()
		w.before = append(w.before, radix.Keyed(uint32(b.neighbour(f.corner[p], 2)), int(p)))
	}
	slices.Sort(w.before)
	for p := first; p < last; p++ {
		after := radix.Keyed(uint32(b.neighbour(f.corner[p], 1)), 0)
		k, _ := slices.BinarySearch(w.before, after)
		for ; k < len(w.before) && w.before[k]>>32 == after>>32; k++ {
			q := radix.Item(w.before[k])
			if w.vector[p-first].Dot(w.vector[q-first]) > b.cosCrease {
				f.join(p, q)
			}
		}
	}
	for p := first; p < last; p++ {
		f.group[p] = f.root(p)
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
	var m bentFacet
	for p := first; p < last; p++ {
		g, corner := f.group[p], f.corner[p]
		b.measure(&b.mesh.Triangles[corner/3], &m)
		f.normal[g] = f.normal[g].Add(m.vector.Mul(1 / (m.long2[corner%3] * m.long2[(corner+2)%3])))
	}
	for p := last - 1; p >= first; p-- { // the first of a group comes last
		b.measure(&b.mesh.Triangles[f.corner[p]/3], &m)
		own := m.vector.Normalize()
		f.normal[p] = f.normal[f.group[p]].Normalize()
		if f.normal[p].Dot(own) < cosOwn {
			f.normal[p] = own
		}
	}
}
