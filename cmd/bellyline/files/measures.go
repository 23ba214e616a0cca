package files

import (
	"errors"
	"fmt"

	"bellyline/cavity/units"
)

// readMeasures reads how finely a shop measures; every key may be missing.
func readMeasures(s *section) units.Measures {
	var m units.Measures
	sub := s.section("measures", false)
	if sub == nil {
		return m
	}
	m.Scale = may(sub, "scale", 0, scaleStep)
	m.Spoon = may(sub, "spoon", 0, smallest("tsp", func(v units.Volume) units.Measures { return units.Measures{Spoon: v} }))
	m.Cup = may(sub, "cup", 0, smallest("cup", func(v units.Volume) units.Measures { return units.Measures{Cup: v} }))
	sub.done()
	return m
}

func scaleStep(t string) (units.Mass, error) {
	g, err := positive(units.ParseMass)(t)
	if err == nil && !(units.Measures{Scale: g}).Sound() {
		return 0, errors.New("a scale shows steps of 0.001 g to 100 g, like 0.1 g or 1 g")
	}
	return g, err
}

// smallest reads the smallest spoon or cup mark of a set.
func smallest(word string, with func(units.Volume) units.Measures) func(string) (units.Volume, error) {
	return func(t string) (units.Volume, error) {
		v, err := positive(units.ParseVolume)(t)
		if err == nil && !with(v).Sound() {
			return 0, fmt.Errorf("give 1/8 %[1]s, 1/4 %[1]s, 1/2 %[1]s or 1 %[1]s", word)
		}
		return v, err
	}
}
