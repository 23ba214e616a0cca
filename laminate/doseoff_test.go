package laminate

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"bellyline/cavity/units"
)

// Three heatings want 0.3, 0.25 and 0.0625 g of an additive of which the smallest spoon
// holds 0.25 g: -17 %, 0 and +300 %. Told is the last, and that three of the four are
// off (the first comes twice). Of 0.0625 g, 0.1 g on the scale, five are 0.3125, shown 0.3.
func TestTheWorstHeatingIsTold(t *testing.T) {
	cup := func(first, times int, text string, wanted float64) NumberedCup {
		m := units.Measures{}
		w := m.Weighing(wanted, doseWarning)
		return NumberedCup{First: first, Times: times, HeatingColour: HeatingColour{Name: "belly", Cups: 1, CupsText: text, Doses: []HeatingDose{{
			Additive: "pearl", Measure: "1/8 tsp", MassG: 0.25, WantedG: wanted, Off: 0.25/wanted - 1,
			WeighCount: w.Count, WeighG: w.TotalG,
		}}}}
	}
	got := DoseWarnings(units.Measures{}, []NumberedCup{cup(1, 2, "1 1/4 cups", 0.3), cup(3, 1, "1 cup", 0.25), cup(4, 1, "1/4 cup", 0.0625)})
	want := []string{"pearl in belly: 1/8 tsp for 1/4 cup is +300 % off the recipe, which wants 0.062 g (heating 4, the worst; more than 5 % off in 3 of its 4 heatings): your scale shows 0.1 g, so weigh 5 of them together, 0.3 g, and divide"}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	if got := DoseWarnings(units.Measures{}, []NumberedCup{cup(1, 3, "1 cup", 0.25)}); len(got) != 0 {
		t.Errorf("right to the spoon, and warned: %v", got)
	}
}
