package smooth

import (
	"math"
	"math/rand/v2"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"bellyline/mesh/vector"
)

// hullOfDirections returns the convex hull of points on the unit sphere, as
// triples of them: the random tessellation (Delaunay's) of the sphere. Points are
// added one by one, each replacing the facets that it sees.
func hullOfDirections(p []r3.Vector) [][3]int {
	type facet struct {
		corner [3]int
		normal r3.Vector
	}
	sees := func(f facet, k int) bool { return f.normal.Dot(p[k].Sub(p[f.corner[0]])) > 0 }
	on := func(a, b, c int) facet { return facet{[3]int{a, b, c}, p[b].Sub(p[a]).Cross(p[c].Sub(p[a]))} }
	facets := []facet{on(0, 1, 2), on(0, 2, 1)}
	if sees(facets[0], 3) {
		facets = []facet{on(0, 2, 1), on(0, 1, 3), on(1, 2, 3), on(2, 0, 3)}
	} else {
		facets = []facet{on(0, 1, 2), on(1, 0, 3), on(2, 1, 3), on(0, 2, 3)}
	}
	for k := 4; k < len(p); k++ {
		rim := map[[2]int]bool{}
		var order [][2]int
		kept := facets[:0:0]
		for _, f := range facets {
			if !sees(f, k) {
				kept = append(kept, f)
				continue
			}
			for i, a := range f.corner {
				e := [2]int{a, f.corner[(i+1)%3]}
				rim[e] = true
				order = append(order, e)
			}
		}
		for _, e := range order {
			if !rim[[2]int{e[1], e[0]}] {
				kept = append(kept, on(e[0], e[1], k))
			}
		}
		facets = kept
	}
	var corners [][3]int
	for _, f := range facets {
		corners = append(corners, f.corner)
	}
	return corners
}

// directions returns n points on the unit sphere: along a Fibonacci spiral and
// then moved at random by jitter times their distance, or all at random where
// jitter is negative.
func directions(n int, jitter float64, rng *rand.Rand) []r3.Vector {
	random := func() r3.Vector { return r3.Vector{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()} }
	var out []r3.Vector
	for i := range n {
		if jitter < 0 {
			out = append(out, random().Normalize())
			continue
		}
		z := 1 - (2*float64(i)+1)/float64(n)
		sin, cos := math.Sincos(float64(i) * math.Pi * (3 - math.Sqrt(5)))
		d := r3.Vector{X: cos * math.Sqrt(1-z*z), Y: sin * math.Sqrt(1-z*z), Z: z}
		out = append(out, d.Add(random().Mul(jitter*math.Sqrt(4*math.Pi/float64(n)))).Normalize())
	}
	return out
}

// onBody moves the tessellation of a sphere to another surface.
func onBody(p []r3.Vector, facets [][3]int, surface func(r3.Vector) r3.Vector) []r3.Vector {
	moved := make([]r3.Vector, len(p))
	for i := range p {
		moved[i] = surface(p[i])
	}
	var c []r3.Vector
	for _, f := range facets {
		c = append(c, moved[f[0]], moved[f[1]], moved[f[2]])
	}
	return c
}

// around returns where a ray from the origin leaves the body of all points within
// radius of a box with the given half sizes: a rounded box, or a capsule where
// two of them are 0.
func around(half r3.Vector, radius float64) func(r3.Vector) r3.Vector {
	clamp := func(x, h float64) float64 { return max(-h, min(h, x)) }
	outside := func(p r3.Vector) bool {
		q := r3.Vector{X: clamp(p.X, half.X), Y: clamp(p.Y, half.Y), Z: clamp(p.Z, half.Z)}
		return p.Distance(q) > radius
	}
	return func(d r3.Vector) r3.Vector {
		low, high := 0.0, half.Norm()+radius
		for range 60 {
			if mid := (low + high) / 2; outside(d.Mul(mid)) {
				high = mid
			} else {
				low = mid
			}
		}
		return d.Mul(low)
	}
}

