package stream

import (
	"errors"
	"fmt"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
)

// Arrhenius' law with R = 8.314462618: viscosity at 165 C and at 155 C over that
// at 170 C, worked out apart from this program.
func TestArrhenius(t *testing.T) {
	for _, c := range []struct{ kJ, at165, at155 float64 }{
		{19, 1.06061, 1.19801}, {30, 1.09737, 1.33010}, {40, 1.13189, 1.46278}, {60, 1.20422, 1.76917}, {80, 1.28117, 2.13972}, {100, 1.36304, 2.58790},
	} {
		a := Activation{J: c.kJ * 1000, LowJ: c.kJ * 1000, HighJ: c.kJ * 1000}
		for _, at := range []struct{ c, want float64 }{{165, c.at165}, {155, c.at155}} {
			r, err := a.RatioAt(at.c, 170)
			if err != nil {
				t.Fatal(err)
			}
			absolute(t, fmt.Sprintf("%g kJ/mol at %g C", c.kJ, at.c), r.Back, at.want, 6e-6)
		}
	}
}

// Two emptying times in the ratio of viscosities give the activation energy back,
// and its band holds it.
func TestLadle(t *testing.T) {
	a := Activation{J: 40e3, LowJ: 40e3, HighJ: 40e3}
	r, err := a.RatioAt(155, 170)
	if err != nil {
		t.Fatal(err)
	}
	got, err := FromEmptying(Emptying{10, 170}, Emptying{10 * r.Back, 155})
	if err != nil {
		t.Fatal(err)
	}
	relative(t, "energy", got.J, 40e3, 1e-9)
	if !(got.LowJ < 40e3 && got.HighJ > 40e3) {
		t.Errorf("band %g to %g", got.LowJ, got.HighJ)
	}
}

func TestLadleRefusals(t *testing.T) {
	for _, c := range [][2]Emptying{
		{{10, 170}, {10, 171}}, {{.5, 170}, {10, 150}}, {{10, 150}, {12, 170}}, {{10, -400}, {5, 170}},
	} {
		if _, err := FromEmptying(c[0], c[1]); !errors.Is(err, ErrViscosity) {
			t.Errorf("%v: %v", c, err)
		}
	}
}

// Pushed by hand the flows go as one over viscosity and as the push.
func TestPushedFeed(t *testing.T) {
	for _, c := range []struct{ back, ratio, harder, want float64 }{
		{.5, 1, 1, .5}, {.5, 2, 1, 1. / 3}, {.5, 1, 2, 2. / 3}, {.25, 1. / 3, 1, .5},
	} {
		absolute(t, fmt.Sprint(c), PushedFeed(c.back, c.ratio, c.harder), c.want, 1e-12)
	}
}

func TestConditionsRefused(t *testing.T) {
	c := openBody(t, zAxis, xAxis, egg(12, 8))
	h := 100.0
	for name, cond := range map[string]Conditions{
		"no back":      {BackFeed: 0},
		"no belly":     {BackFeed: 1},
		"ratio":        {BackFeed: .5, Ratio: Ratio{-1, -1, -1}},
		"band":         {BackFeed: .5, Ratio: Ratio{2, 3, 4}},
		"stations":     {BackFeed: .5, Stations: -1},
		"line outside": {BackFeed: .5, DrawnMM: &h},
		"push":         {BackFeed: .5, Push: &Push{}},
		"runner":       {BackFeed: .5, Runner: []Duct{{Name: "runner", WidthMM: 8, LengthMM: -1}}},
	} {
		if _, err := Run(t.Context(), c, cond); !errors.Is(err, ErrConditions) && !errors.Is(err, ErrViscosity) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := Run(t.Context(), openBody(t, zAxis, zAxis, egg(12, 8)), Conditions{BackFeed: .5}); !errors.Is(err, cavity.ErrFrame) {
		t.Errorf("nose along the back: %v", err)
	}
}

// A nose that leans to the back gives what one square to it does.
func TestLeaningNose(t *testing.T) {
	var heights [2]float64
	for i, nose := range []r3.Vector{xAxis, xAxis.Add(zAxis)} {
		r, err := Run(t.Context(), openBody(t, zAxis, nose, egg(12, 8)), Conditions{BackFeed: .3, Stations: 4, LineOnly: true})
		if err != nil {
			t.Fatal(err)
		}
		heights[i] = *r.MeanMM
	}
	if heights[0] != heights[1] {
		t.Errorf("lands at %g and %g mm", heights[0], heights[1])
	}
}
