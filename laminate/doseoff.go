package laminate

import (
	"fmt"
	"math"
	"slices"

	"bellyline/cavity/units"
)

// doseWarning is the rounding of a dose past which the cook is told.
const doseWarning = 0.05

// NumberedCup is one colour's cup of a heating, or of several in a row that are alike.
type NumberedCup struct {
	HeatingColour
	First, Times int // the first of them, counted from 1, and how many they are
}

// doseOff is one additive of one colour: the heating in which it is worst, and how many
// it is measured into.
type doseOff struct {
	colour   string
	worst    HeatingDose
	cupsText string
	first    int
	off, all int
}

// DoseWarnings tells of each dose that spoons, drops or scale round too much: by how
// much at the worst, where, how often, and what to do.
func DoseWarnings(with units.Measures, cups []NumberedCup) []string {
	var list []doseOff
	for _, c := range cups {
		for _, d := range c.Doses {
			if c.Cups > 0 {
				list = addDose(list, c, d)
			}
		}
	}
	var warnings []string
	for _, d := range list {
		if d.off > 0 {
			warnings = append(warnings, d.text(with))
		}
	}
	return warnings
}

func addDose(list []doseOff, c NumberedCup, d HeatingDose) []doseOff {
	i := slices.IndexFunc(list, func(o doseOff) bool { return o.colour == c.Name && o.worst.Additive == d.Additive })
	if i < 0 {
		i, list = len(list), append(list, doseOff{colour: c.Name, worst: d, cupsText: c.CupsText, first: c.First})
	}
	o := &list[i]
	o.all += c.Times
	if math.Abs(d.Off) > doseWarning {
		o.off += c.Times
	}
	if math.Abs(d.Off) > math.Abs(o.worst.Off) {
		o.worst, o.cupsText, o.first = d, c.CupsText, c.First
	}
	return list
}

func (o doseOff) text(with units.Measures) string {
	d := o.worst
	text := fmt.Sprintf("%s in %s: %s for %s is %+.0f %% off the recipe, which wants %.2g g", d.Additive, o.colour, d.Measure, o.cupsText, d.Off*100, d.WantedG)
	if o.all > 1 {
		text += fmt.Sprintf(" (heating %d, the worst; more than %.0f %% off in %d of its %d heatings)", o.first, doseWarning*100, o.off, o.all)
	}
	switch d.WeighCount {
	case 0:
		return text + fmt.Sprintf(": too little for a scale that shows %s; weigh it on a finer one, or heat more at once", with.ScaleText())
	case 1:
		return text + ": weigh that, or round the cups"
	}
	return text + fmt.Sprintf(": your scale shows %s, so weigh %d of them together, %.4g g, and divide", with.ScaleText(), d.WeighCount, d.WeighG)
}

func (r recipe) doseWarnings(heatings []Heating) []string {
	var cups []NumberedCup
	first := 1
	for _, h := range heatings {
		for _, c := range h.Colours {
			cups = append(cups, NumberedCup{c, first, h.Times})
		}
		first += h.Times
	}
	return DoseWarnings(r.Measures, cups)
}
