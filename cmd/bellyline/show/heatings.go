package show

import (
	"fmt"
	"slices"
	"strings"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

func heatingCount(r *laminate.Pour) int {
	n := 0
	for _, h := range r.Heatings {
		n += h.Times
	}
	return n
}

// sameHeatings are heatings of the same cups, wherever they stand in the order.
type sameHeatings struct {
	laminate.Heating
	ranges []string // "3" or "5 to 9"
	count  int
}

// alike puts heatings of the same cups together, by where the first one stands.
func alike(heatings []laminate.Heating) []sameHeatings {
	var groups []sameHeatings
	first := 1
	for _, h := range heatings {
		i := slices.IndexFunc(groups, func(g sameHeatings) bool { return sameCups(g.Heating, h) })
		if i < 0 {
			i, groups = len(groups), append(groups, sameHeatings{Heating: h})
		}
		groups[i].ranges = append(groups[i].ranges, heatingRange(first, h.Times))
		groups[i].count += h.Times
		first += h.Times
	}
	return groups
}

func sameCups(a, b laminate.Heating) bool {
	return a.Shots == b.Shots && slices.EqualFunc(a.Colours, b.Colours,
		func(a, b laminate.HeatingColour) bool { return a.CupsText == b.CupsText })
}

func heatingRange(first, times int) string {
	switch times {
	case 1:
		return fmt.Sprint(first)
	case 2:
		return fmt.Sprintf("%d and %d", first, first+1)
	}
	return fmt.Sprintf("%d to %d", first, first+times-1)
}

// name says which heatings these are: "Heating 1", "Heatings 2 to 4, 6, each".
func (g sameHeatings) name() string {
	const most = 4
	switch {
	case g.count == 1:
		return "Heating " + g.ranges[0]
	case len(g.ranges) <= most:
		return "Heatings " + strings.Join(g.ranges, ", ") + ", each"
	}
	return fmt.Sprintf("Heatings %s and so on, %d in all, each", strings.Join(g.ranges[:most], ", "), g.count)
}

func pourCups(p *Page, r *laminate.Pour) {
	heading(p, 2, "MEASURE COLD, BEFORE HEATING")
	for _, g := range alike(r.Heatings) {
		p.Linef("  %s: %d %s", g.name(), g.Shots, plural(g.Shots, "shot"))
		p.Table(cupRows(g.Heating))
	}
	if heatingCount(r) > 1 {
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
	for _, d := range c.Doses {
		if d.When == when {
			rows = append(rows, []string{"", d.Measure, d.Additive, fmt.Sprintf("%.1f g", d.MassG)})
		}
	}
	return rows
}

// pourAfter prints what is stirred in hot, when there is anything.
func pourAfter(p *Page, r *laminate.Pour) {
	titled := false
	for _, g := range alike(r.Heatings) {
		rows := hotRows(g.Heating)
		if len(rows) == 0 {
			continue
		}
		if !titled {
			p.Linef("  Then stir in, hot:")
			titled = true
		}
		p.Linef("  %s:", g.name())
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
