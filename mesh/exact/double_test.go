package exact

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// exactly returns x as a big.Float without rounding.
func (x Double) exactly() *big.Float {
	return new(big.Float).SetPrec(400).Add(big.NewFloat(x.Hi), big.NewFloat(x.Lo))
}

// checkBits fails when got is further from want than 2^-bits of scale.
func checkBits(t *rapid.T, op string, got Double, want *big.Float, scale float64, bits int) {
	t.Helper()
	gap := new(big.Float).SetPrec(400).Sub(got.exactly(), want)
	off, _ := gap.Float64()
	if math.Abs(off) > math.Ldexp(scale, -bits) {
		t.Fatalf("%s: off by %g at scale %g", op, off, scale)
	}
}

// The reference is math/big at 400 bits, which holds every sum and product here
// without rounding.
func TestDoubleDoubleAgainstBig(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// Nothing but 0 below 1e-60: what a product loses must stay a float64.
		number := rapid.Float64Range(-1e6, 1e6).Filter(func(x float64) bool { return x == 0 || math.Abs(x) > 1e-60 })
		a, b, c := number.Draw(t, "a"), number.Draw(t, "b"), number.Draw(t, "c")
		wide := func() *big.Float { return new(big.Float).SetPrec(400) }
		ab := wide().Mul(big.NewFloat(a), big.NewFloat(b))
		product := MultiplyExactly(a, b)
		checkBits(t, "exactProduct", product, ab, 0, 0)
		checkBits(t, "exactSum", AddExactly(a, b), wide().Add(big.NewFloat(a), big.NewFloat(b)), 0, 0)

		scale := math.Abs(a*b) + math.Abs(c)
		sum := product.PlusFloat(c)
		checkBits(t, "plusFloat", sum, wide().Add(product.exactly(), big.NewFloat(c)), scale, 102)
		other := MultiplyExactly(c, b)
		scale = math.Abs(a*b) + math.Abs(c*b)
		checkBits(t, "plus", product.Plus(other), wide().Add(product.exactly(), other.exactly()), scale, 102)
		checkBits(t, "minus", product.Minus(other), wide().Sub(product.exactly(), other.exactly()), scale, 102)
		checkBits(t, "times", product.Times(c), wide().Mul(product.exactly(), big.NewFloat(c)), math.Abs(a*b*c), 102)
	})
}
