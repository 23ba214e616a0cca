package files

import (
	"errors"
	"fmt"

	"bellyline/cavity/units"
)

var measureKeys = []Key{
	{Name: "scale", Means: "step of the scale", Unit: aMass, Without: "0.1 g", Example: "0.1 g | 1 g"},
	{Name: "spoon", Means: "smallest spoon", Unit: "1/8 tsp, 1/4 tsp, 1/2 tsp, 1 tsp", Without: "1/8 tsp", Example: "1/8 tsp | 1/4 tsp"},
	{Name: "cup", Means: "smallest mark of the measuring cup", Unit: "1/8 cup, 1/4 cup, 1/2 cup, 1 cup", Without: "1/8 cup", Example: "1/8 cup | 1/4 cup"},
}

// readMeasures reads how finely a shop measures.
func readMeasures(s *section) units.Measures {
	sub := s.sectionOrEmpty("measures")
	return units.Measures{
		Scale: take(sub, "scale", scaleStep),
		Spoon: take(sub, "spoon", smallest("tsp", func(v units.Volume) units.Measures { return units.Measures{Spoon: v} })),
		Cup:   take(sub, "cup", smallest("cup", func(v units.Volume) units.Measures { return units.Measures{Cup: v} })),
	}
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
