package units

import (
	"math"
	"testing"
)

// Relations between US measures are exact: NIST SP 430 (household table: a
// gallon is 16 cups or 128 fluid ounces, a cup 48 teaspoons). Inch, pound and the gallon of
// 231 cubic inches: NIST SP 811 appendix B and Handbook 44 appendix C, from memory.
func TestUnitsAgainstPublishedValues(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"inch in mm", float64(Inch), 25.4},
		{"cubic inch in mL", float64(CubicInch), 2.54 * 2.54 * 2.54},
		{"gallon in mL", float64(Gallon), 3785.411784},
		{"quart in mL", float64(Quart), 3785.411784 / 4},
		{"pint in mL", float64(Pint), 3785.411784 / 8},
		{"cup in mL", float64(Cup), 236.5882365},
		{"fluid ounce in mL", float64(FluidOz), 29.5735295625},
		{"tablespoon in mL", float64(Tbsp), 14.78676478125},
		{"teaspoon in mL", float64(Tsp), 4.92892159375},
		{"quarter teaspoon in mL", float64(Tsp / 4), 1.2322303984375},
		{"fluid ounces in a cup", Cup.FluidOz(), 8},
		{"teaspoons in a cup", Cup.Tsp(), 48},
		{"tablespoons in a cup", float64(Cup / Tbsp), 16},
		{"cups in a gallon", Gallon.Cups(), 16},
		{"pound in g", float64(Pound), 453.59237},
		{"ounce in g", float64(Ounce), 28.349523125},
	} {
		if relative(c.got, c.want) > 1e-15 {
			t.Errorf("%s: %.17g, want %.17g", c.name, c.got, c.want)
		}
	}
}

// A US cup is not the 240 mL of food labels (21 CFR 101.9(b)(5)(viii)), which is
// 1.44 % more.
func TestCupIsNotTheLabelCup(t *testing.T) {
	if more := 240/Cup.ML() - 1; math.Abs(more-0.0144) > 0.00005 {
		t.Errorf("a label cup is %.4f more than ours, want 0.0144", more)
	}
}

// Worked by (F - 32) 5/9 on paper, to the digits shown.
func TestFahrenheit(t *testing.T) {
	for _, c := range []struct{ f, c float64 }{
		{300, 148.889}, {325, 162.778}, {340, 171.111}, {350, 176.667}, {375, 190.556}, {400, 204.444},
		{32, 0}, {212, 100}, {-40, -40}, {68, 20},
	} {
		if got := float64(FromF(c.f)); math.Abs(got-c.c) > 0.0005 {
			t.Errorf("%g F is %.4f C, want %.3f", c.f, got, c.c)
		}
		if got := Celsius(c.c).F(); math.Abs(got-c.f) > 0.001 {
			t.Errorf("%g C is %.4f F, want %g", c.c, got, c.f)
		}
	}
}

func relative(got, want float64) float64 {
	return math.Abs(got-want) / math.Max(math.Abs(want), math.SmallestNonzeroFloat64)
}
