package smooth

import (
	"math"
	"slices"

	"bellyline/mesh"
	"bellyline/mesh/halfedge"
	"bellyline/mesh/internal/hugepages"
	"bellyline/mesh/parallel"

	"github.com/golang/geo/r3"
)

// fewCorners is up to which number the edges of a fan are compared with each other
// before anything else is found out about them.
const fewCorners = 64

// dropPlainFans leaves out the fans of vertices without creases that can be neither
// peaks nor transitions, and makes room for what is to be found of the others. Edges
// of different length make no transition by themselves: on a lattice of oblong
// cells no edge reaches further along another than that does.
func (b *bending) dropPlainFans() {
	f := &b.fans
	kept := make([]bool, len(f.vertex))
	parallel.Blocks(len(f.vertex), bendBlock, func(_, from, to int) {
		var w reach
		for k := from; k < to; k++ {
			v := &b.marks[f.vertex[k]]
			corners := f.corner[f.first[k]:f.first[k+1]]
			v.special = v.creased || v.uneven || len(corners) > fewCorners || w.isFar(b.mesh, corners)
			kept[k] = v.special
		}
	})
	f.keep(kept)
	for k, v := range f.vertex {
		b.vertices[v].fan = int32(k)
	}
	size := len(f.corner)
	f.group, f.normal, f.flags = hugepages.Make[int32](size), hugepages.Make[r3.Vector](size), hugepages.Make[cornerFlags](size)
}

// keep closes up the fans that are kept.
func (f *fans) keep(kept []bool) {
	fans, corners := 0, int32(0)
	for k, first := range f.first[:len(f.vertex)] {
		if last := f.first[k+1]; kept[k] {
			f.vertex[fans], f.first[fans] = f.vertex[k], corners
			corners += int32(copy(f.corner[corners:], f.corner[first:last]))
			fans++
		}
	}
	f.vertex, f.first, f.corner = f.vertex[:fans], f.first[:fans+1], f.corner[:corners]
	f.first[fans] = corners
}

// reach is room for the edges of one vertex after the other.
type reach struct {
	next [fewCorners]int32
	edge []r3.Vector
	long []float64 // their squared lengths
}

// isFar says whether one of the edges of a fan reaches far along another, as
// mayBeStraightBeside asks for.
func (w *reach) isFar(m *mesh.Mesh, corners []int32) bool {
	w.gather(m, corners)
	w.long = w.long[:0]
	for _, e := range w.edge {
		w.long = append(w.long, e.Norm2())
	}
	for i, short := range w.long {
		enough := unequalEdges * (1 - 1e-9) * short
		for j, long := range w.long {
			if long > enough && math.Abs(w.edge[j].Dot(w.edge[i])) >= enough {
				return true
			}
		}
	}
	return false
}

// gather lists the edges of a fan: those that lead to the next corners of its facets,
// and those from the ones before that no other facet leads to.
func (w *reach) gather(m *mesh.Mesh, corners []int32) {
	w.edge = w.edge[:0]
	for k, c := range corners {
		t, i := &m.Triangles[c/3], c%3
		w.next[k] = t[halfedge.After(int(i))]
		w.edge = append(w.edge, m.Vertices[w.next[k]].Sub(m.Vertices[t[i]]))
	}
	for _, c := range corners {
		t, i := &m.Triangles[c/3], c%3
		if before := t[halfedge.After(halfedge.After(int(i)))]; !slices.Contains(w.next[:len(corners)], before) {
			w.edge = append(w.edge, m.Vertices[before].Sub(m.Vertices[t[i]]))
		}
	}
}
