package layout

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Whatever the sizes: a block from stock has a bar's width one way and its thickness in
// each half, is no smaller than what the layout takes, and is no longer for its width
// than told where a row more or less would mend it.
func TestBlocksComeFromStock(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := stub(rapid.Float64Range(5, 250).Draw(t, "length"), rapid.Float64Range(1, 40).Draw(t, "left"), rapid.Float64Range(1, 40).Draw(t, "right"), 6, 6)
		p := DefaultPractice()
		p.Stock.LongestMM = rapid.Float64Range(100, 600).Draw(t, "longest")
		p.LongPerOne = rapid.Float64Range(1, 4).Draw(t, "long per one")
		n := rapid.IntRange(1, 20).Draw(t, "cavities")
		l, err := NewPlan(b, p, n)
		if err != nil {
			return
		}
		for axis := range 3 {
			if l.BlockMM[axis] < l.NeedMM[axis]-1e-9 {
				t.Errorf("a block of %v for %v", l.BlockMM, l.NeedMM)
			}
		}
		if l.InStock {
			along, across := slices.Contains(p.Stock.WidthsMM, l.BlockMM[0]), slices.Contains(p.Stock.WidthsMM, l.BlockMM[1])
			if !(along && l.BlockMM[1] <= p.Stock.LongestMM || across && l.BlockMM[0] <= p.Stock.LongestMM) {
				t.Errorf("no bar makes %v", l.BlockMM)
			}
			for _, half := range l.HalvesMM {
				if !slices.Contains(p.Stock.ThicksMM, half) {
					t.Errorf("no bar is %g mm thick", half)
				}
			}
		}
		if l.longPerOne() > p.LongPerOne {
			if o, err := b.rows(p, n, 3-l.Rows); err == nil && n > 1 && o.longPerOne() <= p.LongPerOne {
				t.Errorf("%d rows are %g times as long as wide, %d would be %g", l.Rows, l.longPerOne(), o.Rows, o.longPerOne())
			}
		}
	})
}

// The barrel that empties first decides: 60 % of a shot from one that gives 50 mL against
// 40 % from one that gives 100 mL.
func TestTheBarrelThatEmptiesFirst(t *testing.T) {
	b := laid(t, spindle(60, 8))
	a := ask()
	a.Cavities = 2
	a.Injectors = []Injector{{Name: "pair", Barrels: []Barrel{{HoldsML: 52, KeepsML: 2, Share: 0.6}, {HoldsML: 103, KeepsML: 3, Share: 0.4}}}}
	s, _, err := Size(b, a)
	if err != nil {
		t.Fatal(err)
	}
	if want := s.ShotML * 0.6 / 50; math.Abs(s.BarrelUse-want) > 1e-12 || s.BarrelML != 52 {
		t.Errorf("use %g of the barrel of %g mL, want %g of 52", s.BarrelUse, s.BarrelML, want)
	}
}

// Costs and rates, worked out beside: plastic is bought cold.
func TestRatesOfASetup(t *testing.T) {
	b := laid(t, spindle(60, 8))
	a := ask()
	a.Cavities, a.RefillS, a.PricePerML, a.LabourPerS = 2, 20, 0.01, 0.005
	a.Practice.Stock.PerKg = 8
	s, _, err := Size(b, a)
	if err != nil {
		t.Fatal(err)
	}
	shots := math.Floor(116 / s.ShotML) // of 120 mL that keep 4
	cycle := 90 + 30 + 20/shots
	if want := 2 * 3600 / cycle; math.Abs(s.BaitsPerHour-want) > 1e-9 {
		t.Errorf("%g baits an hour, want %g", s.BaitsPerHour, want)
	}
	if want := s.ShotML/2/1.09*0.01 + cycle/2*0.005; math.Abs(s.CostPerBait-want) > 1e-9 {
		t.Errorf("a bait costs %g, want %g", s.CostPerBait, want)
	}
	if want := 100 / (2 * shots); math.Abs(s.RefillsPer100-want) > 1e-9 {
		t.Errorf("%g refills for 100 baits, want %g", s.RefillsPer100, want)
	}
	// 2.70 g/mL, see aluminiumGML.
	if want := s.BlockMM[0] * s.BlockMM[1] * s.BlockMM[2] / 1e6 * 2.7 * 8; math.Abs(s.MetalCost-want) > 1e-9 {
		t.Errorf("the block costs %g, want %g", s.MetalCost, want)
	}
}

// Each limit says so, and keeps to what it limits when the number is free.
func TestLimits(t *testing.T) {
	b := laid(t, spindle(60, 8))
	for name, x := range map[string]struct {
		set  func(*Ask)
		want string
		none bool // not even one cavity fits
	}{
		"opening": {func(a *Ask) { a.Clamps.OpeningMM = 20 }, "the clamps open to 20.0 mm", true},
		"length":  {func(a *Ask) { a.Clamps.LengthMM = 100 }, "the clamps hold one of 100 mm", true},
		"force":   {func(a *Ask) { a.Clamps.ForceN = 500 }, "the clamps hold 500 N", false},
		"mill":    {func(a *Ask) { a.LargestMM = [2]float64{90, 100} }, "the block is larger than 100 x 90 mm", true},
		"stock":   {func(a *Ask) { a.Practice.Stock.WidthsMM = []float64{20} }, "no bar of the stock is large enough", true},
		"aspect":  {func(a *Ask) { a.Practice.LongPerOne = 1 }, "times as long as wide", false},
	} {
		a := ask()
		x.set(&a)
		a.Cavities = 20
		a.Injectors = one(2000)
		s, _, err := Size(b, a)
		if x.none {
			if !errors.Is(err, ErrSize) || !strings.Contains(err.Error(), "not even one cavity fits: ") || !strings.HasSuffix(err.Error(), x.want) {
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if s.Fits || !strings.Contains(s.Why, x.want) {
			t.Errorf("%s: fits %v, %q", name, s.Fits, s.Why)
		}
	}
	a := ask()
	a.Clamps.ForceN = 500
	s, _, err := Size(b, a)
	if err != nil || !s.Fits || s.OpeningN > 500 || !strings.Contains(s.Limit, "the clamps hold 500 N") {
		t.Errorf("%d cavities, %g N, limit %q, %v", s.Cavities, s.OpeningN, s.Limit, err)
	}
}
