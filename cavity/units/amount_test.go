package units

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestParseAmount(t *testing.T) {
	for _, c := range []struct {
		text string
		kind AmountKind
		want float64
	}{
		{"1/4 tsp", ByVolume, tspML / 4},
		{"1/4 + 1/8 tsp", ByVolume, tspML * 3 / 8},
		{"⅛ cup", ByVolume, cupML / 8},
		{"2 mL", ByVolume, 2},
		{"3 g", ByMass, 3},
		{"0.1 oz", ByMass, ozG / 10},
		{"6 drops", ByDrops, 6},
		{"1 Drop", ByDrops, 1},
		{"2 + 3 drops", ByDrops, 5},
		{"2 %", ByPercent, 2},
		{"2%", ByPercent, 2},
		{"½ percent", ByPercent, 0.5},
		{"100 %", ByPercent, 100},
		{"0 g", ByMass, 0},
	} {
		got, err := ParseAmount(c.text)
		if err != nil || got.Kind != c.kind || math.Abs(got.Value-c.want) > 1e-12*c.want {
			t.Errorf("%q is %#v (%v), want kind %d, %v", c.text, got, err, c.kind, c.want)
		}
	}
	for _, c := range []struct {
		text string
		want error
	}{
		{"", ErrNoNumber}, {"%", ErrNoNumber}, {"drops", ErrNoNumber}, {"gumdrops", ErrNoNumber}, {"inf %", ErrNoNumber},
		{"2", ErrNoUnit}, {"1 egg", ErrUnknownUnit}, {"3 mm", ErrUnknownUnit}, {"1 tsp + 2 eggs", ErrUnknownUnit}, {"1 egg + 2 tsp", ErrUnknownUnit},
		{"1 tsp + 2 g", ErrMixedKinds}, {"2 % + 1 drop", ErrMixedKinds},
		{"101 %", ErrPercent}, {"-2 %", ErrNegative}, {"-1 tsp", ErrNegative}, {"1/0 g", ErrBadNumber}, {"0x1p4 %", ErrUnknownUnit},
		{"2e9 g", ErrTooLarge}, {"2e9 mL", ErrTooLarge}, {"2e9 drops", ErrTooLarge},
	} {
		if _, err := ParseAmount(c.text); !errors.Is(err, c.want) {
			t.Errorf("%q: %v, want %q", c.text, err, c.want)
		}
	}
	_, err := ParseAmount("1 egg")
	if want := `amount "1 egg": unknown unit "egg"; write it like 1/4 tsp, 1/8 cup, 3 g, 6 drops or 2 %`; err == nil || err.Error() != want {
		t.Errorf("got  %v\nwant %s", err, want)
	}
}

func TestMeasuredAndPrinted(t *testing.T) {
	for _, c := range []struct {
		in             Amount
		printed, taken string
	}{
		{Amount{ByVolume, 3 * tspML / 8}, "1/4 + 1/8 tsp", "1/4 + 1/8 tsp"},
		{Amount{ByVolume, 0.01}, "under 1/16 tsp", "1/8 tsp"},
		{Amount{ByMass, 3.04}, "3 g", "3 g"},
		{Amount{ByMass, 3.06}, "3.1 g", "3.1 g"},
		{Amount{ByMass, 0.04}, "0.04 g", "0.1 g"}, // not "0 g"
		{Amount{ByDrops, 6.4}, "6.4 drops", "6 drops"},
		{Amount{ByDrops, 0.3}, "0.3 drops", "1 drop"},
		{Amount{ByPercent, 2.5}, "2.5 %", "2.5 %"},
		{Amount{ByMass, 0}, "0 g", "0 g"},
		{Amount{ByVolume, 0}, "0 tsp", "0 tsp"},
	} {
		if got := c.in.String(); got != c.printed {
			t.Errorf("%#v prints %q, want %q", c.in, got, c.printed)
		}
		if got := (Measures{}).Text((Measures{}).Measured(c.in)); got != c.taken {
			t.Errorf("%#v measured prints %q, want %q", c.in, got, c.taken)
		}
	}
}

// What is measured reads back as itself, is within half a step of what was
// wanted or the smallest step, and is nothing only where nothing was wanted.
func TestMeasuredReadsBack(t *testing.T) {
	steps := [...]float64{ByVolume: tspML / 8, ByMass: 0.1, ByDrops: 1}
	rapid.Check(t, func(t *rapid.T) {
		want := Amount{AmountKind(rapid.IntRange(0, 2).Draw(t, "kind")), rapid.Float64Range(0, 5000).Draw(t, "value")}
		taken := Measures{}.Measured(want)
		back, err := ParseAmount(taken.String())
		if err != nil || back.Kind != want.Kind || math.Abs(back.Value-taken.Value) > 1e-9*(1+taken.Value) {
			t.Fatalf("%#v measured is %q, which reads as %#v (%v)", want, taken, back, err)
		}
		step := steps[want.Kind]
		if (taken.Value == 0) != (want.Value == 0) || math.Abs(taken.Value-want.Value) > math.Max(step/2*(1+1e-9), step-want.Value) {
			t.Fatalf("%#v is measured as %#v", want, taken)
		}
	})
}

func TestAmountTimes(t *testing.T) {
	if got := (Amount{ByMass, 3}).Times(2.5); got != (Amount{ByMass, 7.5}) {
		t.Errorf("%#v", got)
	}
}

// The printed forms of the plain quantities show both systems.
func TestQuantityText(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Volume(62.4).String(), "62.4 mL (2.11 fl oz)"}, // 62.4 / 29.5735 = 2.110
		{Volume(1000).String(), "1000 mL (33.8 fl oz)"}, // 1000 / 29.5735 = 33.81
		{Mass(12.3).String(), "12.3 g (0.43 oz)"},       // 12.3 / 28.3495 = 0.434
		{Length(60).String(), "60.0 mm (2.36 in)"},      // 60 / 25.4 = 2.362
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}
