package cavity

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
)

// openUp opens a body with its back up and its nose along x.
func openUp(t *testing.T, corners []r3.Vector) *Cavity {
	t.Helper()
	c, err := Open(t.Context(), written(t, corners), Options{}, r3.Vector{Z: 1}, r3.Vector{X: 1})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// A box of 80 x 12 x 10 with its nose up: 120 mm2 wherever it is cut.
func TestUpwardTurnsHeights(t *testing.T) {
	nose, err := openUp(t, boxCorners(80, 12, 10)).Upward(r3.Vector{X: 1})
	if err != nil {
		t.Fatal(err)
	}
	s, err := nose.Section(t.Context(), 20)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(s.BelowMM3-20*120) > 1e-9 || math.Abs(s.AreaMM2-120) > 1e-9 {
		t.Errorf("%g mm3 behind, %g mm2 joined; want 2400 and 120", s.BelowMM3, s.AreaMM2)
	}
	if _, err := nose.Upward(r3.Vector{}); err == nil {
		t.Error("no direction is taken for one")
	}
}
