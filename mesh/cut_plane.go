package mesh

import (
	"errors"
	"fmt"
	"math"
	"math/big"

	"bellyline/mesh/exact"
	"bellyline/mesh/vector"

	"github.com/golang/geo/r3"
)

// ErrPlane is wrapped when a plane has no direction or is not finite.
var ErrPlane = errors.New("not a plane")

// Plane is the set of points p with Normal·p = HeightMM.
//
// Normal need not be of length 1: the plane is the one that the stored float64
// values describe, and HeightMM is a distance in millimetres only when Normal
// has length 1. "Below" is where Normal·p < HeightMM.
type Plane struct {
	Normal   r3.Vector
	HeightMM float64
}

// Side returns -1 below p, +1 above it and 0 on it. The answer is exact for
// the float64 values stored. v must be finite and p valid.
func (p Plane) Side(v r3.Vector) int {
	switch d := p.offset(v); {
	case d > 0:
		return 1
	case d < 0:
		return -1
	}
	return 0
}

// Flip returns the same set of points with above and below exchanged.
func (p Plane) Flip() Plane {
	return Plane{Normal: p.Normal.Mul(-1), HeightMM: -p.HeightMM}
}

func (p Plane) check() error {
	n := p.Normal
	largest := max(math.Abs(n.X), math.Abs(n.Y), math.Abs(n.Z))
	switch {
	case !vector.Finite(n) || math.IsNaN(p.HeightMM) || math.IsInf(p.HeightMM, 0):
		return fmt.Errorf("%w: normal (%g, %g, %g), height %g", ErrPlane, n.X, n.Y, n.Z, p.HeightMM)
	case largest == 0:
		return fmt.Errorf("%w: its normal is zero", ErrPlane)
	case largest < minNormal || largest > 1/minNormal:
		return fmt.Errorf("%w: normal (%g, %g, %g) is too short or too long", ErrPlane, n.X, n.Y, n.Z)
	}
	return nil
}

// minNormal keeps squares and cubes of a normal, times coordinates up to 1e30,
// well inside the range of float64.
const minNormal = 1e-60

// offset returns Normal·v - HeightMM with the exact sign, zero included, and a
// relative error near one rounding.
//
// For a plane across an axis one subtraction does: IEEE 754 rounds it right,
// gradual underflow included. Otherwise the sum is taken in twice the working
// precision (Ogita, Rump and Oishi 2005, Dot2; from memory), and only where
// that cannot tell the sign in exact arithmetic.
func (p Plane) offset(v r3.Vector) float64 {
	switch p.Normal {
	case r3.Vector{X: 1}:
		return v.X - p.HeightMM
	case r3.Vector{Y: 1}:
		return v.Y - p.HeightMM
	case r3.Vector{Z: 1}:
		return v.Z - p.HeightMM
	case r3.Vector{X: -1}:
		return -v.X - p.HeightMM
	case r3.Vector{Y: -1}:
		return -v.Y - p.HeightMM
	case r3.Vector{Z: -1}:
		return -v.Z - p.HeightMM
	}
	d, bound := p.offsetTwice(v)
	if d > bound || d < -bound {
		return d
	}
	return p.offsetExact(v)
}

// offsetTwice returns Normal·v - HeightMM computed in twice the working
// precision, and a bound: a result beyond it has the right sign.
//
// With u = 2^-53 and four terms whose absolute values sum to S, the result r of
// Dot2 for the exact value s obeys |r-s| <= u|s| + g², g² = (4u/(1-4u))² S <
// 17u² S. If s <= 0 < r then r <= |r-s| - |s| <= g², so r > g² proves s > 0.
// The bound below is 32u² times a computed S, which is off by no more than a
// few u. The constant term covers what underflow of the products' error
// terms can lose (below 2^-1070 each).
func (p Plane) offsetTwice(v r3.Vector) (d, bound float64) {
	const uu = 0x1p-106
	px, py, pz := float64(p.Normal.X*v.X), float64(p.Normal.Y*v.Y), float64(p.Normal.Z*v.Z)
	ex := math.FMA(p.Normal.X, v.X, -px)
	ey := math.FMA(p.Normal.Y, v.Y, -py)
	ez := math.FMA(p.Normal.Z, v.Z, -pz)
	a := exact.AddExactly(px, py)
	b := exact.AddExactly(a.Hi, pz)
	c := exact.AddExactly(b.Hi, -p.HeightMM)
	size := math.Abs(px) + math.Abs(py) + math.Abs(pz) + math.Abs(p.HeightMM)
	return c.Hi + (ex + ey + ez + a.Lo + b.Lo + c.Lo), 32*uu*size + 0x1p-1060
}

// offsetExact is offset by exact arithmetic: slow, and right also where
// float64 would underflow or overflow.
func (p Plane) offsetExact(v r3.Vector) float64 {
	n := r3.PreciseVectorFromVector(p.Normal)
	dot := n.Dot(r3.PreciseVectorFromVector(v))
	exact := dot.Sub(dot, new(big.Float).SetFloat64(p.HeightMM))
	d, _ := exact.Float64()
	switch sign := exact.Sign(); {
	case d == 0 && sign != 0: // under the smallest float64
		return math.Copysign(math.SmallestNonzeroFloat64, float64(sign))
	case math.IsInf(d, 0):
		return math.Copysign(math.MaxFloat64, float64(sign))
	}
	return d
}
