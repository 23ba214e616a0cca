package solids

import (
	"math"

	"github.com/golang/geo/r3"
)

// Sphere returns a sphere in n sectors and n/2 bands, poles on the z axis.
func Sphere(radius float64, n int) []r3.Vector {
	return Lathe(SphereProfile(radius, n/2), n)
}

// Icosphere returns a sphere of nearly equal triangles: an icosahedron of 20
// facets, halved along every edge so many times.
func Icosphere(radius float64, halvings int) []r3.Vector {
	c := Icosahedron(1)
	for range halvings {
		c = Subdivide(c)
		for i, p := range c {
			c[i] = p.Normalize()
		}
	}
	for i, p := range c {
		c[i] = p.Normalize().Mul(radius)
	}
	return c
}

// Ellipsoid returns an ellipsoid with the given semi-axes along x, y and z in n
// sectors and n/2 bands.
func Ellipsoid(a, b, c float64, n int) []r3.Vector {
	return Scale(Sphere(1, n), a, b, c)
}

// EllipsoidCap returns the top of an ellipsoid: the part within height of its
// end at +z, in n sectors and n/4 bands, with a flat bottom.
func EllipsoidCap(a, b, c, height float64, n int) []r3.Vector {
	return Scale(Lathe(CapProfile(1, height/c, n/4), n), a, b, c)
}

// Capsule returns a stick along z with round ends, in n sectors and n/4 bands an
// end; length is that of the straight part, which is one band.
func Capsule(radius, length float64, n int) []r3.Vector {
	return Lathe(CapsuleProfile(radius, length, n/4), n)
}

// Torus returns a ring about the z axis, n sectors round the ring and bands round
// the tube.
func Torus(ring, tube float64, n, bands int) []r3.Vector {
	return Lathe(TorusProfile(ring, tube, bands), n)
}

// Frustum returns a cone frustum standing on z = 0, n sectors; a radius of 0
// makes it a cone, equal radii a prism.
func Frustum(bottom, top, height float64, n int) []r3.Vector {
	return Lathe(FrustumProfile(bottom, top, height), n)
}

// Prism returns a regular n-sided prism standing on z = 0, its upright edges at
// the given radius.
func Prism(radius, height float64, n int) []r3.Vector {
	return Frustum(radius, radius, height, n)
}

// TruncatedCylinder returns an upright cylinder from z = 0 to a tilted plane: low
// at x = -radius, high at x = +radius.
func TruncatedCylinder(radius, low, high float64, n int) []r3.Vector {
	c := Prism(radius, 1, n)
	for i, p := range c {
		if p.Z != 0 {
			c[i].Z = (low + high + (high-low)*p.X/radius) / 2
		}
	}
	return c
}

// Hoof returns the part of a cylinder about z between z = 0 and a plane that rises
// from the diameter x = 0 to height at x = radius, n sectors in its half circle.
func Hoof(radius, height float64, n int) []r3.Vector {
	foot := func(i int) r3.Vector {
		sin, cos := math.Sincos(math.Pi * (float64(i)/float64(n) - 0.5))
		if i == 0 || i == n {
			cos = 0
		}
		return r3.Vector{X: radius * cos, Y: radius * sin}
	}
	head := func(i int) r3.Vector {
		p := foot(i)
		p.Z = height * p.X / radius
		return p
	}
	var c []r3.Vector
	for i := range n {
		p0, p1, q0, q1 := foot(i), foot(i+1), head(i), head(i+1)
		c = append(c, r3.Vector{}, p1, p0, r3.Vector{}, q0, q1)
		if i > 0 {
			c = append(c, p0, q1, q0)
		}
		if i < n-1 {
			c = append(c, p0, p1, q1)
		}
	}
	return c
}

// HalfCylinder returns half a cylinder along z, on the side of positive y, n
// sectors in its half circle, standing on z = 0.
func HalfCylinder(radius, length float64, n int) []r3.Vector {
	at := func(i int, z float64) r3.Vector {
		sin, cos := math.Sincos(math.Pi * float64(i) / float64(n))
		if i == n {
			sin = 0
		}
		return r3.Vector{X: radius * cos, Y: radius * sin, Z: z}
	}
	bottom, top := r3.Vector{}, r3.Vector{Z: length}
	var c []r3.Vector
	for i := range n {
		p0, p1, q0, q1 := at(i, 0), at(i+1, 0), at(i, length), at(i+1, length)
		c = append(c, bottom, p1, p0, top, q0, q1, p0, p1, q1, p0, q1, q0)
	}
	first, last := at(0, 0), at(n, 0)
	firstTop, lastTop := at(0, length), at(n, length)
	return append(c,
		bottom, first, firstTop, bottom, firstTop, top,
		last, bottom, top, last, top, lastTop)
}

// Ring returns a torus of about so many facets.
func Ring(facets int) []r3.Vector {
	bands := int(math.Sqrt(float64(facets) / 6))
	return Torus(30, 10, 3*bands, bands)
}

// Ripple returns a closed body of n*n facets with a waved skin, about as long and as
// thick as a bait.
func Ripple(n int) []r3.Vector {
	c := Sphere(1, n)
	for i, p := range c {
		wave := 1 + 0.05*math.Sin(40*p.X)*math.Cos(30*p.Y)
		c[i] = r3.Vector{X: 50 * p.X, Y: 8 * wave * p.Y, Z: 11 * wave * p.Z}
	}
	return Float32(c)
}
