package mesh

import (
	"github.com/golang/geo/r3"
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
