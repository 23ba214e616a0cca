package laminate

import (
	"errors"
	"testing"

	"bellyline/cavity"
	"bellyline/cavity/units"
)

// A bait poured with the dose that was found weighs what was wanted; one that no
// dose gives is refused.
func TestDoseForAWeight(t *testing.T) {
	j := paperJob(t)
	salt := j.Colours[1].Mix.Doses[0].Additive
	for _, want := range []float64{9.8, 10.5, 12} {
		d, err := j.DoseFor(t.Context(), salt, want)
		if err != nil {
			t.Fatal(err)
		}
		again := paperJob(t)
		for i := range again.Colours {
			again.Colours[i].Mix.Doses = []cavity.Dose{{Additive: salt, PerCup: units.Amount{Kind: units.ByMass, Value: d.PerCupG}}}
		}
		p, err := again.Pour(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		near(t, "weight", p.Bait.MassG, want)
	}
	for _, never := range []float64{5, 100} {
		if d, err := j.DoseFor(t.Context(), salt, never); !errors.Is(err, ErrJob) {
			t.Errorf("%g g: %+v, %v", never, d, err)
		}
	}
}
