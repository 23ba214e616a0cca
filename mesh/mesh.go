package mesh

import "github.com/golang/geo/r3"

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
	boxes := make([]Box, blockCount(len(m.Vertices), block))
	inBlocks(len(m.Vertices), block, func(b, from, to int) {
		box := Box{Min: m.Vertices[from], Max: m.Vertices[from]}
		for i := from + 1; i < to; i++ {
			box = box.with(m.Vertices[i])
		}
		boxes[b] = box
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
