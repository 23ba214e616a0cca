package mesh

import "math"

// doubleDouble is an unevaluated sum hi+lo of two float64 with |lo| at most half
// a unit in the last place of hi: about 106 bits.
//
// Error-free sums and products: Knuth (1969) and Dekker (1971), from memory;
// Hida, Li and Bailey (2001), "Library for double-double and quad-double
// arithmetic", from memory. One sum or product of two doubleDoubles is right to
// 2^-103 of the larger operand; nothing here is meant for values near the ends
// of the float64 range.
type doubleDouble struct {
	hi, lo float64
}

// exactSum returns a+b without error (Knuth's six additions: no order needed).
func exactSum(a, b float64) doubleDouble {
	s := a + b
	t := s - a
	return doubleDouble{s, (a - (s - t)) + (b - t)}
}

// exactProduct returns a*b without error, through one fused multiply-add.
func exactProduct(a, b float64) doubleDouble {
	p := float64(a * b)
	return doubleDouble{p, math.FMA(a, b, -p)}
}

// carry restores the order of hi and lo, |hi| >= |lo| being known (Dekker).
func carry(hi, lo float64) doubleDouble {
	s := hi + lo
	return doubleDouble{s, lo - (s - hi)}
}

// plus returns x+y.
func (x doubleDouble) plus(y doubleDouble) doubleDouble {
	s := exactSum(x.hi, y.hi)
	t := exactSum(x.lo, y.lo)
	s = carry(s.hi, s.lo+t.hi)
	return carry(s.hi, s.lo+t.lo)
}

// plusFloat returns x+a.
func (x doubleDouble) plusFloat(a float64) doubleDouble {
	s := exactSum(x.hi, a)
	return carry(s.hi, s.lo+x.lo)
}

// minus returns x-y.
func (x doubleDouble) minus(y doubleDouble) doubleDouble {
	return x.plus(doubleDouble{-y.hi, -y.lo})
}

// times returns x*a.
func (x doubleDouble) times(a float64) doubleDouble {
	p := exactProduct(x.hi, a)
	return carry(p.hi, math.FMA(x.lo, a, p.lo))
}

// value returns the nearest float64.
func (x doubleDouble) value() float64 { return x.hi + x.lo }
