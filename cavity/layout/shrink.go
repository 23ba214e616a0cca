package layout

import (
	"fmt"
	"math"
)

// ScaleForShrink returns how much larger a cavity has to be drawn than the cold
// bait, each way, for a linear shrinkage (share of the cavity's length): 1/(1-S).
// ISO 294-4 and ASTM D955 measure S so, from memory.
func ScaleForShrink(linear float64) (float64, error) {
	if !(linear >= 0 && linear < 0.5) {
		return 0, fmt.Errorf("%w: a shrinkage of %g; it is a share, like 0.025", ErrSize, linear)
	}
	return 1 / (1 - linear), nil
}

// VolumeShrink returns the shrinkage by volume of a linear one: 1-(1-S)^3.
func VolumeShrink(linear float64) float64 { return 1 - math.Pow(1-linear, 3) }

// LinearShrink returns the linear shrinkage of one by volume.
func LinearShrink(volume float64) float64 { return 1 - math.Cbrt(1-volume) }

// ShrinkFromExpansion returns the linear shrinkage of plastic that fills a cavity hot
// and is not fed: volume expansion per degree times the degrees it cools.
func ShrinkFromExpansion(perC, degrees float64) float64 {
	return 1 - math.Cbrt(1/(1+perC*degrees))
}
