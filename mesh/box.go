package mesh

import (
	"github.com/golang/geo/r3"

	"bellyline/mesh/parallel"
)

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

// contains says whether p is in the box or on its skin.
func (b Box) contains(p r3.Vector) bool {
	return b.Min.X <= p.X && p.X <= b.Max.X && b.Min.Y <= p.Y && p.Y <= b.Max.Y &&
		b.Min.Z <= p.Z && p.Z <= b.Max.Z
}

// Bounds returns the smallest box around the corners that triangles use.
// The box of an empty mesh is the zero Box. One pass over the triangles, on all
// threads.
func (m *Mesh) Bounds() Box {
	if len(m.Triangles) == 0 {
		return Box{}
	}
	boxes := make([]Box, parallel.Count(len(m.Triangles), boxBlock))
	parallel.Blocks(len(m.Triangles), boxBlock, func(b, from, to int) {
		boxes[b] = m.boxOfRun(from, to)
	})
	box := boxes[0]
	for _, b := range boxes[1:] {
		box = box.with(b.Min).with(b.Max)
	}
	return box
}

const boxBlock = 1 << 14

// boxOfRun returns the box of the triangles from..to-1, which are at least one.
// Comparing costs a third of min and max, which have to look out for NaN and -0.
func (m *Mesh) boxOfRun(from, to int) Box {
	lo := m.Vertices[m.Triangles[from][0]]
	hi := lo
	for _, t := range m.Triangles[from:to] {
		for _, v := range t {
			p := &m.Vertices[v]
			if p.X < lo.X {
				lo.X = p.X
			}
			if p.X > hi.X {
				hi.X = p.X
			}
			if p.Y < lo.Y {
				lo.Y = p.Y
			}
			if p.Y > hi.Y {
				hi.Y = p.Y
			}
			if p.Z < lo.Z {
				lo.Z = p.Z
			}
			if p.Z > hi.Z {
				hi.Z = p.Z
			}
		}
	}
	return Box{Min: lo, Max: hi}
}

// Span returns the range of a body along a direction, 0 to 0 for an empty one.
func (m *Mesh) Span(dir r3.Vector) (low, high float64) {
	for i, v := range m.Vertices {
		x := dir.Dot(v)
		if i == 0 {
			low, high = x, x
		}
		low, high = min(low, x), max(high, x)
	}
	return low, high
}
