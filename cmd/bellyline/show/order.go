package show

import (
	"fmt"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

func pourOrder(p *Page, r *laminate.Pour) {
	o := r.Order
	p.Linef("\nTHE ORDER")
	rows := [][]string{{"", "plastisol", "", "in baits", "trimmings", "left over"}}
	for i, c := range o.Colours {
		rows = append(rows, []string{c.Name, units.CupsText(units.Volume(c.PlastisolML)), units.Volume(c.PlastisolML).String(),
			fmt.Sprintf("%.0f g", c.BaitsG+c.SpareG), fmt.Sprintf("%.0f g", c.TrimmingsG), fmt.Sprintf("%.0f g, %.0f mL", c.LeftG, o.LeftoverML[i])})
	}
	p.Table(rows)
	orderDoses(p, r.Doses)
	p.Linef("")
	if o.SpareBaits > 0 {
		p.Linef("  The last shot leaves %d spare %s.", o.SpareBaits, Plural(o.SpareBaits, "bait"))
	}
	if o.Mixed {
		p.Linef("  Left over is one colour: use it again. Trimmings are mixed: never back into either colour.")
	}
	if o.Cost != nil {
		p.Linef("  Plastic and additives cost %.2f %s, %.2f a bait.", *o.Cost, r.Money, *o.CostPer)
	}
	if r.Left != nil {
		p.Linef("  What is left in the cups gives %d %s, %d %s%s.", r.Left.Shots, Plural(r.Left.Shots, "shot"),
			r.Left.Baits, Plural(r.Left.Baits, "bait"), map[bool]string{true: "; " + r.Left.Limiting + " runs out first"}[len(r.Setup) == 2])
	}
}

// orderDoses lists the additives as the recipe has them, before spoons round them.
func orderDoses(p *Page, doses []laminate.Dose) {
	if len(doses) == 0 {
		return
	}
	p.Linef("")
	rows := [][]string{{"", "additive", "for each cup", "", "in all, by the recipe"}}
	for _, d := range doses {
		row := []string{d.Colour, d.Additive, d.PerCup, fmt.Sprintf("%.2f g", d.PerCupG), d.Weigh}
		if d.Total != "" {
			row[4] += ", " + d.Total
		}
		rows = append(rows, row)
	}
	p.Table(rows)
}
