package files

import "bellyline/cavity/units"

// readMeasures reads how finely a shop measures; every key may be missing.
func readMeasures(s *section) units.Measures {
	var m units.Measures
	sub := s.section("measures", false)
	if sub == nil {
		return m
	}
	m.Scale = may(sub, "scale", 0, scaleStep)
	sub.done()
	return m
}

func scaleStep(t string) (units.Mass, error) { return positive(units.ParseMass)(t) }
