package mesh

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
		var parts [3]sum
		exact, size := new(big.Rat), 0.0
		for i, x := range terms {
			// Most of what one term adds is taken away by the next but two.
			for _, y := range []float64{x, -x * (1 + 1e-9)} {
				parts[i%3] = parts[i%3].plus(y)
				exact.Add(exact, new(big.Rat).SetFloat64(y))
				size += math.Abs(y)
			}
		}
		got := parts[0].merge(parts[1]).merge(parts[2]).value()
		n := 2*len(terms) + 2
		bound := roundoff*math.Abs(float(exact)) + gamma(n-1)*gamma(n-1)*size
		if d := math.Abs(off(got, exact)); d > bound*(1+1e-9) {
			t.Fatalf("off by %g, bound %g", d, bound)
		}
	})
}

// A plain sum loses the small terms here altogether.
func TestSumOfLargeAndSmall(t *testing.T) {
	s := sum{}.plus(1)
	plain := 1.0
	for range 1000 {
		s, plain = s.plus(1e-17), plain+1e-17
	}
	if plain != 1 {
		t.Fatalf("the trap is not sprung: %.17g", plain)
	}
	if got := s.value(); math.Abs(got-(1+1e-14)) > roundoff*2 {
		t.Errorf("%.17g, want 1 + 1e-14", got)
	}
}
