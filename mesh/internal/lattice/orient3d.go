package lattice

import (
	"math"
	"math/big"

	"bellyline/mesh"
	"bellyline/mesh/exact"

	"github.com/golang/geo/r3"
)

// Corners are three corners of a facet on the lattice.
type Corners [3]r3.Vector

// Box returns the box around the corners: without a branch, which for three takes a
// third of the time of mesh.BoxOf.
func (t *Corners) Box() mesh.Box {
	return mesh.Box{
		Min: r3.Vector{X: min(t[0].X, t[1].X, t[2].X), Y: min(t[0].Y, t[1].Y, t[2].Y), Z: min(t[0].Z, t[1].Z, t[2].Z)},
		Max: r3.Vector{X: max(t[0].X, t[1].X, t[2].X), Y: max(t[0].Y, t[1].Y, t[2].Y), Z: max(t[0].Z, t[1].Z, t[2].Z)},
	}
}

// height returns (q-p)x(r-p).(x-p), which is positive on the outer side of the
// facet p, q, r: the distance of x from its plane times twice its area.
//
// The differences are exact (see lattice). The nine products, the sums behind
// them and the bound itself err by less than 8 units of the sum of the absolute
// products (Shewchuk 1997, Adaptive Precision Floating-Point Arithmetic and Fast
// Robust Geometric Predicates, orient3d, has 7 with rounded differences; from
// memory).
func (t *Corners) height(x r3.Vector) Approx {
	a, b, c := t[1].Sub(t[0]), t[2].Sub(t[0]), x.Sub(t[0])
	yz, zy := a.Y*b.Z, a.Z*b.Y
	zx, xz := a.Z*b.X, a.X*b.Z
	xy, yx := a.X*b.Y, a.Y*b.X
	v := c.X*(yz-zy) + c.Y*(zx-xz) + c.Z*(xy-yx)
	size := math.Abs(c.X)*(math.Abs(yz)+math.Abs(zy)) +
		math.Abs(c.Y)*(math.Abs(zx)+math.Abs(xz)) +
		math.Abs(c.Z)*(math.Abs(xy)+math.Abs(yx))
	return Approx{v, 8 * exact.Roundoff * size}
}

// Side returns the sign of height, exactly.
func (t *Corners) Side(x r3.Vector) int {
	h := t.height(x)
	if s := h.Sign(); s != 0 || h.E == 0 {
		return s
	}
	return t.SharpHeight(x).Sign()
}

// SharpHeight returns height to about the last bit, and its sign exactly: an error
// that reaches zero means zero. Products of two differences are exact in
// double-double; the rest errs by less than 2^-98 of the sum of absolute products
// (each of 8 operations by less than 2^-102).
func (t *Corners) SharpHeight(x r3.Vector) Approx {
	a, b, c := t[1].Sub(t[0]), t[2].Sub(t[0]), x.Sub(t[0])
	cross := func(p, q, r, s float64) exact.Double {
		return exact.MultiplyExactly(p, q).Minus(exact.MultiplyExactly(r, s))
	}
	sum := cross(a.Y, b.Z, a.Z, b.Y).Times(c.X).
		Plus(cross(a.Z, b.X, a.X, b.Z).Times(c.Y)).
		Plus(cross(a.X, b.Y, a.Y, b.X).Times(c.Z))
	v := sum.Value()
	size := t.height(x).E / (8 * exact.Roundoff)
	if e := 0x1p-98 * size; math.Abs(v)*0x1p-40 > e {
		return Approx{v, math.Abs(v)*exact.Roundoff*2 + e}
	}
	return Rounded(t.ExactHeight(x))
}

// ExactHeight returns height as a whole number.
func (t *Corners) ExactHeight(x r3.Vector) *big.Int {
	a, b, c := bigVector(t[1].Sub(t[0])), bigVector(t[2].Sub(t[0])), bigVector(x.Sub(t[0]))
	sum := new(big.Int)
	for i := range 3 {
		j, k := (i+1)%3, (i+2)%3
		sum.Add(sum, new(big.Int).Mul(c[i], BigDeterminant(a[j], b[k], a[k], b[j])))
	}
	return sum
}

func bigVector(v r3.Vector) [3]*big.Int {
	return [3]*big.Int{big.NewInt(int64(v.X)), big.NewInt(int64(v.Y)), big.NewInt(int64(v.Z))}
}

// BigDeterminant returns p*q - r*s.
func BigDeterminant(p, q, r, s *big.Int) *big.Int {
	d := new(big.Int).Mul(p, q)
	return d.Sub(d, new(big.Int).Mul(r, s))
}

// Rounded returns a whole number as the nearest float64, with what that loses.
func Rounded(n *big.Int) Approx {
	v, _ := new(big.Float).SetInt(n).Float64()
	return Approx{v, math.Abs(v) * exact.Roundoff}
}
