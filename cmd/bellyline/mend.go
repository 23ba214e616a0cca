package main

import (
	"math"

	"bellyline/mesh/mend"
)

// mendFlags are the flags that say how far a broken model may be mended.
type mendFlags struct{ chosen mend.Options }

func addMendFlags(c *call) *mendFlags {
	f := &mendFlags{}
	c.flags.BoolVar(&f.chosen.Allow, "mend", false, "close holes, turn facets and the like where that could change the volume; each mend is named")
	c.flags.Float64Var(&f.chosen.ToleranceMM, "mend-within", 0, "corners of open edges up to `MM` apart are one; without it: a hundred-thousandth of the model's size")
	c.flags.Float64Var(&f.chosen.HoleMM, "mend-hole", 0, "close holes that are not flat up to `MM` across; without it: a twentieth of the model's size")
	return f
}

// options returns how far to mend. Lengths are in mm whatever the unit of the model.
func (f *mendFlags) options(c *call) (mend.Options, error) {
	for _, reach := range []struct {
		flag   string
		length float64
	}{{"mend-within", f.chosen.ToleranceMM}, {"mend-hole", f.chosen.HoleMM}} {
		switch {
		case !c.flags.Changed(reach.flag):
		case !(reach.length > 0) || math.IsInf(reach.length, 0):
			return f.chosen, usagef("--%s %g is not a length in mm, like 0.05", reach.flag, reach.length)
		case !f.chosen.Allow:
			return f.chosen, usagef("--%s does nothing without --mend", reach.flag)
		}
	}
	return f.chosen, nil
}
