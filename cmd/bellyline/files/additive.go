package files

import (
	"cmp"
	"fmt"
	"strings"

	"bellyline/cavity"
	"bellyline/cavity/units"
	"bellyline/cmd/bellyline/plain"
)

var additiveKeys = []Key{
	{Name: "true", Means: "density of the substance itself, from the maker's data sheet", Unit: aDensity, Must: true, Example: "2.165"},
	{Name: "loose", Means: "density as spooned: weigh a level 1/4 cup, divide the grams by 59.15", Unit: aDensity, Without: "no spoons or cups of it", Example: "1.217"},
	{Name: "when", Means: "when it is stirred in", Unit: "before heating, after heating", Must: true, Example: "before heating | after heating"},
	{Name: "drop", Means: "volume of one drop", Unit: aVolume, Without: "0.05 mL", Example: "0.05 mL"},
	{Name: "price", Means: "of a weight, or of a volume as spooned", Unit: "money / a weight or a volume", Example: "12.50 / lb | 60 / qt"},
}

// A loose fluff, a precious metal; a drop past which none falls.
const (
	lightestAdditive, heaviestAdditive = 0.01, 25
	largestDropML                      = 0.5
)

func readAdditive(name string, s *section) cavity.Additive {
	a := cavity.Additive{
		Name:     name,
		TrueGML:  take(s, "true", density(lightestAdditive, heaviestAdditive)),
		LooseGML: take(s, "loose", density(lightestAdditive, heaviestAdditive)),
		When:     take(s, "when", when),
		DropML:   take(s, "drop", positive(units.ParseVolume)).ML(),
	}
	if !s.sound("true", "loose") {
		return a
	}
	a.PricePerGram = take(s, "price", perGram(cmp.Or(a.LooseGML, a.TrueGML)))
	if a.LooseGML > a.TrueGML {
		s.fail("loose", "loose grains hold air, so loose cannot be more than true; were the two swapped?").Fix = Fix{Remove: true}
	}
	if a.DropML > largestDropML {
		s.fail("drop", "%.3g mL is no drop; one is near 0.05 mL", a.DropML).write("0.05 mL")
	}
	return a
}

// when reads "before heating" or "after heating"; the second word may go.
func when(t string) (cavity.When, error) {
	switch strings.ToLower(plain.Name(t)) {
	case "before", string(cavity.BeforeHeating):
		return cavity.BeforeHeating, nil
	case "after", string(cavity.AfterHeating):
		return cavity.AfterHeating, nil
	}
	return "", fmt.Errorf("%q is not one of: %s, %s", t, cavity.BeforeHeating, cavity.AfterHeating)
}
