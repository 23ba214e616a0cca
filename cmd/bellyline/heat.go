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
