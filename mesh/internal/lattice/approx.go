package lattice

import (
	"math"

	"bellyline/mesh/exact"
)

// Approx is a number that is known to within an error: |true value - v| <= e.
// Products and sums carry the error along, with what their own rounding adds, so
// that a sign is known whenever |v| > e. Nothing here comes near the ends of the
// float64 range: lattice coordinates are whole numbers below 2^53, and the longest
// product is of twelve of them.
type Approx struct {
	V, E float64
}

// grown makes up for the rounding of the error itself, a few operations each time.
const grown = 1 + 0x1p-48

// Times returns the product.
func (a Approx) Times(b Approx) Approx {
	v := a.V * b.V
	return Approx{v, (math.Abs(a.V)*b.E + math.Abs(b.V)*a.E + a.E*b.E + math.Abs(v)*exact.Roundoff) * grown}
}

// Minus returns the difference.
func (a Approx) Minus(b Approx) Approx {
	v := a.V - b.V
	return Approx{v, (a.E + b.E + math.Abs(v)*exact.Roundoff) * grown}
}

// Sign returns -1 or +1, or 0 when it is not known.
func (a Approx) Sign() int {
	switch {
	case a.V > a.E:
		return 1
	case a.V < -a.E:
		return -1
	}
	return 0
}
