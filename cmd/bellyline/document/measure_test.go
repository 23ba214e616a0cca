package document

import (
	"strings"
	"testing"

	"bellyline/laminate"
)

// heatings makes heatings that differ by their cups, one for each letter.
func heatings(cups string) []laminate.Heating {
	var list []laminate.Heating
	for _, c := range cups {
		if n := len(list); n > 0 && list[n-1].Colours[0].Cups == float64(c) {
			list[n-1].Times++
			continue
		}
		list = append(list, laminate.Heating{Times: 1, Shots: 5, Colours: []laminate.HeatingColour{{Cups: float64(c)}}})
	}
	return list
}

func TestHeatingsOfTheSameCupsStandTogether(t *testing.T) {
	for cups, want := range map[string]string{
		"a":               "Heating 1",
		"aa":              "Heatings 1 and 2, each",
		"aaab":            "Heatings 1 to 3, each; Heating 4",
		"abba":            "Heatings 1, 4, each; Heatings 2 and 3, each",
		"abababab":        "Heatings 1, 3, 5, 7, each; Heatings 2, 4, 6, 8, each",
		"ababababaaaabca": "Heatings 1, 3, 5, 7 and so on, 9 in all, each; Heatings 2, 4, 6, 8 and so on, 5 in all, each; Heating 14",
	} {
		var names []string
		for _, g := range (&laminate.Pour{Heatings: heatings(cups)}).HeatingGroups() {
			names = append(names, HeatingsName(g))
		}
		if got := strings.Join(names, "; "); got != want {
			t.Errorf("%s: %s, want %s", cups, got, want)
		}
	}
}
