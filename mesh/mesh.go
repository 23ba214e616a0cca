package mesh

import (
	"math"

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

// Box is an axis-parallel box in millimetres, closed on all sides.
type Box struct {
	Min, Max r3.Vector
}

// Size returns the edge lengths of the box in millimetres.
func (b Box) Size() r3.Vector { return b.Max.Sub(b.Min) }

// Centre returns the middle of the box.
func (b Box) Centre() r3.Vector { return b.Min.Add(b.Max).Mul(0.5) }

// Diagonal returns the length of the box's diagonal in millimetres.
func (b Box) Diagonal() float64 { return b.Size().Norm() }

// Bounds returns the smallest box around the corners that triangles use.
// The box of an empty mesh is the zero Box. One pass over the triangles.
func (m *Mesh) Bounds() Box {
	if len(m.Triangles) == 0 {
		return Box{}
	}
	inf := math.Inf(1)
	box := Box{Min: r3.Vector{X: inf, Y: inf, Z: inf}, Max: r3.Vector{X: -inf, Y: -inf, Z: -inf}}
	for _, tri := range m.Triangles {
		for _, v := range tri {
			p := m.Vertices[v]
			box.Min = r3.Vector{X: min(box.Min.X, p.X), Y: min(box.Min.Y, p.Y), Z: min(box.Min.Z, p.Z)}
			box.Max = r3.Vector{X: max(box.Max.X, p.X), Y: max(box.Max.Y, p.Y), Z: max(box.Max.Z, p.Z)}
		}
	}
	return box
}
