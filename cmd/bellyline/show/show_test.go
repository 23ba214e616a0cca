package show

import (
	"math"
	"strings"
	"testing"

	"bellyline/laminate"
)

func TestTableLinesUpColumns(t *testing.T) {
	var p Page
	p.Table([][]string{{"", "draw", "", "mark"}, {"BELLY", "1 mL", "left"}, {"BACK", "100 mL", "right", "2 mm"}})
	want := "         draw           mark\n" +
		"  BELLY  1 mL    left\n" +
		"  BACK   100 mL  right  2 mm\n"
	if p.String() != want {
		t.Errorf("\n%swant\n%s", p.String(), want)
	}
}

func TestWrappedHangsBehindItsMark(t *testing.T) {
	var p Page
	p.Wrapped("  ! ", strings.Repeat("word ", 40))
	lines := strings.Split(strings.TrimSuffix(p.String(), "\n"), "\n")
	for i, line := range lines {
		mark := map[bool]string{true: "  ! word", false: "    word"}[i == 0]
		if len(line) > 88 || !strings.HasPrefix(line, mark) {
			t.Errorf("%q", line)
		}
	}
	if words := strings.Count(p.String(), "word"); words != 40 || len(lines) != 3 { // 17 words of 5 in 84 columns
		t.Errorf("%d words in %d lines", words, len(lines))
	}
}

func TestSmallHasTwoDigitsAndNoPowers(t *testing.T) {
	for x, want := range map[float64]string{
		0: "0", 2.7e-11: "under 0.001", 0.00123: "0.0012", 0.0226: "0.023", 1: "1", 82.06: "82", 143.4: "140",
		866_654: "870000", -129.6: "-130", math.Inf(1): "+Inf",
	} {
		if got := small(x); got != want {
			t.Errorf("%g: %s, want %s", x, got, want)
		}
	}
}

func TestDirectionsHaveNames(t *testing.T) {
	for d, want := range map[[3]float64]string{
		{0, 0, 1}: "+z", {0, -1, 0}: "-y", {1, 0, 0}: "+x", {0.6, 0, 0.8}: "(0.600, 0.000, 0.800)",
	} {
		if got := direction(d); got != want {
			t.Errorf("%v: %s, want %s", d, got, want)
		}
	}
}

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
