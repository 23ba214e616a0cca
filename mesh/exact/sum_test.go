package exact

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// The stated bound of a compensated sum, on terms that cancel by many digits; the
// reference is exact.
func TestSumKeepsItsBound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		terms := rapid.SliceOfN(rapid.Float64Range(-1e9, 1e9), 1, 200).Draw(t, "terms")
		var parts [3]Sum
		exact, size := new(big.Rat), 0.0
		for i, x := range terms {
			// Most of what one term adds is taken away by the next but two.
			for _, y := range []float64{x, -x * (1 + 1e-9)} {
				parts[i%3] = parts[i%3].Plus(y)
				exact.Add(exact, new(big.Rat).SetFloat64(y))
				size += math.Abs(y)
			}
		}
		got := parts[0].Merge(parts[1]).Merge(parts[2]).Value()
		n := 2*len(terms) + 2
		value, _ := exact.Float64()
		bound := Roundoff*math.Abs(value) + Gamma(n-1)*Gamma(n-1)*size
		off, _ := new(big.Rat).Sub(new(big.Rat).SetFloat64(got), exact).Float64()
		if d := math.Abs(off); d > bound*(1+1e-9) {
			t.Fatalf("off by %g, bound %g", d, bound)
		}
	})
}

// A plain sum loses the small terms here altogether.
func TestSumOfLargeAndSmall(t *testing.T) {
	s := Sum{}.Plus(1)
	plain := 1.0
	for range 1000 {
		s, plain = s.Plus(1e-17), plain+1e-17
	}
	if plain != 1 {
		t.Fatalf("the trap is not sprung: %.17g", plain)
	}
	if got := s.Value(); math.Abs(got-(1+1e-14)) > Roundoff*2 {
		t.Errorf("%.17g, want 1 + 1e-14", got)
	}
}
