package mesh

import (
	"math"

	"bellyline/mesh/internal/exact"
)

// approx is a number that is known to within an error: |true value - v| <= e.
// Products and sums carry the error along, with what their own rounding adds, so
// that a sign is known whenever |v| > e. Nothing here comes near the ends of the
// float64 range: lattice coordinates are whole numbers below 2^53, and the longest
// product is of twelve of them.
type approx struct {
	v, e float64
}

// grown makes up for the rounding of the error itself, a few operations each time.
const grown = 1 + 0x1p-48

func (a approx) times(b approx) approx {
	v := a.v * b.v
	return approx{v, (math.Abs(a.v)*b.e + math.Abs(b.v)*a.e + a.e*b.e + math.Abs(v)*exact.Roundoff) * grown}
}

func (a approx) minus(b approx) approx {
	v := a.v - b.v
	return approx{v, (a.e + b.e + math.Abs(v)*exact.Roundoff) * grown}
}

// sign returns -1 or +1, or 0 when it is not known.
func (a approx) sign() int {
	switch {
	case a.v > a.e:
		return 1
	case a.v < -a.e:
		return -1
	}
	return 0
}
