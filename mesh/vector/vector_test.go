package vector

import (
	"math"
	"math/big"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

func TestFinite(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, bad := range []float64{nan, inf, -inf} {
		for axis := range 3 {
			xyz := [3]float64{1, -2, 3}
			xyz[axis] = bad
			if Finite(Of(xyz)) {
				t.Errorf("%v is finite", xyz)
			}
		}
	}
	if v := (r3.Vector{X: inf, Y: -inf}); Finite(v) {
		t.Error("infinities of two signs cancel")
	}
	// The components of the last one have no finite sum.
	for _, v := range []r3.Vector{{}, {X: 1, Y: -2, Z: 3}, {X: math.SmallestNonzeroFloat64}, {X: 1e308, Y: 1e308, Z: 1e308}} {
		if !Finite(v) {
			t.Errorf("%v is not finite", v)
		}
	}
}

// Directions that r3.Vector.Normalize loses: it squares components, which below 1e-162
// gives 0 and above 1e154 infinity.
func TestUnitOfTinyAndHugeVectors(t *testing.T) {
	for _, size := range []float64{math.SmallestNonzeroFloat64, 1e-320, 1e-300, 1e-170, 1, 1e160, 1e308} {
		got, ok := Unit(r3.Vector{X: -size})
		if want := (r3.Vector{X: -1}); !ok || got != want {
			t.Errorf("-%g along x: %v, %v", size, got, ok)
		}
	}
	// 3, 4, 12 has length 13.
	for _, size := range []float64{1e-300, 1e-170, 1e160, 1e307} {
		got, ok := Unit(r3.Vector{X: 3 * size, Y: 4 * size, Z: -12 * size})
		if want := (r3.Vector{X: 3.0 / 13, Y: 4.0 / 13, Z: -12.0 / 13}); !ok || got.Distance(want) > 4e-16 {
			t.Errorf("at %g: %v, %v", size, got, ok)
		}
	}
}

func TestNoDirection(t *testing.T) {
	for _, v := range []r3.Vector{{}, {X: math.Copysign(0, -1)}, {X: math.NaN()}, {Y: math.Inf(-1)}, {X: 1, Y: math.NaN(), Z: 2}, {X: 1, Z: math.Inf(1)}} {
		if got, ok := Unit(v); ok || got != (r3.Vector{}) {
			t.Errorf("%v has direction %v", v, got)
		}
	}
}

// Of any vector: length 1 and the same direction, against math/big at 200 bits. Six
// roundings and the root leave each component right to 4 units of 2^-53 or so.
func TestUnitAgainstBig(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		exponent := rapid.IntRange(-900, 900).Draw(t, "exponent")
		var xyz [3]float64
		for axis := range xyz {
			xyz[axis] = math.Ldexp(rapid.Float64Range(-1, 1).Draw(t, "component"), exponent)
		}
		v := Of(xyz)
		got, ok := Unit(v)
		if !ok {
			if v != (r3.Vector{}) {
				t.Fatalf("%v has no direction", v)
			}
			return
		}
		wide := func() *big.Float { return new(big.Float).SetPrec(200) }
		length := wide()
		for _, x := range xyz {
			length.Add(length, wide().Mul(big.NewFloat(x), big.NewFloat(x)))
		}
		length.Sqrt(length)
		for axis, x := range XYZ(got) {
			want, _ := wide().Quo(big.NewFloat(xyz[axis]), length).Float64()
			if math.Abs(x-want) > 8*0x1p-53 {
				t.Fatalf("%v: axis %d of its direction is %.17g, want %.17g", v, axis, x, want)
			}
		}
	})
}

// Components come out in order and go back in.
func TestXYZ(t *testing.T) {
	xyz := [3]float64{1, -2, 3}
	if got, want := Of(xyz), (r3.Vector{X: 1, Y: -2, Z: 3}); got != want || XYZ(got) != xyz {
		t.Errorf("%v became %v and %v", xyz, got, XYZ(got))
	}
}
