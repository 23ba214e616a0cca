package main

import (
	"math"
	"strconv"

	"bellyline/mesh/mend"
)

// mendFlags are the flags that say how far a broken model may be mended.
type mendFlags struct {
	chosen mend.Options
	within string // a length in mm, or auto
}

func addMendFlags(c *call) *mendFlags {
	f := &mendFlags{}
	c.flags.BoolVar(&f.chosen.Allow, "mend", false, "close holes, turn facets and the like where that could change the volume; each mend is named")
	c.flags.StringVar(&f.within, "mend-within", "", "corners of open edges up to `MM` apart are one, or auto: the least at which the surface closes; without it: a hundred-thousandth of the model's size")
	c.flags.Float64Var(&f.chosen.HoleMM, "mend-hole", 0, "close holes that are not flat up to `MM` across; without it: a twentieth of the model's size")
	return f
}

// options returns how far to mend. Lengths are in mm whatever the unit of the model.
func (f *mendFlags) options(c *call) (mend.Options, error) {
	for _, flag := range []string{"mend-within", "mend-hole"} {
		if c.flags.Changed(flag) && !f.chosen.Allow {
			return f.chosen, usagef("--%s does nothing without --mend", flag)
		}
	}
	if c.flags.Changed("mend-hole") && !isReach(f.chosen.HoleMM) {
		return f.chosen, usagef("--mend-hole %g is not a length in mm, like 0.05", f.chosen.HoleMM)
	}
	switch {
	case !c.flags.Changed("mend-within"):
	case f.within == "auto":
		f.chosen.FindTolerance = true
	default:
		reach, err := strconv.ParseFloat(f.within, 64)
		if err != nil || !isReach(reach) {
			return f.chosen, usagef("--mend-within %s is not a length in mm, like 0.05, nor auto", f.within)
		}
		f.chosen.ToleranceMM = reach
	}
	return f.chosen, nil
}

func isReach(mm float64) bool { return mm > 0 && !math.IsInf(mm, 0) }
