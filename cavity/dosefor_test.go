package cavity

import (
	"errors"
	"math"
	"testing"

	"bellyline/cavity/units"
)

// Salt of 2.165 g/mL to a cup of plastisol of 1.02 g/mL for wanted densities: by the
// volume fraction phi = (rt-rb)/(rs-rb) and phi/(1-phi) V rs, worked out elsewhere to
// a milligram.
func TestSaltForADensity(t *testing.T) {
	p := Plastisol{Name: "soft", DensityGML: 1.02, Room: 21, Pour: 171, Ceiling: 190}
	salt := Additive{Name: "salt", LooseGML: 1.217, TrueGML: 2.165, When: BeforeHeating}
	for density, want := range map[float64]float64{1.05: 13.782, 1.10: 38.476, 1.15: 65.604, 1.20: 95.542, 1.25: 128.753} {
		got, err := Mix{Plastisol: p}.GramsForDensity(salt, density)
		if err != nil || math.Abs(got-want) > 0.0006 {
			t.Errorf("%g g/mL takes %.4f g (%v), want %.3f", density, got, err, want)
		}
		mixed, err := Mix{Plastisol: p, Doses: []Dose{{Additive: salt, PerCup: units.Amount{Kind: units.ByMass, Value: got}}}}.Blend()
		if err != nil || math.Abs(mixed.ColdDensity-density) > 1e-12 {
			t.Errorf("%g g to a cup make %.15g g/mL (%v), want %g", got, mixed.ColdDensity, err, density)
		}
	}
	for _, density := range []float64{1.0, 2.165, 2.2, math.NaN()} {
		if got, err := (Mix{Plastisol: p}).GramsForDensity(salt, density); !errors.Is(err, ErrMix) {
			t.Errorf("%g g/mL takes %g g: %v", density, got, err)
		}
	}
}
