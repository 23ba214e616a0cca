package solids

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// Lathe turns a profile about the z axis in n steps. Profile points are (radius,
// height), going up on the outside; those on the axis (radius 0) become one
// vertex. A profile is open, with both ends on the axis, or closed, with its
// last point equal to its first.
//
// Every band is made of flat trapezoids, so each level is a regular n-gon and the
// volume is exactly LatheShare(n) times that of the profile turned smoothly.
func Lathe(profile []r2.Point, n int) []r3.Vector {
	var c []r3.Vector
	for j := 1; j < len(profile); j++ {
		lo, hi := profile[j-1], profile[j]
		for i := range n {
			p0, p1 := onRing(lo, i, n), onRing(lo, i+1, n)
			q0, q1 := onRing(hi, i, n), onRing(hi, i+1, n)
			if lo.X != 0 {
				c = append(c, p0, p1, q1)
			}
			if hi.X != 0 {
				c = append(c, p0, q1, q0)
			}
		}
	}
	return c
}

// onRing returns the i-th of n points on the circle that a profile point draws.
func onRing(p r2.Point, i, n int) r3.Vector {
	sin, cos := math.Sincos(2 * math.Pi * float64(i%n) / float64(n))
	return r3.Vector{X: p.X * cos, Y: p.X * sin, Z: p.Y}
}

// LatheShare returns the area of a regular n-gon over that of its circumscribed
// circle.
func LatheShare(n int) float64 {
	a := 2 * math.Pi / float64(n)
	return math.Sin(a) / a
}

// ProfileVolume returns the volume in cubic millimetres that a profile encloses
// when it is turned smoothly: one cone frustum a band.
func ProfileVolume(profile []r2.Point) float64 {
	var v float64
	for j := 1; j < len(profile); j++ {
		a, b := profile[j-1].X, profile[j].X
		v += (profile[j].Y - profile[j-1].Y) * (a*a + a*b + b*b)
	}
	return v * math.Pi / 3
}

// arc appends steps+1 points of a circle about (x, z), from one angle to another,
// measured from the radius axis. Ends at the poles lie exactly on the axis.
func arc(profile []r2.Point, x, z, radius, from, to float64, steps int) []r2.Point {
	for k := range steps + 1 {
		sin, cos := math.Sincos(from + (to-from)*float64(k)/float64(steps))
		if x == 0 && math.Abs(cos) < 1e-15 {
			cos = 0
		}
		profile = append(profile, r2.Point{X: x + radius*cos, Y: z + radius*sin})
	}
	return profile
}

// SphereProfile is half a circle of the given radius about the origin in so many
// bands.
func SphereProfile(radius float64, bands int) []r2.Point {
	return arc(nil, 0, 0, radius, -math.Pi/2, math.Pi/2, bands)
}

// CapsuleProfile is a stick along z with round ends: radius, length of the
// straight part, bands of each end.
func CapsuleProfile(radius, length float64, bands int) []r2.Point {
	p := arc(nil, 0, -length/2, radius, -math.Pi/2, 0, bands)
	return arc(p, 0, length/2, radius, 0, math.Pi/2, bands)
}

// TorusProfile is a circle of radius tube about (ring, 0) in so many bands.
func TorusProfile(ring, tube float64, bands int) []r2.Point {
	p := arc(nil, ring, 0, tube, -math.Pi/2, 1.5*math.Pi, bands)
	p[len(p)-1] = p[0]
	return p
}

// FrustumProfile goes from the radius at z = 0 to the radius at z = height, with
// flat ends; either radius may be 0.
func FrustumProfile(bottom, top, height float64) []r2.Point {
	var p []r2.Point
	if bottom != 0 {
		p = append(p, r2.Point{})
	}
	p = append(p, r2.Point{X: bottom}, r2.Point{X: top, Y: height})
	if top != 0 {
		p = append(p, r2.Point{Y: height})
	}
	return p
}

// CapProfile is the part above z = radius-height of a sphere about the origin,
// with a flat bottom.
func CapProfile(radius, height float64, bands int) []r2.Point {
	z := radius - height
	p := arc([]r2.Point{{Y: z}}, 0, 0, radius, math.Asin(z/radius), math.Pi/2, bands)
	p[1].Y = z
	return p
}

// SpoolProfile is a core of radius 1 between two discs of radius 3, heights 0,
// 1, 3 and 4: faces up and down at one height, around a part that goes on.
func SpoolProfile() []r2.Point {
	return []r2.Point{{}, {X: 3}, {X: 3, Y: 1}, {X: 1, Y: 1}, {X: 1, Y: 3}, {X: 3, Y: 3}, {X: 3, Y: 4}, {Y: 4}}
}
