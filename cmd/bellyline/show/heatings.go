package show

import (
	"fmt"
	"strings"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

// HeatingsName says which heatings a group has: "Heating 1", "Heatings 2 to 4, 6, each".
func HeatingsName(g laminate.HeatingGroup) string {
	const most = 4
	if g.Count == 1 {
		return "Heating " + runText(g.Runs[0])
	}
	var runs []string
	for _, r := range g.Runs[:min(most, len(g.Runs))] {
		runs = append(runs, runText(r))
	}
	if len(g.Runs) <= most {
		return "Heatings " + strings.Join(runs, ", ") + ", each"
	}
	return fmt.Sprintf("Heatings %s and so on, %d in all, each", strings.Join(runs, ", "), g.Count)
}

func runText(r laminate.HeatingRun) string {
	switch r.Last - r.First {
	case 0:
		return fmt.Sprint(r.First)
	case 1:
		return fmt.Sprintf("%d and %d", r.First, r.Last)
	}
	return fmt.Sprintf("%d to %d", r.First, r.Last)
}

func pourCups(p *Page, r *laminate.Pour) {
	heading(p, 2, "MEASURE COLD, BEFORE HEATING")
	for _, g := range r.HeatingGroups() {
		p.Linef("  %s: %d %s", HeatingsName(g), g.Shots, Plural(g.Shots, "shot"))
		p.Table(cupRows(g.Heating))
	}
	roundingText(p, r.Rounding)
	if r.HeatingCount() > 1 {
		p.Wrapped("  ", fmt.Sprintf("From the second on: on top of what barrel and cup still hold of that colour, but no cup past %s; what does not fit waits for the next.",
			units.Volume(lowestMark(r))))
	}
}

// lowestMark is how high any of the cups may be filled, in mL.
func lowestMark(r *laminate.Pour) float64 {
	mark := r.Setup[0].MarkML
	for _, c := range r.Setup {
		mark = min(mark, c.MarkML)
	}
	return mark
}

func cupRows(h laminate.Heating) [][]string {
	var rows [][]string
	for _, c := range h.Colours {
		rows = append(rows, []string{"  " + strings.ToUpper(c.Name), c.CupsText, "plastisol", fmt.Sprintf("%.0f g", c.PlastisolG)})
		rows = append(rows, doseRows(c, "before heating")...)
	}
	return rows
}

func doseRows(c laminate.HeatingColour, when string) [][]string {
	var rows [][]string
	for _, d := range c.DosesWhen(when) {
		rows = append(rows, []string{"", d.Measure, d.Additive, d.Weigh})
	}
	return rows
}

// pourAfter prints what is stirred in hot, when there is anything.
func pourAfter(p *Page, r *laminate.Pour) {
	titled := false
	for _, g := range r.HeatingGroups() {
		rows := hotRows(g.Heating)
		if len(rows) == 0 {
			continue
		}
		if !titled {
			p.Linef("  Then stir in, hot:")
			titled = true
		}
		p.Linef("  %s:", HeatingsName(g))
		p.Table(rows)
	}
}

func hotRows(h laminate.Heating) [][]string {
	var rows [][]string
	for _, c := range h.Colours {
		for i, row := range doseRows(c, "after heating") {
			if i == 0 {
				row[0] = "  " + strings.ToUpper(c.Name)
			}
			rows = append(rows, row)
		}
	}
	return rows
}
