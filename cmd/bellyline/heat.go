package main

import (
	"cmp"

	"bellyline/cavity"
	"bellyline/cavity/units"
)

// parseHeat reads how hot a flag says that plastic is poured, within the limits that a
// shop file has: a letter mixed up kills.
func parseHeat(flag, text string) (units.Celsius, error) {
	t, err := units.ParseTemperature(text)
	if err != nil {
		return 0, usageError{"--" + flag + ": " + err.Error()}
	}
	if fault := heatFault(t); fault != "" {
		return 0, usageError{"--" + flag + ": " + fault}
	}
	return t, nil
}

// heatFault says what is wrong with plastic that is poured at t, else "".
func heatFault(t units.Celsius) string {
	return cmp.Or(cavity.PastHottest(t), cavity.BelowColdestPour(t))
}

// A plastic that spreads heat slower or faster than these, in mm2/s, is none: soft
// vinyl has 0.08 to 0.11, aluminium 97.
const slowestPlastic, fastestPlastic = 0.01, 1

// checkDiffusivity refuses what no plastic has.
func checkDiffusivity(mm2s float64) error {
	if !(mm2s >= slowestPlastic && mm2s <= fastestPlastic) {
		return usagef("--diffusivity %g: give mm2/s from %g to %g; soft vinyl has 0.08 to 0.11", mm2s, slowestPlastic, float64(fastestPlastic))
	}
	return nil
}
