package units

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestParseShare(t *testing.T) {
	for _, c := range []struct {
		text string
		want float64
	}{
		{"0.4", 0.4}, {"40 %", 0.4}, {"40%", 0.4}, {"40/60", 0.4}, {" 40 / 60 ", 0.4}, {"33.3/66.7", 0.333}, {"33/67", 0.33},
		{"33.3/66.6", 1.0 / 3}, {"½", 0.5}, {"0", 0}, {"1", 1}, {"100 %", 1}, {"0/100", 0}, {"100/0", 1},
	} {
		if got, err := ParseShare(c.text); err != nil || math.Abs(got-c.want) > 1e-15 {
			t.Errorf("%q is %v (%v), want %v", c.text, got, err, c.want)
		}
	}
	for _, c := range []struct {
		text string
		want error
	}{
		{"", ErrNoNumber}, {"%", ErrNoNumber}, {"half", ErrNoNumber}, {"NaN", ErrNoNumber}, {"Inf/1", ErrNoNumber}, {"/", ErrNoNumber},
		{"40", ErrShare}, {"1.01", ErrShare}, {"101 %", ErrShare},
		{"1/2", ErrShareSum}, // a half, or one part to two?
		{"1/1", ErrShareSum}, {"0/0", ErrShareSum}, {"40/50", ErrShareSum},
		{"-0.4", ErrNegative}, {"-40/140", ErrNegative},
		{"40/60/0", ErrBadNumber}, {"40/60 %", ErrBadNumber}, {"40 cups", ErrBadNumber}, {"0,4", ErrBadNumber}, {"0x1p-2", ErrBadNumber},
		{"1e308/1e308", ErrTooLarge},
	} {
		if _, err := ParseShare(c.text); !errors.Is(err, c.want) {
			t.Errorf("%q: %v, want %q", c.text, err, c.want)
		}
	}
}

func TestShareText(t *testing.T) {
	for _, c := range []struct {
		share float64
		want  string
	}{
		{0.6, "60/40"}, {0.4, "40/60"}, {0.5, "50/50"}, {1.0 / 3, "33.3/66.7"}, {0.125, "12.5/87.5"}, {0, "0/100"}, {1, "100/0"},
		{0.29, "29/71"},       // 0.29 * 100 is not 29 in float64
		{0.0001, "0.1/99.9"},  // a thin colour is not no colour
		{0.99999, "99.9/0.1"}, // nor is it all
		{0.1225, "12.3/87.7"}, // both sides rounded alike would make 100.1
		{0.60004, "60/40"},    // to a tenth of a percent
		{0.99960001, "99.9/0.1"},
	} {
		if got := ShareText(c.share); got != c.want {
			t.Errorf("%v: %q, want %q", c.share, got, c.want)
		}
	}
}

// A printed share reads back to a tenth of a percent, and its two sides make 100.
func TestShareReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		share := rapid.Float64Range(0, 1).Draw(t, "share")
		text := ShareText(share)
		back, err := ParseShare(text)
		if err != nil || math.Abs(back-share) > 0.001 {
			t.Fatalf("%v prints %q, which reads as %v (%v)", share, text, back, err)
		}
		this, other, _ := strings.Cut(text, "/")
		a, errA := strconv.ParseFloat(this, 64)
		b, errB := strconv.ParseFloat(other, 64)
		if errA != nil || errB != nil || math.Abs(a+b-100) > 1e-9 {
			t.Fatalf("%v prints %q, which does not make 100", share, text)
		}
	})
}

func TestParseShares(t *testing.T) {
	for text, want := range map[string][]float64{
		"20/50/30": {0.2, 0.5, 0.3}, " 40 / 60 ": {0.4, 0.6}, "33.3/33.3/33.3": {1. / 3, 1. / 3, 1. / 3}, "10/20/30/40": {0.1, 0.2, 0.3, 0.4}, "12.5/87.5": {0.125, 0.875},
	} {
		got, err := ParseShares(text)
		if err != nil || len(got) != len(want) {
			t.Errorf("%q is %v (%v), want %v", text, got, err, want)
			continue
		}
		for i := range want {
			if math.Abs(got[i]-want[i]) > 1e-15 {
				t.Errorf("%q is %v, want %v", text, got, want)
			}
		}
	}
	for text, want := range map[string]string{
		"": `shares "": write one for each colour, like 20/50/30`, "0.4": `shares "0.4": write one for each colour, like 20/50/30`,
		"20/50":       `shares "20/50": they make 70, and must make 100`,
		"33/33/33":    `shares "33/33/33": they make 99, and must make 100`,
		"0/50/50":     `shares "0/50/50": every colour needs a share above nothing, not 0; write them like 20/50/30`,
		"50/50/":      `shares "50/50/": ` + ErrNoNumber.Error() + `; write them like 20/50/30`,
		"20/50/30 mm": `shares "20/50/30 mm": ` + ErrBadNumber.Error() + `; write them like 20/50/30`,
		"NaN/50/50":   `shares "NaN/50/50": ` + ErrNoNumber.Error() + `; write them like 20/50/30`,
		"-20/70/50":   `shares "-20/70/50": ` + ErrNegative.Error() + `; write them like 20/50/30`,
	} {
		if got, err := ParseShares(text); err == nil || err.Error() != want {
			t.Errorf("%q: %v, %v, want %s", text, got, err, want)
		}
	}
}
