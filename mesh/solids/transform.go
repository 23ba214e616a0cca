package solids

import (
	"math"
	"math/rand/v2"

	"github.com/golang/geo/r3"
)

// Move returns the body shifted by d.
func Move(c []r3.Vector, d r3.Vector) []r3.Vector {
	return each(c, func(p r3.Vector) r3.Vector { return p.Add(d) })
}

// Scale returns the body stretched along the axes. A negative product of the
// factors turns it inside out.
func Scale(c []r3.Vector, x, y, z float64) []r3.Vector {
	return each(c, func(p r3.Vector) r3.Vector { return r3.Vector{X: p.X * x, Y: p.Y * y, Z: p.Z * z} })
}

// Float32 returns the body as an STL file would keep it.
func Float32(c []r3.Vector) []r3.Vector {
	return each(c, func(p r3.Vector) r3.Vector {
		return r3.Vector{X: float64(float32(p.X)), Y: float64(float32(p.Y)), Z: float64(float32(p.Z))}
	})
}

// Rotation is an orthogonal matrix with determinant 1, by rows.
type Rotation [3][3]float64

// RandomRotation returns an evenly distributed rotation, from a random unit
// quaternion (Shoemake, Graphics Gems III, 1992; from memory).
func RandomRotation(rng *rand.Rand) Rotation {
	u, v, w := rng.Float64(), 2*math.Pi*rng.Float64(), 2*math.Pi*rng.Float64()
	a, b := math.Sqrt(1-u), math.Sqrt(u)
	x, y, z, t := a*math.Sin(v), a*math.Cos(v), b*math.Sin(w), b*math.Cos(w)
	return Rotation{
		{1 - 2*(y*y+z*z), 2 * (x*y - z*t), 2 * (x*z + y*t)},
		{2 * (x*y + z*t), 1 - 2*(x*x+z*z), 2 * (y*z - x*t)},
		{2 * (x*z - y*t), 2 * (y*z + x*t), 1 - 2*(x*x+y*y)},
	}
}

// Apply returns the turned vector.
func (r Rotation) Apply(p r3.Vector) r3.Vector {
	return r3.Vector{
		X: r[0][0]*p.X + r[0][1]*p.Y + r[0][2]*p.Z,
		Y: r[1][0]*p.X + r[1][1]*p.Y + r[1][2]*p.Z,
		Z: r[2][0]*p.X + r[2][1]*p.Y + r[2][2]*p.Z,
	}
}

// Turn returns the body turned about the origin.
func Turn(c []r3.Vector, r Rotation) []r3.Vector { return each(c, r.Apply) }

// Flip returns the body inside out: every facet the other way round.
func Flip(c []r3.Vector) []r3.Vector {
	out := make([]r3.Vector, 0, len(c))
	for i := 0; i < len(c); i += 3 {
		out = append(out, c[i], c[i+2], c[i+1])
	}
	return out
}

// Join returns several bodies as one list of facets.
func Join(bodies ...[]r3.Vector) []r3.Vector {
	var out []r3.Vector
	for _, b := range bodies {
		out = append(out, b...)
	}
	return out
}

// Shuffle returns the same facets in another order, each starting at another of
// its corners.
func Shuffle(c []r3.Vector, rng *rand.Rand) []r3.Vector {
	out := make([]r3.Vector, 0, len(c))
	for _, f := range rng.Perm(len(c) / 3) {
		s := rng.IntN(3)
		for k := range 3 {
			out = append(out, c[3*f+(s+k)%3])
		}
	}
	return out
}

// Subdivide returns the body with every facet cut into four at the midpoints of
// its edges.
func Subdivide(c []r3.Vector) []r3.Vector {
	// The sum of two numbers does not depend on their order, so both facets of an
	// edge get the same midpoint.
	mid := func(a, b r3.Vector) r3.Vector { return a.Add(b).Mul(0.5) }
	out := make([]r3.Vector, 0, 4*len(c))
	for i := 0; i < len(c); i += 3 {
		p, q, r := c[i], c[i+1], c[i+2]
		pq, qr, rp := mid(p, q), mid(q, r), mid(r, p)
		out = append(out, p, pq, rp, q, qr, pq, r, rp, qr, pq, qr, rp)
	}
	return out
}

func each(c []r3.Vector, f func(r3.Vector) r3.Vector) []r3.Vector {
	out := make([]r3.Vector, len(c))
	for i, p := range c {
		out[i] = f(p)
	}
	return out
}

// RotationOf returns the random rotation that a seed stands for.
func RotationOf(seed uint64) Rotation {
	return RandomRotation(rand.New(rand.NewPCG(seed, 0)))
}

// Middle returns the point half way between two.
func Middle(a, b r3.Vector) r3.Vector { return a.Add(b).Mul(0.5) }

// Split returns the facet a b c cut from the middle of a b.
func Split(a, b, c r3.Vector) []r3.Vector {
	m := Middle(a, b)
	return []r3.Vector{a, m, c, m, b, c}
}
