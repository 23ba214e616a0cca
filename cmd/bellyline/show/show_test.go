package show

import (
	"math"
	"strings"
	"testing"
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
