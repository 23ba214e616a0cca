package main

import (
	"math"

	"bellyline/mesh"

	"github.com/golang/geo/r3"
)

// skin is a closed surface as drawn: cells of four corners and the three-cornered
// ones round poles, all counter-clockwise seen from outside.
type skin struct {
	corners []r3.Vector
	cells   [][4]int32
	tips    [][3]int32
}

// relief moves a corner of a skin, to carve something into it or raise it.
type relief func(p r3.Vector) r3.Vector

// grid is the step in millimetres, a quarter of a micrometre, to which all
// corners are rounded. It is far finer than any mold is cut and far coarser
// than the last bits in which the mathematics of two kinds of machine differ,
// so the files come out the same everywhere. Its multiples up to 1024 mm are
// exact in the float32 of an STL file.
const grid = 1.0 / 4096

// snapped returns p on the grid; minus zero becomes zero.
func snapped(p r3.Vector) r3.Vector {
	on := func(c float64) float64 { return math.Round(c/grid)*grid + 0 }
	return r3.Vector{X: on(p.X), Y: on(p.Y), Z: on(p.Z)}
}

// finish applies the reliefs in their order, puts the corners on the grid and
// parts each four-cornered cell along its shorter diagonal.
func (s *skin) finish(reliefs ...relief) *mesh.Mesh {
	m := &mesh.Mesh{Triangles: append([][3]int32(nil), s.tips...)}
	for _, p := range s.corners {
		for _, carve := range reliefs {
			p = carve(p)
		}
		m.Vertices = append(m.Vertices, snapped(p))
	}
	for _, c := range s.cells {
		one, two := [3]int32{c[0], c[1], c[2]}, [3]int32{c[0], c[2], c[3]}
		if swapsDiagonal(m.Vertices[c[0]], m.Vertices[c[1]], m.Vertices[c[2]], m.Vertices[c[3]]) {
			one, two = [3]int32{c[0], c[1], c[3]}, [3]int32{c[1], c[2], c[3]}
		}
		m.Triangles = append(m.Triangles, one, two)
	}
	return m
}

// swapsDiagonal says whether the cell abcd is better parted from b to d than from a to
// c. No facet may lie in the parting plane, or at the corner of a limb's end it
// would meet its own mirror image.
func swapsDiagonal(a, b, c, d r3.Vector) bool {
	flat := func(p, q, r r3.Vector) bool { return p.Z == 0 && q.Z == 0 && r.Z == 0 }
	switch {
	case flat(a, b, c) || flat(a, c, d):
		return true
	case flat(a, b, d) || flat(b, c, d):
		return false
	}
	return squared(d.Sub(b)) < squared(c.Sub(a))
}

// squared returns the squared length of v. The products are rounded one by one
// (no fused multiply-add), so that each machine parts cells alike; between
// corners on the grid less than 1024 mm apart they are even exact.
func squared(v r3.Vector) float64 {
	return float64(v.X*v.X) + float64(v.Y*v.Y) + float64(v.Z*v.Z)
}

// joined returns shells as one mesh, each kept as it is.
func joined(shells ...*mesh.Mesh) *mesh.Mesh {
	all := &mesh.Mesh{}
	for _, m := range shells {
		first := int32(len(all.Vertices))
		all.Vertices = append(all.Vertices, m.Vertices...)
		for _, t := range m.Triangles {
			all.Triangles = append(all.Triangles, [3]int32{t[0] + first, t[1] + first, t[2] + first})
		}
	}
	return all
}
