// Package near is for tests: it holds a number against the one wanted, and makes
// numbers that are a few last places off.
package near

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
)

// Number fails unless got is within a relative tolerance of want.
func Number(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s: %.12g, want %.12g", what, got, want)
	}
}

// Vector does the same for vectors, relative to the length of the one wanted.
func Vector(t *testing.T, what string, got, want r3.Vector, tolerance float64) {
	t.Helper()
	if d := got.Distance(want); !(d <= tolerance*want.Norm()) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// Nudge moves a number by a few units in its last place.
func Nudge(f float64, steps int) float64 {
	for ; steps > 0; steps-- {
		f = math.Nextafter(f, math.Inf(1))
	}
	for ; steps < 0; steps++ {
		f = math.Nextafter(f, math.Inf(-1))
	}
	return f
}
