package laminate

import (
	"errors"
	"fmt"

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

	Colours  []Colour // one, or two from belly to back
	Line     Line     // ignored for one colour
	Injector Injector
	Vessel   Vessel
	Baits    int // ordered; 0 means one shot

	// LeftML is what is left, hot and mixed, in the batch of each colour; nil
	// when nobody asked how many baits it gives.
	LeftML []float64

	MaxDifferenceC float64 // largest difference between the two colours' temperatures
	Money          string  // the word for what prices are in
}

// Colour is one colour of a bait.
type Colour struct {
	Name string
	Mix  cavity.Mix
	Half string // the mold half that this colour lies in
}

// Line is the colour line as asked for: a plane across the cavity.
type Line struct {
	HeightMM   float64 // along the cavity's back direction; used when ByHeight
	ByHeight   bool
	BellyShare float64 // 0 to 1, otherwise
}

// Vessel is what a colour is heated in.
type Vessel struct {
	Name    string
	HoldsML float64
	Fill    float64 // how full it may be, 0 to 1
	KeepsML float64 // the film that cannot be drawn from it
}

// ErrJob is wrapped by errors about a job that cannot be poured as described.
var ErrJob = errors.New("cannot pour this")

func (j Job) check() error {
	switch {
	case len(j.Colours) < 1 || len(j.Colours) > 2:
		return fmt.Errorf("%w: one or two colours, not %d", ErrJob, len(j.Colours))
	case j.Cavities < 1:
		return fmt.Errorf("%w: a mold has at least one cavity", ErrJob)
	case !(j.Fed >= 0 && j.Fed <= 1):
		return fmt.Errorf("%w: the fed share lies between 0 and 1, not %g", ErrJob, j.Fed)
	case j.Cavity == nil && !(j.WeighedBaitG > 0):
		return fmt.Errorf("%w: it needs a model of the bait or a weighed bait", ErrJob)
	case j.Baits < 0:
		return fmt.Errorf("%w: %d baits", ErrJob, j.Baits)
	case len(j.Colours) == 2 && !j.Line.ByHeight && !(j.Line.BellyShare > 0 && j.Line.BellyShare < 1):
		return fmt.Errorf("%w: the belly's share lies between 0 and 1, not %g", ErrJob, j.Line.BellyShare)
	case len(j.Colours) == 2 && j.Line.ByHeight && j.Cavity == nil:
		return fmt.Errorf("%w: a line at a height needs a model of the bait; give a share instead", ErrJob)
	}
	return j.Feed.Check()
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

// plastisolLimitML is how much plastisol, cold, one vessel may take of a blend,
// down to the last mark of a cup.
func (v Vessel) plastisolLimitML(b cavity.Blend) float64 {
	return float64(units.FloorCups(units.Volume(v.HoldsML * v.Fill / b.ColdML)))
}
