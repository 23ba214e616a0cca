package units

import (
	"fmt"
	"math"
	"strings"
)

// SpoonStep is the smallest measuring spoon, 1/8 tsp.
const SpoonStep = Tsp / 8

// CupStep is the finest mark that cups of plastisol are measured to, 1/8 cup.
const CupStep = Cup / 8

// CupsText prints a volume that is a multiple of 1/8 cup the way cups come:
// "2 3/4 cups", "1 1/8 cups", "1/2 + 1/8 cup". Other volumes are shown to the
// nearest step, and one that would round to nothing as "under 1/16 cup".
func CupsText(v Volume) string {
	if !spoonable(v) {
		return v.String()
	}
	eighths := int(math.Round(float64(v / CupStep)))
	if eighths == 0 && v > 0 {
		return "under 1/16 cup"
	}
	whole, rest := eighths/8, eighths%8
	fractions := nonEmpty([4]string{"", "1/4", "1/2", "3/4"}[rest/2], [2]string{"", "1/8"}[rest%2])
	text := joinWhole(whole, strings.Join(fractions, " + "))
	switch {
	case eighths == 0:
		return "0 cups"
	case eighths <= 8:
		return text + " cup"
	default:
		return text + " cups"
	}
}

// SpoonsText prints a volume, to the nearest 1/8 tsp, in the cups and spoons
// that exist: eighths of a cup, tablespoons, and teaspoons of 1, 1/2, 1/4 and 1/8.
// "1/4 cup + 1 tbsp + 1/2 tsp", "1/4 + 1/8 tsp". What would round to nothing is
// "under 1/16 tsp".
func SpoonsText(v Volume) string { return spoonsText(v, CupStep) }

// spoonsText is SpoonsText in a shop whose finest mark of a cup is the given one.
func spoonsText(v, cupStep Volume) string {
	if !spoonable(v) {
		return v.String()
	}
	steps := int(roundSteps(float64(v / SpoonStep)))
	switch {
	case steps == 0 && v > 0:
		return "under 1/16 tsp"
	case steps == 0:
		return "0 tsp"
	}
	const perTbsp = 3 * 8
	perCupStep := int(math.Round(float64(cupStep / SpoonStep)))
	cups := cupStep * Volume(steps/perCupStep)
	tbsp := steps % perCupStep / perTbsp
	tsp := steps % perTbsp
	var parts []string
	if cups > 0 {
		parts = append(parts, CupsText(cups))
	}
	if tbsp > 0 {
		parts = append(parts, fmt.Sprintf("%d tbsp", tbsp))
	}
	if tsp > 0 {
		parts = append(parts, teaspoons(tsp))
	}
	return strings.Join(parts, " + ")
}

// spoonable tells whether a volume can be counted out in spoons: no debt, nothing
// endless.
func spoonable(v Volume) bool { return v >= 0 && v <= largest }

// teaspoons prints eighths of a teaspoon by the spoons of a set.
func teaspoons(eighths int) string {
	fractions := nonEmpty(pick(eighths&4 != 0, "1/2"), pick(eighths&2 != 0, "1/4"), pick(eighths&1 != 0, "1/8"))
	return joinWhole(eighths/8, strings.Join(fractions, " + ")) + " tsp"
}

// joinWhole prints "2 3/4", "2" or "3/4".
func joinWhole(whole int, fraction string) string {
	if whole == 0 {
		return fraction
	}
	return strings.TrimSpace(fmt.Sprintf("%d %s", whole, fraction))
}

func pick(yes bool, s string) string {
	if yes {
		return s
	}
	return ""
}

func nonEmpty(parts ...string) []string {
	var kept []string
	for _, p := range parts {
		if p != "" {
			kept = append(kept, p)
		}
	}
	return kept
}
