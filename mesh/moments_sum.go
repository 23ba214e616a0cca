package mesh

// roundoff is the unit roundoff of float64: half the step at 1. A correctly
// rounded operation is wrong by at most this share of its result.
const roundoff = 1.0 / (1 << 53)

// gamma bounds what n rounded operations in a row do to a result, as a share of
// it: n u / (1 - n u) (Higham, Accuracy and Stability of Numerical Algorithms,
// 2nd ed. 2002, lemma 3.1; from memory).
func gamma(n int) float64 {
	nu := float64(n) * roundoff
	return nu / (1 - nu)
}

// sum is a running sum that keeps the rounding errors of its additions apart: the
// total is hi+lo. It is cheaper than a doubleDouble, which brings the two in order
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
type sum struct{ hi, lo float64 }

// plus returns the sum with x added.
func (s sum) plus(x float64) sum {
	e := exactSum(s.hi, x)
	return sum{e.hi, s.lo + e.lo}
}

// merge returns the sum of the terms of both.
func (s sum) merge(o sum) sum {
	s = s.plus(o.hi)
	s.lo += o.lo
	return s
}

// value returns the total.
func (s sum) value() float64 { return s.hi + s.lo }
