package cavity

import (
	"fmt"

	"bellyline/cavity/units"
)

// GramsForDensity returns how many grams of an additive more go to one cup of
// plastisol for the set mix to have a density in g/mL: what is stirred in adds its
// true volume, so (M + g)/(C + g/true) is that density, where M and C are mass and
// cold volume of the mix as it is. Its errors wrap ErrMix.
func (m Mix) GramsForDensity(a Additive, densityGML float64) (float64, error) {
	if err := a.check(); err != nil {
		return 0, err
	}
	b, err := m.Blend()
	if err != nil {
		return 0, err
	}
	grams := (densityGML*b.ColdML - b.MassG) / (1 - densityGML/a.TrueGML)
	if !(grams >= 0 && grams <= b.ColdML*a.TrueGML) {
		return 0, fmt.Errorf("%w: %q of %.4g g/mL, stirred into a mix of %.4g g/mL, cannot make %.4g g/mL without being more than half of it", ErrMix, a.Name, a.TrueGML, b.ColdDensity, densityGML)
	}
	return grams * units.Cup.ML(), nil
}
