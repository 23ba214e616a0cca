package exact

import "math"

// Double is an unevaluated sum hi+lo of two float64 with |lo| at most half
// a unit in the last place of hi: about 106 bits.
//
// Error-free sums and products: Knuth (1969) and Dekker (1971), from memory;
// Hida, Li and Bailey (2001), "Library for double-double and quad-double
// arithmetic", from memory. One sum or product of two doubleDoubles is right to
// 2^-103 of the larger operand; nothing here is meant for values near the ends
// of the float64 range.
type Double struct {
	Hi, Lo float64
}

// AddExactly returns a+b without error (Knuth's six additions: no order needed).
func AddExactly(a, b float64) Double {
	s := a + b
	t := s - a
	return Double{s, (a - (s - t)) + (b - t)}
}

// MultiplyExactly returns a*b without error, through one fused multiply-add.
func MultiplyExactly(a, b float64) Double {
	p := float64(a * b)
	return Double{p, math.FMA(a, b, -p)}
}

// carry restores the order of hi and lo, |hi| >= |lo| being known (Dekker).
func carry(hi, lo float64) Double {
	s := hi + lo
	return Double{s, lo - (s - hi)}
}

// Plus returns x+y.
func (x Double) Plus(y Double) Double {
	s := AddExactly(x.Hi, y.Hi)
	t := AddExactly(x.Lo, y.Lo)
	s = carry(s.Hi, s.Lo+t.Hi)
	return carry(s.Hi, s.Lo+t.Lo)
}

// PlusFloat returns x+a.
func (x Double) PlusFloat(a float64) Double {
	s := AddExactly(x.Hi, a)
	return carry(s.Hi, s.Lo+x.Lo)
}

// Minus returns x-y.
func (x Double) Minus(y Double) Double {
	return x.Plus(Double{-y.Hi, -y.Lo})
}

// Times returns x*a.
func (x Double) Times(a float64) Double {
	p := MultiplyExactly(x.Hi, a)
	return carry(p.Hi, math.FMA(x.Lo, a, p.Lo))
}

// Value returns the nearest float64.
func (x Double) Value() float64 { return x.Hi + x.Lo }
