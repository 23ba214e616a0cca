package water

import (
	"errors"
	"math"
	"testing"
)

func within(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if !(math.Abs(got-want) <= share*math.Abs(want)) {
		t.Errorf("%s: %.8g, want %.8g", what, got, want)
	}
}

// Check values of the equation of state (UNESCO 1983, Technical Papers in Marine
// Science 44, p. 19; from memory).
func TestDensityAgainstCheckValues(t *testing.T) {
	for _, c := range []struct{ salt, temp, want float64 }{
		{0, 5, 999.96675}, {0, 25, 997.04796}, {35, 5, 1027.67547}, {35, 25, 1023.34306},
	} {
		within(t, "density", Water{TempC: c.temp, SaltG: c.salt}.DensityKgM3(), c.want, 1e-8)
	}
}

// Fresh water at 20 C: 998.207 kg/m3 and 1.0016 mPa s (CRC Handbook); sea water at
// 20 C and 35 g/kg: 1.0769 mPa s to the half of a percent (Sharqawy's table; from
// memory).
func TestWaterAtTwentyDegrees(t *testing.T) {
	within(t, "density", Water{TempC: 20}.DensityKgM3(), 998.207, 1e-5)
	within(t, "viscosity", Water{TempC: 20}.ViscosityPaS(), 1.0016e-3, 1e-3)
	within(t, "sea water's viscosity", Water{TempC: 20, SaltG: 35}.ViscosityPaS(), 1.0769e-3, 5e-3)
}

// Brown and Lawler's curve and White's fit, figures worked out elsewhere from the
// published formulas to five digits.
func TestDragCurves(t *testing.T) {
	for re, want := range map[float64][2]float64{
		1: {27.60005, 11}, 10: {4.12751, 3.15443}, 100: {1.07314, 1.46416},
		200: {.79330, 1.29240}, 1000: {.46338, 1.1}, 1e4: {.41061, 1.02154},
	} {
		within(t, "sphere", sphereDrag(re), want[0], 2e-5)
		within(t, "cylinder", cylinderDrag(re), want[1], 2e-5)
	}
	// Morrison's curve at Re 200 has the published digits .767731559965325, Haider and
	// Levenspiel's .7959551680251666; curves of this kind agree to 5 %.
	for _, other := range []float64{.767731559965325, .7959551680251666} {
		within(t, "against another author", sphereDrag(200), other, 0.05)
	}
}

// Balls of 10 mm and cylinders of 12 mm in fresh water at 20 C by density: figures
// worked out elsewhere.
func TestFallSpeeds(t *testing.T) {
	const water, viscosity = 998.207, 1.0016e-3
	for solid, want := range map[float64]float64{1020: .075616, 1050: .123957, 1100: .179713, 1200: .258314} {
		const d = 0.01
		weight := (solid - water) * math.Pi / 6 * d * d * d * standardGravity
		within(t, "ball", fallSpeed(weight, math.Pi/4*d*d, water, viscosity, d, sphereDrag), want, 1e-4)
	}
	for solid, want := range map[float64]float64{1020: .059896, 1050: .093688, 1100: .132509} {
		const d = 0.012
		weight := (solid - water) * math.Pi / 4 * d * d * standardGravity // a metre of it
		within(t, "cylinder", fallSpeed(weight, d, water, viscosity, d, cylinderDrag), want, 1e-4)
	}
	// A grain of sand of 70 um: .0041425 m/s (a library's documented example, by another
	// author's curve; they agree to 5 %).
	const d = 70e-6
	within(t, "grain", fallSpeed((2600-1000)*math.Pi/6*d*d*d*standardGravity, math.Pi/4*d*d, 1000, 1e-3, d, sphereDrag), .0041425, 0.05)
}

// A 100 mm stick of 12 mm, a bait in the rough.
func stick(gml float64) Body {
	return Body{MassG: gml * 11.3, VolumeML: 11.3, LengthMM: 100, LevelMM2: 1200, UprightMM2: 113}
}

func TestWays(t *testing.T) {
	fresh, sea := Water{Name: "fresh", TempC: 20}, Water{Name: "salt", TempC: 20, SaltG: 35}
	for _, c := range []struct {
		gml  float64
		in   Water
		want Way
	}{{0.95, fresh, Floats}, {1.0, fresh, Hangs}, {1.02, fresh, Sinks}, {1.02, sea, Hangs}, {1.015, sea, Floats}, {1.1, sea, Sinks}} {
		f := c.in.Fall(stick(c.gml))
		if f.Way != c.want {
			t.Errorf("%g g/mL in %s water %s, want %s", c.gml, c.in.Name, f.Way, c.want)
		}
		if (f.Way == Hangs) != (f.LevelMMS == 0) {
			t.Errorf("it %s at %g mm/s", f.Way, f.LevelMMS)
		}
		if (f.PullG > 0) != (f.BaitGML > f.WaterGML) {
			t.Errorf("it pulls %g g", f.PullG)
		}
	}
}

// Level is slower than nose first, heavier is faster, and a bait that is as much
// lighter than water rises as fast as the heavier one sinks.
func TestFallOrder(t *testing.T) {
	w := Water{TempC: 20}
	last := 0.0
	for _, gml := range []float64{1.02, 1.05, 1.1, 1.2} {
		f := w.Fall(stick(gml))
		if !(f.LevelMMS > last && f.LevelMMS < f.NoseFromMMS && f.NoseFromMMS < f.NoseToMMS) {
			t.Errorf("%g g/mL: level %g, nose first %g to %g", gml, f.LevelMMS, f.NoseFromMMS, f.NoseToMMS)
		}
		last = f.LevelMMS
	}
	of := w.DensityKgM3() / 1000
	within(t, "rising as sinking", w.Fall(stick(of-0.05)).LevelMMS, w.Fall(stick(of+0.05)).LevelMMS, 1e-9)
}

func TestWaterRefuses(t *testing.T) {
	for _, w := range []Water{{TempC: -1}, {TempC: 41}, {SaltG: 50}, {SaltG: -1}, {TempC: math.NaN()}, {SaltG: math.NaN()}} {
		if err := w.Check(); !errors.Is(err, ErrWater) {
			t.Errorf("%+v is taken: %v", w, err)
		}
	}
	if err := (Water{TempC: 20, SaltG: 35}).Check(); err != nil {
		t.Error(err)
	}
}
