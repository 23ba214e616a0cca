package units

import (
	"errors"
	"math"
	"testing"
)

func TestParseDuration(t *testing.T) {
	for text, want := range map[string]float64{
		"90 s": 90, "2 1/2 min": 150, "1 min + 30 s": 90, "2 h": 7200, "1/4 hour": 900, "20sec": 20, "0 s": 0,
	} {
		got, err := ParseDuration(text)
		if err != nil || math.Abs(got.S()-want) > 1e-12*want {
			t.Errorf("%q is %g s (%v), want %g", text, got.S(), err, want)
		}
	}
	for text, want := range map[string]error{"": ErrNoNumber, "5": ErrNoUnit, "5 mL": ErrUnknownUnit, "-3 s": ErrNegative, "2e9 s": ErrTooLarge} {
		if _, err := ParseDuration(text); !errors.Is(err, want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}
