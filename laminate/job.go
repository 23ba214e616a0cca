package laminate

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"bellyline/cavity"
	"bellyline/cavity/units"
)

// Job is everything that must be known before a pour is worked out.
type Job struct {
	Bait, Mold string

	Cavity       *cavity.Cavity // nil when the bait was only weighed
	WeighedBaitG float64        // used when Cavity is nil
	Cavities     int            // of a mold, all filled in one stroke
	Fed          float64        // share of the shrinkage drawn from the runner, 0 to 1
	FedAssumed   bool           // Fed was not given by the shop
	Feed         cavity.Feed

	Colours  []Colour // from belly to back
	Lines    []Line   // between neighbouring colours, from the lowest up
	Streams  bool     // work out where two streams put the line: some ten solutions of the flow more
	Injector Injector
	Apart    Apart   // how unequal the plungers start
	Across   *Across // nil when the plane between the streams lies in the parting face
	Vessel   Vessel
	Baits    int // ordered; 0 means one shot

	Weighings Weighings
	Measures  units.Measures

	Hook   Hook
	WaterC float64 // temperature of the water that the bait is let go in

	// LeftML is what is left, hot and mixed, in the batch of each colour; nil
	// when nobody asked how many baits it gives.
	LeftML []float64

	MaxDifferenceC float64 // largest difference between the two colours' temperatures
	Money          string  // the word for what prices are in
	Notes          string  // what the card is to say besides, in lines
}

// Colour is one colour of a bait.
type Colour struct {
	Name string
	Mix  cavity.Mix
	Half string // the mold half that this colour lies in
	// TakesMixed is the largest share of its batch, by volume, that may be mixed
	// trimmings, 0 to 1. Orders use it.
	TakesMixed float64
}

// Vessel is what a colour is heated in.
type Vessel struct {
	Name    string
	HoldsML float64
	Fill    float64 // how full it may be, 0 to 1
	KeepsML float64 // the film that cannot be drawn from it
	Cooling Cooling // zero when the shop has not read it
}

// Cooling is two readings of a thermometer in a vessel as full as it is poured
// from: AfterS seconds lie between them.
type Cooling struct {
	FromC, ToC float64
	AfterS     float64
}

// ErrJob is wrapped by errors about a job that cannot be poured as described.
var ErrJob = errors.New("cannot pour this")

// MostColours is how many barrels are shot at once at most.
const MostColours = 4

// Past anything at a bench; a number beyond is a slip.
const (
	largest      = 1e9  // mL, g, mm
	smallest     = 1e-6 // of a bait, in g or mm3
	mostCavities = 10_000
	mostBaits    = 10_000_000
)

// sound tells whether x is a number from 0 to largest; NaN is not.
func sound(x float64) bool { return x >= 0 && x <= largest }

// check says whether every number of a job is one that can be, so that none of
// them can turn into a NaN or a plausible answer.
func (j Job) check() error {
	return cmp.Or(j.checkBait(), j.checkLines(), j.Injector.check(), j.checkApart(), j.checkAcross(), j.Vessel.check(), j.checkLeft(), j.checkWater(), j.checkWeighings(), j.Feed.Check())
}

func (j Job) checkBait() error {
	switch {
	case len(j.Colours) < 1 || len(j.Colours) > MostColours:
		return fmt.Errorf("%w: one to %d colours, not %d", ErrJob, MostColours, len(j.Colours))
	case j.Cavities < 1:
		return fmt.Errorf("%w: a mold has at least one cavity", ErrJob)
	case j.Cavities > mostCavities:
		return fmt.Errorf("%w: a mold has at most %d cavities, not %d", ErrJob, mostCavities, j.Cavities)
	case !(j.Fed >= 0 && j.Fed <= 1):
		return fmt.Errorf("%w: the fed share lies between 0 and 1, not %g", ErrJob, j.Fed)
	case j.Cavity == nil && len(j.Weighings.Baits) == 0 && !(j.WeighedBaitG >= smallest && j.WeighedBaitG <= largest):
		return fmt.Errorf("%w: it needs a model of the bait or a weighed bait", ErrJob)
	case j.Cavity != nil && !(j.Cavity.FillMM3 >= smallest && j.Cavity.FillMM3 <= 1000*largest):
		return fmt.Errorf("%w: a cavity of %.3g mm3", ErrJob, j.Cavity.FillMM3)
	case j.Baits < 0 || j.Baits > mostBaits:
		return fmt.Errorf("%w: %d baits", ErrJob, j.Baits)
	case slices.ContainsFunc(j.Colours, func(c Colour) bool { return !(c.TakesMixed >= 0 && c.TakesMixed <= 1) }):
		return fmt.Errorf("%w: the share of mixed trimmings that a colour takes lies between 0 and 1", ErrJob)
	case !sound(j.MaxDifferenceC):
		return fmt.Errorf("%w: the colours may not be %g C apart", ErrJob, j.MaxDifferenceC)
	}
	return nil
}

func (j Job) checkLeft() error {
	if j.LeftML != nil && len(j.LeftML) != len(j.Colours) {
		return fmt.Errorf("%w: what is left is given for %d colours of %d", ErrJob, len(j.LeftML), len(j.Colours))
	}
	for i, left := range j.LeftML {
		if !sound(left) {
			return fmt.Errorf("%w: %g mL left of %s", ErrJob, left, j.Colours[i].Name)
		}
	}
	return nil
}

func (v Vessel) check() error {
	switch {
	case !(v.HoldsML > 0 && v.HoldsML <= largest):
		return fmt.Errorf("%w: vessel %q holds %g mL", ErrJob, v.Name, v.HoldsML)
	case !(v.Fill > 0 && v.Fill <= 1):
		return fmt.Errorf("%w: vessel %q may be filled to between 0 and 1, not %g", ErrJob, v.Name, v.Fill)
	case !sound(v.KeepsML):
		return fmt.Errorf("%w: vessel %q keeps %g mL", ErrJob, v.Name, v.KeepsML)
	}
	return v.Cooling.check(v.Name)
}

// longestReading is past any time between two readings, in s, and a melt as hot as
// hottestReading, in C, has burnt.
const longestReading, hottestReading = 1e6, 400

func (c Cooling) check(vessel string) error {
	if c == (Cooling{}) || c.AfterS > 0 && c.AfterS <= longestReading && c.ToC >= 0 && c.ToC < c.FromC && c.FromC <= hottestReading {
		return nil
	}
	return fmt.Errorf("%w: vessel %q cools from %g C to %g C in %g s", ErrJob, vessel, c.FromC, c.ToC, c.AfterS)
}

// orderedBaits is the order, or the baits of one shot when none was given.
func (j Job) orderedBaits() int {
	if j.Baits == 0 {
		return j.Cavities
	}
	return j.Baits
}

// shots is how many shots the order takes.
func (j Job) shots() int { return ceilDiv(j.orderedBaits(), j.Cavities) }

// MarkML is how high the vessel may be filled with a mix, cold: as high as it may
// be, and hot not over its rim.
func (v Vessel) MarkML(b cavity.Blend) float64 {
	return v.HoldsML * min(v.Fill, b.ColdML/b.HotML)
}

// PlastisolLimitML is how much plastisol, cold, one vessel may take of a blend,
// down to the last mark of a cup.
func (v Vessel) PlastisolLimitML(m units.Measures, b cavity.Blend) float64 {
	return float64(m.FloorCups(units.Volume(v.MarkML(b) / b.ColdML)))
}
