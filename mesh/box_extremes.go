package mesh

import (
	"sync/atomic"

	"bellyline/mesh/halfedge"
	"bellyline/mesh/parallel"
)

// boxBlock is how many vertices or triangles are looked at together.
const boxBlock = 1 << 14

// extremes is the box around vertices, and the first vertex at each of its sides:
// three low ones, three high ones.
type extremes struct {
	box Box
	at  [6]int32
}

// VertexBox returns the smallest box around all vertices, used by triangles or
// not: one pass over the vertices on all processors.
func (m *Mesh) VertexBox() Box { return m.extremes().box }

// extremes finds the extremes of all vertices, used by triangles or not.
func (m *Mesh) extremes() extremes {
	if len(m.Vertices) == 0 {
		return extremes{}
	}
	parts := make([]extremes, parallel.Count(len(m.Vertices), boxBlock))
	parallel.Blocks(len(m.Vertices), boxBlock, func(b, from, to int) {
		first := m.Vertices[from]
		e := extremes{box: Box{Min: first, Max: first}}
		for k := range e.at {
			e.at[k] = int32(from)
		}
		for i := from + 1; i < to; i++ {
			p := &m.Vertices[i]
			e.take(0, int32(i), &e.box.Min.X, &e.box.Max.X, p.X)
			e.take(1, int32(i), &e.box.Min.Y, &e.box.Max.Y, p.Y)
			e.take(2, int32(i), &e.box.Min.Z, &e.box.Max.Z, p.Z)
		}
		parts[b] = e
	})
	all := parts[0]
	for i := range parts[1:] {
		all.merge(&parts[1+i])
	}
	return all
}

// take widens the range of an axis to hold coordinate x of a vertex. Comparing costs
// a third of min and max, which have to look out for NaN and -0.
func (e *extremes) take(axis int, vertex int32, low, high *float64, x float64) {
	if x < *low {
		*low, e.at[axis] = x, vertex
	}
	if x > *high {
		*high, e.at[axis+3] = x, vertex
	}
}

// merge takes over the extremes of later vertices.
func (e *extremes) merge(o *extremes) {
	low := [3]*float64{&e.box.Min.X, &e.box.Min.Y, &e.box.Min.Z}
	high := [3]*float64{&e.box.Max.X, &e.box.Max.Y, &e.box.Max.Z}
	lower := [3]float64{o.box.Min.X, o.box.Min.Y, o.box.Min.Z}
	higher := [3]float64{o.box.Max.X, o.box.Max.Y, o.box.Max.Z}
	for k := range 3 {
		e.take(k, o.at[k], low[k], high[k], lower[k])
		e.take(k, o.at[k+3], low[k], high[k], higher[k])
	}
}

// uses says whether triangles use all of some vertices. It looks at a corner closely
// only where the last six bits of its number are those of one of them.
func (m *Mesh) uses(vertices [6]int32) bool {
	var few uint64
	for _, v := range vertices {
		few |= 1 << (v & 63)
	}
	const all = 1<<len(vertices) - 1
	var found atomic.Uint32 // a bit a vertex
	parallel.Blocks(len(m.Triangles), boxBlock, func(_, from, to int) {
		if found.Load() == all {
			return
		}
		for _, t := range m.Triangles[from:to] {
			if (few>>(t[0]&63)|few>>(t[1]&63)|few>>(t[2]&63))&1 == 0 {
				continue
			}
			for k, v := range vertices {
				if halfedge.HasCorner(t, v) {
					found.Or(1 << k)
				}
			}
		}
	})
	return found.Load() == all
}
