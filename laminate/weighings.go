package laminate

import (
	"fmt"

	"bellyline/cavity/water"
)

// Weighings is what a shop has found with its scale.
type Weighings struct {
	Baits []WeighedBait // without hooks, of the colours and the heat of the job
	// WaterC is the temperature of the fresh water that some of them hung in.
	WaterC float64
	// StrokeG is what one stroke pushed into a cup of each colour, in their order; nil
	// when nobody has tried.
	StrokeG []float64
}

// WeighedBait is one bait on the scale, and in water when Hung.
type WeighedBait struct {
	AirG    float64
	Hung    bool
	HungG   float64 // in water, with the sinker on it
	SinkerG float64 // the sinker alone, in water; 0 for a bait that sinks by itself
}

// mostWeighed is past any number of baits that somebody weighs one by one.
const mostWeighed = 10_000

func (j Job) checkWeighings() error {
	w := j.Weighings
	if len(w.Baits) > mostWeighed {
		return fmt.Errorf("%w: %d weighed baits; %d are more than enough", ErrJob, len(w.Baits), mostWeighed)
	}
	if len(w.Baits) > 0 && j.Across != nil {
		return fmt.Errorf("%w: with the streams across the parting face its baits do not weigh alike; weigh baits of a laminate", ErrJob)
	}
	if !j.Measures.Sound() {
		return fmt.Errorf("%w: %v are no measures", ErrJob, j.Measures)
	}
	for i, b := range w.Baits {
		if err := b.check(i + 1); err != nil {
			return err
		}
	}
	if err := (water.Water{TempC: w.WaterC}).Check(); err != nil {
		return fmt.Errorf("%w: weighed baits: %w", ErrJob, err)
	}
	return j.checkStroke()
}

func (b WeighedBait) check(n int) error {
	switch {
	case !(b.AirG >= smallest && b.AirG <= largest) || !sound(b.HungG) || !sound(b.SinkerG):
		return fmt.Errorf("%w: weighed bait %d: %g g in air, %g g in water, with a sinker of %g g", ErrJob, n, b.AirG, b.HungG, b.SinkerG)
	case b.Hung && b.HungG-b.SinkerG >= b.AirG:
		return fmt.Errorf("%w: weighed bait %d: %.4g g in air, and hung in water %.4g g: water carries part of everything, so hung is less; were the two swapped, or is it a sinker that was not given?", ErrJob, n, b.AirG, b.HungG-b.SinkerG)
	}
	return nil
}

// volumeML is what a hung bait pushes away: what it is lighter by in water, over the
// water's density in g/mL (Archimedes).
func (b WeighedBait) volumeML(waterGML float64) float64 {
	return (b.AirG - (b.HungG - b.SinkerG)) / waterGML
}

func (j Job) checkStroke() error {
	s := j.Weighings.StrokeG
	switch {
	case s == nil:
		return nil
	case len(j.Colours) < 2 || len(s) != len(j.Colours):
		return fmt.Errorf("%w: a weighed stroke takes two colours or more, each in its own cup", ErrJob)
	case j.Injector.Drive != Ganged:
		return fmt.Errorf("%w: plungers that are pushed one by one give what each is pushed, so a weighed stroke fixes no ratio; take it out", ErrJob)
	}
	for i, g := range s {
		if !(g >= smallest && g <= largest) {
			return fmt.Errorf("%w: a stroke that gives %g g of %s", ErrJob, g, j.Colours[i].Name)
		}
	}
	return nil
}
