package units

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// 7/8 cup are 3/4 cup and 2 tbsp (16 tbsp to the cup), or 14 tbsp.
func TestMeasuredWithWhatTheShopHas(t *testing.T) {
	for _, c := range []struct {
		with Measures
		in   Amount
		want string
	}{
		{Measures{}, Amount{ByVolume, float64(7 * Cup / 8)}, "3/4 + 1/8 cup"},
		{Measures{Cup: Cup / 4}, Amount{ByVolume, float64(7 * Cup / 8)}, "3/4 cup + 2 tbsp"},
		{Measures{Cup: Cup}, Amount{ByVolume, float64(7 * Cup / 8)}, "14 tbsp"},
		{Measures{Spoon: Tsp / 2}, Amount{ByVolume, float64(Tsp * 7 / 8)}, "1 tsp"},
		{Measures{Spoon: Tsp}, Amount{ByVolume, float64(Tsp / 8)}, "1 tsp"},
		{Measures{Scale: 1}, Amount{ByMass, 3.4}, "3 g"},
		{Measures{Scale: 1}, Amount{ByMass, 0.2}, "1 g"},
		{Measures{Scale: 5}, Amount{ByMass, 13}, "15 g"},
		{Measures{Scale: 0.01}, Amount{ByMass, 3.456}, "3.46 g"},
		{Measures{Scale: 0.5}, Amount{ByMass, 3.3}, "3.5 g"},
		{Measures{Scale: 1}, Amount{ByDrops, 6.4}, "6 drops"},
		{Measures{Scale: 1}, Amount{ByPercent, 6.4}, "6.4 %"},
	} {
		if got := c.with.Text(c.with.Measured(c.in)); got != c.want {
			t.Errorf("%v: %#v is measured as %q, want %q", c.with, c.in, got, c.want)
		}
	}
	if got := (Measures{Cup: Cup / 4, Spoon: Tsp / 4, Scale: 1}).String(); got != "1/4 cup, 1/4 tsp and 1 g" {
		t.Error(got)
	}
}

// Cups go up and down to marks, never by a whole step, whatever the set.
func TestCupsOfAnySet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Measures{Cup: Cup / Volume(rapid.SampledFrom([]int{1, 2, 4, 8}).Draw(t, "fraction"))}
		v := Volume(rapid.Float64Range(0, 1e5).Draw(t, "mL"))
		up, down, slack := m.CeilCups(v), m.FloorCups(v), m.Cup*1.1e-6
		if up < v-slack || up >= v+m.Cup || down > v+slack || down <= v-m.Cup {
			t.Fatalf("%v lies not between %v and %v", v, down, up)
		}
		if marks := float64(up / m.Cup); math.Abs(marks-math.Round(marks)) > 1e-9*math.Max(1, marks) {
			t.Fatalf("%v cups are no marks", marks)
		}
	})
}

func TestMeasuresThatNobodyHas(t *testing.T) {
	for _, m := range []Measures{{Scale: -1}, {Scale: Mass(math.NaN())}, {Scale: 1000}, {Scale: 1e-6}, {Spoon: Tsp / 3}, {Spoon: Cup}, {Cup: -Cup}, {Cup: Tsp}, {Cup: Volume(math.Inf(1))}, {Cup: Volume(math.NaN())}} {
		if m.Sound() {
			t.Errorf("%#v", m)
		}
	}
	if !(Measures{}).Sound() || !(Measures{Scale: 1, Spoon: Tsp / 4, Cup: Cup / 2}).Sound() {
		t.Error("a common set is refused")
	}
}
