package solids

import (
	"math"

	"github.com/golang/geo/r3"
)

// Box returns the 12 facets of the axis-parallel box between two corners.
func Box(lo, hi r3.Vector) []r3.Vector {
	at := func(i int) r3.Vector {
		p := lo
		if i&1 != 0 {
			p.X = hi.X
		}
		if i&2 != 0 {
			p.Y = hi.Y
		}
		if i&4 != 0 {
			p.Z = hi.Z
		}
		return p
	}
	quads := [6][4]int{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}}
	var c []r3.Vector
	for _, q := range quads {
		c = append(c, at(q[0]), at(q[1]), at(q[2]), at(q[0]), at(q[2]), at(q[3]))
	}
	return c
}

// Block returns the box from the origin to (x, y, z).
func Block(x, y, z float64) []r3.Vector { return Box(r3.Vector{}, r3.Vector{X: x, Y: y, Z: z}) }

// CornerTetrahedron returns the tetrahedron between the origin and a point on
// each axis; its volume is x*y*z/6.
func CornerTetrahedron(x, y, z float64) []r3.Vector {
	return TetrahedronOf(r3.Vector{}, r3.Vector{X: x}, r3.Vector{Y: y}, r3.Vector{Z: z})
}

// TetrahedronOf returns the tetrahedron with the given corners, the right way
// out whatever their order.
func TetrahedronOf(a, b, c, d r3.Vector) []r3.Vector {
	if b.Sub(a).Cross(c.Sub(a)).Dot(d.Sub(a)) < 0 {
		b, c = c, b
	}
	return []r3.Vector{a, c, b, a, b, d, b, c, d, c, a, d}
}

// Tetrahedron returns the regular tetrahedron of the given edge, centred.
func Tetrahedron(edge float64) []r3.Vector {
	h := edge / math.Sqrt(8)
	return TetrahedronOf(
		r3.Vector{X: h, Y: h, Z: h}, r3.Vector{X: h, Y: -h, Z: -h},
		r3.Vector{X: -h, Y: h, Z: -h}, r3.Vector{X: -h, Y: -h, Z: h})
}

// Octahedron returns the regular octahedron of the given edge, centred.
func Octahedron(edge float64) []r3.Vector {
	r := edge / math.Sqrt2
	var c []r3.Vector
	for _, s := range [8][3]float64{
		{1, 1, 1}, {-1, -1, 1}, {-1, 1, -1}, {1, -1, -1},
		{-1, 1, 1}, {1, -1, 1}, {1, 1, -1}, {-1, -1, -1},
	} {
		x, y, z := r3.Vector{X: s[0] * r}, r3.Vector{Y: s[1] * r}, r3.Vector{Z: s[2] * r}
		c = append(c, outward(x, y, z)...)
	}
	return c
}

// Icosahedron returns the regular icosahedron of the given edge, centred.
func Icosahedron(edge float64) []r3.Vector {
	v := icosahedronVertices(edge)
	var c []r3.Vector
	for _, f := range icosahedronFacets(v, edge) {
		c = append(c, outward(v[f[0]], v[f[1]], v[f[2]])...)
	}
	return c
}

// icosahedronVertices are the corners of three golden rectangles.
func icosahedronVertices(edge float64) []r3.Vector {
	a, b := edge/2, edge*math.Phi/2
	var v []r3.Vector
	for _, s := range [4][2]float64{{1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
		p, q := s[0]*a, s[1]*b
		v = append(v, r3.Vector{Y: p, Z: q}, r3.Vector{X: p, Y: q}, r3.Vector{X: q, Z: p})
	}
	return v
}

// icosahedronFacets are the triples of vertices one edge apart.
func icosahedronFacets(v []r3.Vector, edge float64) [][3]int {
	near := func(i, j int) bool { return v[i].Distance(v[j]) < 1.2*edge }
	var f [][3]int
	for i := range v {
		for j := i + 1; j < len(v); j++ {
			for k := j + 1; k < len(v); k++ {
				if near(i, j) && near(j, k) && near(i, k) {
					f = append(f, [3]int{i, j, k})
				}
			}
		}
	}
	return f
}

// Dodecahedron returns the regular dodecahedron of the given edge, centred: the
// dual of an icosahedron, each face five triangles about its middle.
func Dodecahedron(edge float64) []r3.Vector {
	v := icosahedronVertices(1)
	facets := icosahedronFacets(v, 1)
	middle := make([]r3.Vector, len(facets))
	for i, f := range facets {
		middle[i] = v[f[0]].Add(v[f[1]]).Add(v[f[2]])
	}
	// Neighbouring middles are one dual edge apart: the shortest distance.
	short := math.Inf(1)
	for i := range middle {
		for j := range i {
			short = min(short, middle[i].Distance(middle[j]))
		}
	}
	var c []r3.Vector
	for k := range v {
		var ring []int
		var hub r3.Vector
		for i, f := range facets {
			if f[0] == k || f[1] == k || f[2] == k {
				ring = append(ring, i)
				hub = hub.Add(middle[i].Mul(0.2))
			}
		}
		for n, i := range ring {
			for _, j := range ring[:n] {
				if middle[i].Distance(middle[j]) < 1.2*short {
					c = append(c, outward(hub, middle[i], middle[j])...)
				}
			}
		}
	}
	return Scale(c, edge/short, edge/short, edge/short)
}

// outward orders a facet of a body around the origin counter-clockwise.
func outward(a, b, c r3.Vector) []r3.Vector {
	if b.Sub(a).Cross(c.Sub(a)).Dot(a) < 0 {
		b, c = c, b
	}
	return []r3.Vector{a, b, c}
}

// Cube returns a cube of a size with its lowest corner on the diagonal, at the given
// coordinate along all axes.
func Cube(at float64, size float64) []r3.Vector {
	return Box(r3.Vector{X: at, Y: at, Z: at}, r3.Vector{X: at + size, Y: at + size, Z: at + size})
}

// Moebius returns a strip of 9 facets, the last joined to the first with a half turn:
// each facet has one side on the rim.
func Moebius() []r3.Vector {
	at := func(i int) r3.Vector {
		return r3.Vector{X: float64(i % 9), Y: float64(i % 9 * (i % 9)), Z: float64(i % 9 * 7 % 5)}
	}
	var c []r3.Vector
	for i := range 9 {
		p, q, r := at(i), at(i+1), at(i+2)
		if i%2 == 1 {
			p, q = q, p
		}
		c = append(c, p, q, r)
	}
	return c
}
