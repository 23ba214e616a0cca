package layout

import (
	"errors"
	"fmt"
	"slices"
)

// ErrSize is wrapped by errors about a mold that cannot be sized.
var ErrSize = errors.New("cannot be sized")

// Practice are the sizes that a shop chooses, in mm. All defaults are common
// practice, no source.
type Practice struct {
	SpacingMM  float64   `json:"spacing_mm"`    // between cavities
	EdgeMM     float64   `json:"edge_mm"`       // from a cavity to the edge of the block: pins and bolts are in it
	FloorMM    float64   `json:"floor_mm"`      // metal behind a cavity
	LandMM     float64   `json:"land_mm"`       // length of a gate
	GateMM     float64   `json:"gate_mm"`       // bore of the last gate
	LeastMM    float64   `json:"least_gate_mm"` // a finer gate freezes
	RunnersMM  []float64 `json:"runners_mm"`    // cutters that runners are cut with, ascending
	PinMM      float64   `json:"pin_mm"`        // locating pins, in two opposite corners
	BoltMM     float64   `json:"bolt_mm"`       // bolt holes, in the other two; 0: none
	VentMM     float64   `json:"vent_mm"`       // depth of a vent
	VentWideMM float64   `json:"vent_wide_mm"`
	ThinTipMM  float64   `json:"thin_tip_mm"`  // a tip thinner than this gets a vent of its own
	LongPerOne float64   `json:"long_per_one"` // a block is at most so many times as long, along the runner, as it is wide
	Stock      Stock     `json:"stock"`
}

// Stock is what blocks are sawn from: bars of every width in every thickness.
type Stock struct {
	Metal     string    `json:"metal"`
	WidthsMM  []float64 `json:"widths_mm"`      // ascending
	ThicksMM  []float64 `json:"thicknesses_mm"` // ascending
	LongestMM float64   `json:"longest_mm"`     // that a bar is; 0: any
	GML       float64   `json:"density_g_ml"`
	PerKg     float64   `json:"price_per_kg"` // 0: not known
}

// Clamps are what holds a mold shut. What is 0 is not known and limits nothing.
type Clamps struct {
	OpeningMM float64 `json:"opening_mm"` // both halves together go in between
	LengthMM  float64 `json:"length_mm"`  // the longer side of the block at most
	ForceN    float64 `json:"force_n"`    // that they hold
}

// aluminiumGML is the density of 6061, in g/mL: 2.70 (Aluminum Association, Aluminum
// Standards and Data, from memory).
const aluminiumGML = 2.70

// DefaultPractice returns what is common at hand-poured molds. Stock is in inches.
func DefaultPractice() Practice {
	const inch = 25.4
	p := Practice{
		SpacingMM: 6.5, EdgeMM: 13, FloorMM: 8, LandMM: 3, GateMM: 3, LeastMM: 1.5,
		RunnersMM: []float64{5, 6, 6.5, 8, 10, 12, 16}, PinMM: 6, BoltMM: 6, VentMM: 0.15, VentWideMM: 3, ThinTipMM: 6, LongPerOne: 2.5,
		Stock: Stock{Metal: "aluminium", GML: aluminiumGML},
	}
	for _, w := range []float64{1, 1.5, 2, 2.5, 3, 3.5, 4, 5, 6, 7, 8, 10, 12} {
		p.Stock.WidthsMM = append(p.Stock.WidthsMM, w*inch)
	}
	for _, t := range []float64{0.5, 0.625, 0.75, 1, 1.25, 1.5, 2, 2.5, 3} {
		p.Stock.ThicksMM = append(p.Stock.ThicksMM, t*inch)
	}
	return p
}

// longestLandMM is ten times and more what a gate's land measures, in which a hand's
// push would be lost.
const longestLandMM = 50

// check refuses sizes that cannot be.
func (p Practice) check() error {
	for _, x := range []struct {
		name      string
		low, high float64
		value     float64
	}{
		{"spacing", 0.1, 1000, p.SpacingMM}, {"edge", 0.1, 1000, p.EdgeMM}, {"floor", 0.1, 1000, p.FloorMM},
		{"gate land", 0.1, longestLandMM, p.LandMM}, {"gate", 0.1, 100, p.GateMM}, {"least gate", 0.1, p.GateMM, p.LeastMM},
		{"pin", 0, p.EdgeMM, p.PinMM}, {"bolt", 0, p.EdgeMM, p.BoltMM}, {"vent depth", 0, 10, p.VentMM}, {"vent width", 0, p.EdgeMM, p.VentWideMM},
		{"thin tip", 0, 1000, p.ThinTipMM}, {"longest bar", 0, 1e5, p.Stock.LongestMM},
	} {
		if !(x.value >= x.low && x.value <= x.high) {
			return fmt.Errorf("%w: %s of %g mm; give %g to %g", ErrSize, x.name, x.value, x.low, x.high)
		}
	}
	for _, x := range []struct {
		name  string
		sizes []float64
	}{{"runner cutters", p.RunnersMM}, {"widths of bars", p.Stock.WidthsMM}, {"thicknesses of bars", p.Stock.ThicksMM}} {
		if err := ascend(x.name, x.sizes); err != nil {
			return err
		}
	}
	switch {
	case !(p.LongPerOne >= 1 && p.LongPerOne <= 100):
		return fmt.Errorf("%w: a block %g times as long as wide; give 1 to 100", ErrSize, p.LongPerOne)
	case !(p.Stock.GML >= 0.1 && p.Stock.GML <= 25):
		return fmt.Errorf("%w: a metal of %g g/mL; give 0.1 to 25", ErrSize, p.Stock.GML)
	case !(p.Stock.PerKg >= 0 && p.Stock.PerKg <= 1e9):
		return fmt.Errorf("%w: a metal at %g a kg", ErrSize, p.Stock.PerKg)
	}
	return nil
}

// ascend refuses a list of sizes that is empty or does not ascend.
func ascend(name string, sizes []float64) error {
	if len(sizes) == 0 {
		return fmt.Errorf("%w: no %s", ErrSize, name)
	}
	for i, d := range sizes {
		if !(d > 0 && d <= 1e5) || i > 0 && d <= sizes[i-1] {
			return fmt.Errorf("%w: %s have to ascend: %v mm", ErrSize, name, sizes)
		}
	}
	return nil
}

// atLeast returns the smallest of ascending sizes that is large enough.
func atLeast(sizes []float64, need float64) (size float64, ok bool) {
	i, _ := slices.BinarySearch(sizes, need)
	if i == len(sizes) {
		return 0, false
	}
	return sizes[i], true
}