// aroundVolume is the volume of that body, by Steiner's formula.
func aroundVolume(half r3.Vector, r float64) float64 {
	a, b, c := 2*half.X, 2*half.Y, 2*half.Z
	return a*b*c + 2*r*(a*b+b*c+c*a) + math.Pi*r*r*(a+b+c) + 4*math.Pi/3*r*r*r
}

// roundedBox returns the same body with every rounding of a quarter circle in 2n
// strips, each in one piece from end to end, and every flat face in pieces by
// pieces squares.
func roundedBox(half r3.Vector, radius float64, n, pieces int) []r3.Vector {
	h := vector.XYZ(half)
	// Marks along one axis: within -1..1 on the flat, beyond on the rounding, where
	// the tangent of the angle grows by what is over.
	var marks []float64
	for i := n; i > 0; i-- {
		marks = append(marks, -1-math.Tan(math.Pi/4*float64(i)/float64(n)))
	}
	for i := range pieces + 1 {
		marks = append(marks, -1+2*float64(i)/float64(pieces))
	}
	for i := range n {
		marks = append(marks, 1+math.Tan(math.Pi/4*float64(i+1)/float64(n)))
	}
	at := func(axis int, sign, u, v float64) r3.Vector {
		var inner, over [3]float64
		inner[axis], over[axis] = sign*h[axis], sign
		for k, mark := range [2]float64{u, v} {
			other := (axis + 1 + k) % 3
			flat := max(-1, min(1, mark))
			inner[other], over[other] = flat*h[other], mark-flat
		}
		out := vector.Of(over).Normalize().Mul(radius)
		p := vector.Of(inner).Add(out)
		// Two faces meet in the same points, reckoned in another order.
		snap := func(x float64) float64 { return math.Round(x*0x1p30) * 0x1p-30 }
		return r3.Vector{X: snap(p.X), Y: snap(p.Y), Z: snap(p.Z)}
	}
	var c []r3.Vector
	for axis := range 3 {
		for _, sign := range []float64{-1, 1} {
			for i := range len(marks) - 1 {
				for j := range len(marks) - 1 {
					q := [4]r3.Vector{at(axis, sign, marks[i], marks[j]), at(axis, sign, marks[i+1], marks[j]),
						at(axis, sign, marks[i+1], marks[j+1]), at(axis, sign, marks[i], marks[j+1])}
					if sign < 0 {
						slices.Reverse(q[:])
					}
					c = append(c, q[0], q[1], q[2], q[0], q[2], q[3])
				}
			}
		}
	}
	return c
}

// roughTorus returns a torus with its vertices moved along the surface at random,
// by up to jitter/2 steps, and its quads cut either way.
func roughTorus(ring, tube float64, n, bands int, jitter float64, rng *rand.Rand) []r3.Vector {
	p := make([][]r3.Vector, n)
	for i := range p {
		for j := range bands {
			u := 2 * math.Pi * (float64(i) + jitter*(rng.Float64()-.5)) / float64(n)
			v := 2 * math.Pi * (float64(j) + jitter*(rng.Float64()-.5)) / float64(bands)
			r := ring + tube*math.Cos(v)
			p[i] = append(p[i], r3.Vector{X: r * math.Cos(u), Y: r * math.Sin(u), Z: tube * math.Sin(v)})
		}
	}
	var out []r3.Vector
	for i := range n {
		for j := range bands {
			a, b, c, d := p[i][j], p[(i+1)%n][j], p[(i+1)%n][(j+1)%bands], p[i][(j+1)%bands]
			if rng.IntN(2) == 0 {
				out = append(out, a, b, d, b, c, d)
			} else {
				out = append(out, a, b, c, a, c, d)
			}
		}
	}
	return out
}

// doubleCone is a profile of two cones of the given radius and height, base to
// base, in so many bands each.
func doubleCone(radius, height float64, bands int) []r2.Point {
	var p []r2.Point
	for i := -bands; i <= bands; i++ {
		s := float64(i) / float64(bands)
		p = append(p, r2.Point{X: radius * (1 - math.Abs(s)), Y: height * s})
	}
	return p
}
