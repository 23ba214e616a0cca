package main

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Weights of a uniform cubic B-spline are none below nought and sum to one; those
// of the slope sum to nought, and along evenly spaced controls the curve moves
// evenly (de Boor 1978, from memory).
func TestBSplineWeights(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.Float64Range(0, 1).Draw(t, "u")
		value, slope := bspline(u)
		var sum, slopes, place, speed float64
		for i := range value {
			if value[i] < 0 {
				t.Errorf("weight %d is %g", i, value[i])
			}
			sum += value[i]
			slopes += slope[i]
			place += value[i] * float64(i-1)
			speed += slope[i] * float64(i-1)
		}
		const tolerance = 1e-14 // a few roundings of numbers up to 2
		for _, d := range []float64{sum - 1, slopes, place - u, speed - 1} {
			if math.Abs(d) > tolerance {
				t.Errorf("weights %v, slopes %v at %g", value, slope, u)
			}
		}
	})
}

// Through rows of the same size the sweep is a straight bar, and it ends in points.
func TestStationsOfABar(t *testing.T) {
	rows := []row{{section{x: 0, power: 2}, 2}}
	for x := 1.0; x <= 6; x++ {
		rows = append(rows, row{section{x: x, half: 3, up: 2, down: 1, power: 2}, 4})
	}
	rows = append(rows, row{section{x: 7, power: 2}, 0})
	drawn := stations(rows)
	if want := 2 + 6*4 + 1; len(drawn) != want {
		t.Fatalf("%d stations, want %d", len(drawn), want)
	}
	for _, s := range drawn {
		if s.x < 2 || s.x > 5 {
			continue // an end row has a part in it
		}
		if math.Abs(s.half-3)+math.Abs(s.up-2)+math.Abs(s.down-1) > 1e-14 {
			t.Errorf("at x = %g the section is %+v", s.x, s.section)
		}
	}
	for _, s := range []station{drawn[0], drawn[len(drawn)-1]} {
		if math.Abs(s.half)+math.Abs(s.up)+math.Abs(s.down) > 1e-14 {
			t.Errorf("the end is %+v", s.section)
		}
	}
}

func TestSuperellipseCornersLieOnIt(t *testing.T) {
	const around = 24
	for _, power := range []float64{2, 2.2, 3} {
		for k := range around {
			a, b := superellipse(k, around, power)
			if r := math.Pow(math.Abs(a), power) + math.Pow(math.Abs(b), power); math.Abs(r-1) > 1e-14 {
				t.Errorf("power %g, corner %d: |a|^p + |b|^p = %g", power, k, r)
			}
			if up := k > 0 && k < around/2; up != (b > 0) {
				t.Errorf("power %g, corner %d rises to %g", power, k, b)
			}
		}
	}
}
