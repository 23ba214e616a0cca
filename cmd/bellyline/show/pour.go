package show

import (
	"fmt"
	"strings"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

// PourText prints the pour card, in the order of the work.
func PourText(p *Page, r *laminate.Pour) {
	p.Linef("%s: mold %s, %d %s, injector %s", strings.ToUpper(r.BaitName), r.Mold, r.Cavities, cavities(r.Cavities), r.Injector)
	p.Linef("%d %s = %d %s in %d %s", r.Order.Baits, plural(r.Order.Baits, "bait"), r.Order.Shots, plural(r.Order.Shots, "shot"),
		heatingCount(r), plural(heatingCount(r), "heating"))
	pourSetup(p, r)
	pourCups(p, r)
	pourHeat(p, r)
	pourShoot(p, r)
	pourWeigh(p, r)
	pourLine(p, r)
	pourShot(p, r)
	pourOrder(p, r)
	for i, w := range r.Warnings {
		if i == 0 {
			p.Linef("\nWARNINGS")
		}
		p.Wrapped("  ! ", w)
	}
	p.Linef("\nCAUTIONS")
	for _, c := range r.Cautions {
		p.Wrapped("  * ", c)
	}
}

func cavities(n int) string {
	if n == 1 {
		return "cavity"
	}
	return "cavities"
}

func heatingCount(r *laminate.Pour) int {
	n := 0
	for _, h := range r.Heatings {
		n += h.Times
	}
	return n
}

func heading(p *Page, n int, title string) { p.Linef("\n%d  %s", n, title) }

func pourSetup(p *Page, r *laminate.Pour) {
	heading(p, 1, "BARRELS AND MOLD")
	var rows [][]string
	for _, c := range r.Setup {
		row := []string{strings.ToUpper(c.Name), "in the " + barrel(r, c.Barrel), c.Material}
		if c.Half != "" {
			row = append(row, "lies in the "+c.Half)
		}
		rows = append(rows, row)
	}
	p.Table(rows)
	if len(r.Setup) == 2 {
		p.Linef("  Turn the block until the %s barrel's stream faces the %s.", r.Setup[0].Barrel, r.Setup[0].Half)
	}
}

// barrel names one of a pair; an only barrel is the injector.
func barrel(r *laminate.Pour, name string) string {
	if len(r.Setup) == 1 {
		return "injector"
	}
	return name + " barrel"
}

func pourCups(p *Page, r *laminate.Pour) {
	heading(p, 2, "MEASURE COLD, BEFORE HEATING")
	first := 1
	for _, h := range r.Heatings {
		p.Linef("  %s, %d %s", heatingName(first, h.Times), h.Shots, plural(h.Shots, "shot"))
		p.Table(cupRows(h, "before heating"))
		first += h.Times
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

func heatingName(first, times int) string {
	if times == 1 {
		return fmt.Sprintf("Heating %d", first)
	}
	return fmt.Sprintf("Heatings %d to %d, each", first, first+times-1)
}

func cupRows(h laminate.Heating, when string) [][]string {
	var rows [][]string
	for _, c := range h.Colours {
		rows = append(rows, []string{"  " + strings.ToUpper(c.Name), c.CupsText, "plastisol", fmt.Sprintf("%.0f g", c.PlastisolG)})
		rows = append(rows, doseRows(c, when)...)
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

func pourHeat(p *Page, r *laminate.Pour) {
	heading(p, 3, "HEAT")
	for _, c := range r.Setup {
		p.Linef("  %s to %s, never past %s", strings.ToUpper(c.Name), units.Celsius(c.PourC), units.Celsius(c.CeilingC))
	}
	if len(r.Setup) == 2 {
		p.Linef("  The two no more than %s apart when they are shot.", units.DifferenceText(r.MaxApartC))
	}
	pourAfter(p, r)
}

// pourAfter prints what is stirred in hot, when there is anything.
func pourAfter(p *Page, r *laminate.Pour) {
	first, titled := 1, false
	for _, h := range r.Heatings {
		var rows [][]string
		for _, c := range h.Colours {
			for i, row := range doseRows(c, "after heating") {
				if i == 0 {
					row[0] = "  " + strings.ToUpper(c.Name)
				}
				rows = append(rows, row)
			}
		}
		if len(rows) > 0 && !titled {
			p.Linef("  Then stir in, hot:")
			titled = true
		}
		if len(rows) > 0 {
			p.Linef("  %s", heatingName(first, h.Times))
			p.Table(rows)
		}
		first += h.Times
	}
}

func pourShoot(p *Page, r *laminate.Pour) {
	heading(p, 4, "DRAW AND SHOOT")
	for _, b := range r.Load.Barrels {
		mark := ""
		if b.DrawMM > 0 {
			mark = fmt.Sprintf(", the plunger %s; one mold moves it %s", units.Length(b.DrawMM), units.Length(b.TravelMM))
		}
		p.Linef("  %s: draw %s into the %s%s", strings.ToUpper(b.Colour), units.Volume(b.DrawML), barrel(r, b.Barrel), mark)
	}
	p.Linef("  Air out%s. A full draw fills %d %s; fill the barrels %d %s in all.",
		map[bool]string{true: ", plungers level"}[len(r.Setup) == 2], r.Load.ShotsPerLoad, plural(r.Load.ShotsPerLoad, "mold"),
		r.Load.Loads, plural(r.Load.Loads, "time"))
	if len(r.Setup) == 2 {
		p.Linef("  %s runs out first.", strings.ToUpper(r.Load.Limiting))
	}
}

func pourWeigh(p *Page, r *laminate.Pour) {
	heading(p, 5, "WEIGH")
	p.Linef("  A bait: %s. Between %.2f and %.2f g by how much it drew while it shrank.", units.Mass(r.Bait.MassG), r.Bait.MassUnfedG, r.Bait.MassFedG)
	p.Linef("  Lighter than %.2f g: air in it or not filled. It is %.3f g/mL cold.", r.Bait.MassUnfedG, r.Bait.DensityGML)
}

func pourLine(p *Page, r *laminate.Pour) {
	if r.Line == nil {
		return
	}
	l := r.Line
	p.Linef("\nWHERE THE LINE LANDS  (%s to %s)", r.Setup[0].Name, r.Setup[1].Name)
	rows := [][]string{
		{"drawn", units.ShareText(l.AskedShare), height(l.AskedUpMM, l.AskedMM)},
		{"delivered", units.ShareText(l.DeliveredShare), height(l.DeliveredUpMM, l.DeliveredMM)},
	}
	p.Table(rows)
	if l.SplitAreaMM2 != nil {
		p.Linef("  The colours join over %.0f mm2; the line on the skin is %.0f mm long.", *l.SplitAreaMM2, *l.LineLengthMM)
	} else {
		p.Linef("  Where that lies in the bait takes a model of it.")
	}
}

func height(up, inModel *float64) string {
	if up == nil {
		return ""
	}
	return fmt.Sprintf("%s above the lowest point (%.2f mm in the model)", units.Length(*up), *inModel)
}

func pourShot(p *Page, r *laminate.Pour) {
	p.Linef("\nWHAT ONE SHOT TAKES  (hot; %s in all)", units.Volume(r.Shot.VolumeML))
	rows := [][]string{{"", "baits", "topping up", "runner, sprue", "together", "", "shots per cup"}}
	for i, c := range r.Shot.Colours {
		rows = append(rows, []string{c.Name, ml(c.BaitML), ml(c.TopUpML), ml(c.FeedML),
			units.Volume(c.TotalML).String(), units.Mass(c.MassG).String(), fmt.Sprintf("%.2f", r.ShotsPerCup[i].Shots)})
	}
	p.Table(rows)
}

func ml(v float64) string { return fmt.Sprintf("%.1f mL", v) }

func pourOrder(p *Page, r *laminate.Pour) {
	o := r.Order
	p.Linef("\nTHE ORDER")
	rows := [][]string{{"", "plastisol", "", "in baits", "trimmings", "left over"}}
	for i, c := range o.Colours {
		rows = append(rows, []string{c.Name, units.CupsText(units.Volume(c.PlastisolML)), units.Volume(c.PlastisolML).String(),
			fmt.Sprintf("%.0f g", c.BaitsG+c.SpareG), fmt.Sprintf("%.0f g", c.TrimmingsG), fmt.Sprintf("%.0f g, %.0f mL", c.LeftG, o.LeftoverML[i])})
	}
	p.Table(rows)
	for _, d := range r.Doses {
		total := fmt.Sprintf("%.1f g", d.TotalG)
		if d.TotalTsp != nil {
			total += ", " + units.SpoonsText(units.Volume(*d.TotalTsp)*units.Tsp)
		}
		p.Linef("  %s in %s: %s a cup (%.2f g); in all %s", d.Additive, d.Colour, d.PerCup, d.PerCupG, total)
	}
	if o.SpareBaits > 0 {
		p.Linef("  The last shot leaves %d spare %s.", o.SpareBaits, plural(o.SpareBaits, "bait"))
	}
	if o.Mixed {
		p.Linef("  Left over is one colour: use it again. Trimmings are mixed: never back into either colour.")
	}
	if o.Cost != nil {
		p.Linef("  Plastic and additives cost %.2f %s, %.2f a bait.", *o.Cost, r.Money, *o.CostPer)
	}
	if r.Left != nil {
		p.Linef("  What is left in the cups gives %d %s, %d %s; %s runs out first.", r.Left.Shots, plural(r.Left.Shots, "shot"),
			r.Left.Baits, plural(r.Left.Baits, "bait"), r.Left.Limiting)
	}
}
