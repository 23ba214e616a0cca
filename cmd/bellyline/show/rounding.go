package show

import (
	"fmt"
	"math"
	"strings"

	"bellyline/laminate"
	"bellyline/laminate/order"
)

// gramsOfDoses says what the grams beside spoons and drops are.
const gramsOfDoses = "Spoons and drops are rounded, the grams beside them are the recipe's. Where it says together, your scale cannot tell one: weigh so many at once and divide."

// roundingText says what measuring in spoons and steps of a scale costs.
func roundingText(p *Page, r laminate.Rounding) {
	if len(r.Strengths) == 0 {
		return
	}
	weight := "a bait weighs as by the recipe"
	if off := offText(r.BaitLeastG, r.BaitMostG, 2); off != "" {
		weight = fmt.Sprintf("a bait weighs %s g beside the recipe", off)
	}
	p.Wrapped("  ", fmt.Sprintf("Rounding to %s: %s; %s. "+gramsOfDoses, r.To, weight, strengthsText(r.Strengths)))
}

// planRounding says the same of an order, colour by colour.
func planRounding(p *Page, r order.Rounding) {
	if len(r.Strengths) == 0 {
		return
	}
	var weights []string
	for _, c := range r.Weights {
		if off := offText(c.Least*100, c.Most*100, 1); off != "" {
			weights = append(weights, fmt.Sprintf("%s %s %%", c.Colour, off))
		}
	}
	weight := "baits weigh as by the recipe"
	if len(weights) > 0 {
		weight = "what a bait has of a colour weighs otherwise than by the recipe: " + strings.Join(weights, ", ")
	}
	p.Linef("")
	p.Wrapped("  ", fmt.Sprintf("Rounding to %s: %s; %s. "+gramsOfDoses, r.To, weight, strengthsText(r.Strengths)))
}

func strengthsText(list []laminate.Strength) string {
	var off []string
	for _, s := range list {
		if text := offText(s.Least*100, s.Most*100, 0); text != "" {
			off = append(off, fmt.Sprintf("%s in %s %s %%", s.Additive, s.Colour, text))
		}
	}
	switch {
	case len(off) == 0:
		return "every additive is as strong as by the recipe"
	case len(off) == len(list):
		return "strength of " + strings.Join(off, ", ")
	}
	return "strength of " + strings.Join(off, ", ") + ", the rest as by the recipe"
}

// offText prints "+7" or "-11 to 0", or nothing where both round to nothing.
func offText(least, most float64, digits int) string {
	low, high := signedOrZero(least, digits), signedOrZero(most, digits)
	switch {
	case low == high && low == "0":
		return ""
	case low == high:
		return low
	}
	return low + " to " + high
}

func signedOrZero(x float64, digits int) string {
	if scale := math.Pow10(digits); math.Round(x*scale) == 0 {
		return "0"
	}
	return fmt.Sprintf("%+.*f", digits, x)
}
