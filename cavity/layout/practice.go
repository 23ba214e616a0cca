package layout

import (
	"errors"
	"fmt"
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
	PinMM      float64   `json:"pin_mm"`
	VentMM     float64   `json:"vent_mm"` // depth of a vent
	VentWideMM float64   `json:"vent_wide_mm"`
	WidthsMM   []float64 `json:"widths_mm"`      // stock bars: widths, ascending
	ThicksMM   []float64 `json:"thicknesses_mm"` // and thicknesses
}

// DefaultPractice returns what is common at hand-poured molds. Stock is in inches.
func DefaultPractice() Practice {
	const inch = 25.4
	p := Practice{
		SpacingMM: 6.5, EdgeMM: 13, FloorMM: 8, LandMM: 3, GateMM: 3, LeastMM: 1.5,
		RunnersMM: []float64{5, 6, 6.5, 8, 10, 12, 16}, PinMM: 6, VentMM: 0.15, VentWideMM: 3,
	}
	for _, w := range []float64{1, 1.5, 2, 2.5, 3, 3.5, 4, 5, 6, 7, 8, 10, 12} {
		p.WidthsMM = append(p.WidthsMM, w*inch)
	}
	for _, t := range []float64{0.5, 0.625, 0.75, 1, 1.25, 1.5, 2, 2.5, 3} {
		p.ThicksMM = append(p.ThicksMM, t*inch)
	}
	return p
}

// check refuses sizes that cannot be.
func (p Practice) check() error {
	for _, x := range []struct {
		name      string
		low, high float64
		value     float64
	}{
		{"spacing", 0.1, 1000, p.SpacingMM}, {"edge", 0.1, 1000, p.EdgeMM}, {"floor", 0.1, 1000, p.FloorMM},
		{"gate land", 0.1, 1000, p.LandMM}, {"gate", 0.1, 100, p.GateMM}, {"least gate", 0.1, p.GateMM, p.LeastMM},
		{"pin", 0, p.EdgeMM, p.PinMM},
	} {
		if !(x.value >= x.low && x.value <= x.high) {
			return fmt.Errorf("%w: a %s of %g mm; give %g to %g", ErrSize, x.name, x.value, x.low, x.high)
		}
	}
	for i, d := range p.RunnersMM {
		if !(d > 0 && d <= 1000) || i > 0 && d <= p.RunnersMM[i-1] {
			return fmt.Errorf("%w: runner cutters have to ascend: %v mm", ErrSize, p.RunnersMM)
		}
	}
	if len(p.RunnersMM) == 0 {
		return fmt.Errorf("%w: no cutter for the runner", ErrSize)
	}
	return nil
}
