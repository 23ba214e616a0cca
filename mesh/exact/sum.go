package exact

// Roundoff is the unit roundoff of float64: half the step at 1. A correctly
// rounded operation is wrong by at most this share of its result.
const Roundoff = 1.0 / (1 << 53)

// Gamma bounds what n rounded operations in a row do to a result, as a share of
// it: n u / (1 - n u) (Higham, Accuracy and Stability of Numerical Algorithms,
// 2nd ed. 2002, lemma 3.1; from memory).
func Gamma(n int) float64 {
	nu := float64(n) * Roundoff
	return nu / (1 - nu)
}

// Sum is a running sum that keeps the rounding errors of its additions apart: the
// total is hi+lo. It is cheaper than a Double, which brings the two in order
// after each step, and enough for one pass over many terms. The zero value is an
// empty sum.
//
// The value of a sum of n terms x is wrong by at most
//
//	roundoff*|sum x| + gamma(n-1)^2 * sum |x|
//
// (Sum2 of Ogita, Rump and Oishi, Accurate sum and dot product, SIAM J. Sci.
// Comput. 26 (2005), proposition 4.5; from memory). That holds for merged sums
// too, n counting every term and every merge, because a merge is one more such
// addition.
type Sum struct{ Hi, lo float64 }

// Plus returns the sum with x added.
func (s Sum) Plus(x float64) Sum {
	e := AddExactly(s.Hi, x)
	return Sum{e.Hi, s.lo + e.Lo}
}

// Merge returns the sum of the terms of both.
func (s Sum) Merge(o Sum) Sum {
	s = s.Plus(o.Hi)
	s.lo += o.lo
	return s
}

// Value returns the total.
func (s Sum) Value() float64 { return s.Hi + s.lo }
