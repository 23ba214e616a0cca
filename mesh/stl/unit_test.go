package stl

import (
	"math"
	"testing"
)

func nan() float64 { return math.NaN() }
func inf() float64 { return math.Inf(1) }

func TestParseUnit(t *testing.T) {
	// The inch is 25.4 mm exactly (international yard and pound agreement, 1959).
	for s, want := range map[string]float64{"mm": 1, "cm": 10, "in": 25.4, "inch": 25.4, "m": 1000, "MM": 1, "In": 25.4} {
		got, err := ParseUnit(s)
		if err != nil || float64(got) != want {
			t.Errorf("ParseUnit(%q) = %v, %v, want %v mm", s, float64(got), err, want)
		}
		if again, err := ParseUnit(got.String()); err != nil || again != got {
			t.Errorf("the unit %v calls itself %q", float64(got), got)
		}
	}
	_, err := ParseUnit("ft")
	if want := `unit "ft" is not known; use mm, cm, in or m`; err == nil || err.Error() != want {
		t.Errorf("got  %v\nwant %s", err, want)
	}
	if got := Unit(2.5).String(); got != "2.5 mm" {
		t.Errorf("a unit without a name calls itself %q", got)
	}
}
