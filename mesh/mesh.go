package mesh

import (
	"github.com/golang/geo/r3"

	"bellyline/mesh/parallel"
)

// Mesh is a triangle surface with shared corners.
//
// The zero value is an empty mesh. A Mesh may be open, crossing itself or made
// of several shells; Check says which.
type Mesh struct {
	// Vertices holds each distinct corner once, in millimetres, all finite.
	Vertices []r3.Vector
	// Triangles holds three indices into Vertices a facet, counter-clockwise
	// seen from outside. A facet with two equal corners is kept (invariant 3).
	Triangles [][3]int32
}

// Corners returns the three corners of triangle t in millimetres.
func (m *Mesh) Corners(t int) (a, b, c r3.Vector) {
	tri := m.Triangles[t]
	return m.Vertices[tri[0]], m.Vertices[tri[1]], m.Vertices[tri[2]]
}

// vertexBox returns the smallest box around all vertices, used by triangles or
// not: one pass over the vertices on all processors.
func (m *Mesh) vertexBox() Box {
	const block = 1 << 14
	boxes := make([]Box, parallel.Count(len(m.Vertices), block))
	parallel.Blocks(len(m.Vertices), block, func(b, from, to int) {
		lo, hi := m.Vertices[from], m.Vertices[from]
		for i := from + 1; i < to; i++ {
			p := &m.Vertices[i]
			lo.X, hi.X = widen(lo.X, hi.X, p.X)
			lo.Y, hi.Y = widen(lo.Y, hi.Y, p.Y)
			lo.Z, hi.Z = widen(lo.Z, hi.Z, p.Z)
		}
		boxes[b] = Box{Min: lo, Max: hi}
	})
	if len(boxes) == 0 {
		return Box{}
	}
	all := boxes[0]
	for _, b := range boxes[1:] {
		all = all.with(b.Min).with(b.Max)
	}
	return all
}

// widen returns the range lo..hi made to hold x. The built-in min and max take
// care of NaN, which no vertex is, at three times the time.
func widen(lo, hi, x float64) (float64, float64) {
	if x < lo {
		lo = x
	}
	if x > hi {
		hi = x
	}
	return lo, hi
}
