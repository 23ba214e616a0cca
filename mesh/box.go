package mesh

import (
	"math"

	"github.com/golang/geo/r3"

	"bellyline/mesh/parallel"
)

// Box is an axis-parallel box in millimetres, closed on all sides.
type Box struct {
	Min, Max r3.Vector
}

// EmptyBox returns the box that holds nothing, to start from: Min is above Max, and
// With makes it the box of the first point.
func EmptyBox() Box {
	inf := math.Inf(1)
	return Box{Min: r3.Vector{X: inf, Y: inf, Z: inf}, Max: r3.Vector{X: -inf, Y: -inf, Z: -inf}}
}

// BoxOf returns the smallest box around points, EmptyBox around none.
func BoxOf(points ...r3.Vector) Box {
	b := EmptyBox()
	for i := range points {
		b.hold(&points[i])
	}
	return b
}

// Size returns the edge lengths of the box in millimetres.
func (b Box) Size() r3.Vector { return b.Max.Sub(b.Min) }

// Centre returns the middle of the box.
func (b Box) Centre() r3.Vector { return b.Min.Add(b.Max).Mul(0.5) }

// Diagonal returns the length of the box's diagonal in millimetres.
func (b Box) Diagonal() float64 { return b.Size().Norm() }

// Contains says whether p is in the box or on its skin.
func (b Box) Contains(p r3.Vector) bool {
	return b.Min.X <= p.X && p.X <= b.Max.X && b.Min.Y <= p.Y && p.Y <= b.Max.Y &&
		b.Min.Z <= p.Z && p.Z <= b.Max.Z
}

// Meets says whether two boxes have a point in common.
func (b *Box) Meets(c *Box) bool {
	return b.Min.X <= c.Max.X && c.Min.X <= b.Max.X &&
		b.Min.Y <= c.Max.Y && c.Min.Y <= b.Max.Y &&
		b.Min.Z <= c.Max.Z && c.Min.Z <= b.Max.Z
}

// With returns the box made to hold v.
func (b Box) With(v r3.Vector) Box {
	b.hold(&v)
	return b
}

// hold makes the box hold v.
func (b *Box) hold(v *r3.Vector) {
	b.Min.X, b.Max.X = widen(b.Min.X, b.Max.X, v.X)
	b.Min.Y, b.Max.Y = widen(b.Min.Y, b.Max.Y, v.Y)
	b.Min.Z, b.Max.Z = widen(b.Min.Z, b.Max.Z, v.Z)
}

// Bounds returns the smallest box around the corners that triangles use.
// The box of an empty mesh is the zero Box. One pass over the vertices and a quick
// one over the triangles, on all threads; a slow one where vertices that no
// triangle uses lie outside.
func (m *Mesh) Bounds() Box {
	if len(m.Triangles) == 0 {
		return Box{}
	}
	if all := m.extremes(); m.uses(all.at) {
		return all.box
	}
	boxes := make([]Box, parallel.Count(len(m.Triangles), boxBlock))
	parallel.Blocks(len(m.Triangles), boxBlock, func(b, from, to int) {
		box := EmptyBox()
		for _, t := range m.Triangles[from:to] {
			box = box.With(m.Vertices[t[0]]).With(m.Vertices[t[1]]).With(m.Vertices[t[2]])
		}
		boxes[b] = box
	})
	box := boxes[0]
	for _, b := range boxes[1:] {
		box = box.With(b.Min).With(b.Max)
	}
	return box
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

// Float32Step returns the distance between neighbouring float32 numbers at the
// largest coordinate of the box, in mm: 24 bits, and never below 2^-149.
//
// A file in other units had its steps multiplied with them; at the same place in
// mm they are between half as large and twice as large as this.
func (b Box) Float32Step() float64 {
	largest := 0.0
	for _, p := range [2]r3.Vector{b.Min.Abs(), b.Max.Abs()} {
		largest = max(largest, p.X, p.Y, p.Z)
	}
	_, exponent := math.Frexp(largest)
	return math.Ldexp(1, max(exponent-24, -149))
}
