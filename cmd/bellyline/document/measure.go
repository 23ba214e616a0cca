package document

import (
	"fmt"
	"math"
	"strings"

	"bellyline/cavity"
	"bellyline/cavity/units"
	"bellyline/laminate"
)

// largestGroups is how many groups of heatings are set in large type.
const largestGroups = 1

func measure(p *laminate.Pour) Step {
	s := newStep(2, "Measure cold, before heating", laminate.Measure, laminate.Degas)
	for i, g := range p.HeatingGroups() {
		b := Block{Form: Measures, Title: fmt.Sprintf("%s: %d %s", HeatingsName(g), g.Shots, Plural(g.Shots, "shot")), Small: i >= largestGroups}
		for k, c := range g.Colours {
			b.Rows = append(b.Rows, Cup(fmt.Sprintf("heatings.%d.colours.%d.", g.Index, k), c))
		}
		s.add(b)
	}
	s.rounding(p.Rounding)
	if p.HeatingCount() > 1 {
		s.say("From the second heating on: on top of what barrel and cup still hold of that colour, but no cup past %s; what does not fit waits for the next.", units.Volume(lowestMark(p)))
	}
	return s
}

// Cup is what is measured cold into one colour's cup.
func Cup(key string, c laminate.HeatingColour) Row {
	plastisol := Cell{Key: key + "plastisol_g", Label: "plastisol", Pair: units.Pair{Metric: grams(c.PlastisolG), US: c.CupsText, USFirst: true}, Large: true}
	return colour(c.Name, append([]Cell{plastisol}, doses(key, c, cavity.BeforeHeating)...)...)
}

func doses(key string, c laminate.HeatingColour, when cavity.When) []Cell {
	var list []Cell
	for i, d := range c.Doses {
		if d.When == when {
			list = append(list, Cell{Key: fmt.Sprintf("%sdoses.%d.weigh_g", key, i), Label: d.Additive, Pair: units.Pair{Metric: d.Weigh, US: d.Measure, USFirst: true}})
		}
	}
	return list
}

// hotDoses tells what is stirred in hot, when there is anything.
func hotDoses(s *Step, p *laminate.Pour) {
	for i, g := range p.HeatingGroups() {
		b := Block{Form: Measures, Title: HeatingsName(g) + ": stir in hot", Small: i >= largestGroups}
		for k, c := range g.Colours {
			if hot := doses(fmt.Sprintf("heatings.%d.colours.%d.", g.Index, k), c, cavity.AfterHeating); len(hot) > 0 {
				b.Rows = append(b.Rows, colour(c.Name, hot...))
			}
		}
		s.add(b)
	}
}

// lowestMark is how high any of the cups may be filled, in mL.
func lowestMark(p *laminate.Pour) float64 {
	mark := math.Inf(1)
	for _, c := range p.Setup {
		mark = min(mark, c.MarkML)
	}
	return mark
}

// HeatingsName says which heatings a group has: "Heating 1", "Heatings 2 to 4, 6, each".
func HeatingsName(g laminate.HeatingGroup) string {
	const most = 4
	if g.Count == 1 {
		return "Heating " + Run(g.Runs[0])
	}
	var runs []string
	for _, r := range g.Runs[:min(most, len(g.Runs))] {
		runs = append(runs, Run(r))
	}
	if len(g.Runs) <= most {
		return "Heatings " + strings.Join(runs, ", ") + ", each"
	}
	return fmt.Sprintf("Heatings %s and so on, %d in all, each", strings.Join(runs, ", "), g.Count)
}

// Run names heatings that follow each other: "2 to 4".
func Run(r laminate.HeatingRun) string {
	switch r.Last - r.First {
	case 0:
		return fmt.Sprint(r.First)
	case 1:
		return fmt.Sprintf("%d and %d", r.First, r.Last)
	}
	return fmt.Sprintf("%d to %d", r.First, r.Last)
}

// rounding says what measuring in spoons and steps of a scale costs.
func (s *Step) rounding(r laminate.Rounding) {
	if len(r.Strengths) == 0 {
		return
	}
	weight := "a bait weighs as by the recipe"
	if off := Off(r.BaitLeastG, r.BaitMostG, 2); off != "" {
		weight = fmt.Sprintf("a bait weighs %s g beside the recipe", off)
	}
	s.note("%s", Rounding(r.To, weight, r.Strengths))
}

// Rounding says what rounding does to weights and strengths, and what the grams beside
// spoons and drops are.
func Rounding(to, weight string, list []laminate.Strength) string {
	return fmt.Sprintf("Rounding to %s: %s; %s. Spoons and drops are rounded, the grams beside them are the recipe's. Where it says together, your scale cannot tell one: weigh so many at once and divide.", to, weight, strengths(list))
}

func strengths(list []laminate.Strength) string {
	var off []string
	for _, s := range list {
		if text := Off(s.Least*100, s.Most*100, 0); text != "" {
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

// Off prints "+7" or "-11 to 0", or nothing where both round to nothing.
func Off(least, most float64, digits int) string {
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
