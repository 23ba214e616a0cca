package stream

import (
	"errors"
	"fmt"
	"math"

	"github.com/golang/geo/r3"
)

// Conditions are how a cavity is shot. The zero value of a field is its default.
type Conditions struct {
	BackFeed float64 // back's share of what the barrels deliver, 0 to 1, ends excluded
	Ratio    Ratio   // viscosity of the back over the belly's; zero: alike
	DrawnMM  *float64
	FromTail bool        // the gate is at the tail
	Path     []r3.Vector // the way of the flow, from the gate on; instead of nose to tail
	Stations int         // 0: 60
	LeastMM  float64     // a colour thinner than this is lost; 0: 0.5
	ShowsMM  float64     // a skin thinner than this is not seen; 0: 0.1
	Runner   []Duct
	Cavities int     // that one shot fills; 0: 1
	BoreMM   float64 // of each barrel, for plungers that start unequal; 0: 31.75
	Hand     bool    // each plunger is pushed by hand, so flows share by resistance too
	Push     *Push
	LineOnly bool // leave out effects, band and agreement, which take as long as all else
	// Temperature at which the melt is shot, and its activation energy, for what ten
	// degrees would do. Zero: 170 C and the default.
	MeltC      float64
	Activation Activation
	Grid       Options
}

// Defaults.
const (
	defaultStations = 60
	mostStations    = 1000
	defaultLeastMM  = 0.5
	defaultShowsMM  = 0.1
	defaultMeltC    = 170
	defaultBoreMM   = 31.75 // 1 1/4 in
)

// ErrConditions is wrapped by errors about conditions that cannot be.
var ErrConditions = errors.New("cannot work out the line")

func (c Conditions) withDefaults() Conditions {
	set := func(x *float64, to float64) {
		if *x == 0 {
			*x = to
		}
	}
	if c.Ratio == (Ratio{}) {
		c.Ratio = EqualRatio()
	}
	if c.Stations == 0 {
		c.Stations = defaultStations
	}
	if c.Cavities == 0 {
		c.Cavities = 1
	}
	set(&c.LeastMM, defaultLeastMM)
	set(&c.ShowsMM, defaultShowsMM)
	set(&c.MeltC, defaultMeltC)
	set(&c.BoreMM, defaultBoreMM)
	if c.Activation == (Activation{}) {
		c.Activation = DefaultActivation()
	}
	return c
}

func (c Conditions) check() error {
	switch {
	case !(c.BackFeed >= leastStream && c.BackFeed <= 1-leastStream):
		return fmt.Errorf("%w: the back's share of the flow is %g; give one from %g to %g", ErrConditions, c.BackFeed, leastStream, 1-leastStream)
	case c.Stations < 1 || c.Stations > mostStations:
		return fmt.Errorf("%w: %d stations; give a number from 1 to %d", ErrConditions, c.Stations, mostStations)
	case !(c.LeastMM > 0 && c.ShowsMM > 0) || math.IsInf(c.LeastMM, 0) || math.IsInf(c.ShowsMM, 0):
		return fmt.Errorf("%w: a colour lost below %g mm, a skin seen from %g mm", ErrConditions, c.LeastMM, c.ShowsMM)
	case !(c.BoreMM > 0 && c.BoreMM <= 10_000):
		return fmt.Errorf("%w: a bore of %g mm", ErrConditions, c.BoreMM)
	case c.Cavities < 1 || c.Cavities > 10_000:
		return fmt.Errorf("%w: %d cavities", ErrConditions, c.Cavities)
	case c.DrawnMM != nil && (math.IsNaN(*c.DrawnMM) || math.IsInf(*c.DrawnMM, 0)):
		return fmt.Errorf("%w: a line at a height of %g mm", ErrConditions, *c.DrawnMM)
	}
	for _, d := range c.Runner {
		if err := d.check(); err != nil {
			return err
		}
	}
	if c.Push != nil {
		if err := c.Push.check(); err != nil {
			return err
		}
	}
	return c.Ratio.check()
}
