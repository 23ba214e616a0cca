package document

import (
	"fmt"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

func order(p *laminate.Pour) Step {
	s := newStep(0, "The order")
	s.OffSheet = true
	o := p.Order
	var rows []Row
	for i, c := range o.Colours {
		key := fmt.Sprintf("order.colours.%d.", i)
		cups := units.Volume(c.PlastisolML)
		rows = append(rows, colour(c.Name,
			Cell{Key: key + "plastisol_ml", Label: "plastisol", Pair: units.Pair{Metric: cups.Pair().Metric, US: units.CupsText(cups), USFirst: true}, Large: true},
			number(key+"baits_g", "in baits", grams(c.BaitsG)), number(key+"spare_g", "spare", grams(c.SpareG)), number(key+"trimmings_g", "trimmings", grams(c.TrimmingsG)),
			number(key+"left_g", "left over", grams(c.LeftG)), number(fmt.Sprintf("order.leftover_ml.%d", i), "cold", fmt.Sprintf("%.0f mL", o.LeftoverML[i]))))
	}
	s.rows(Columns, rows...)
	recipe(&s, p.Doses)
	s.rows(Lines, Row{Cells: []Cell{count("order.baits", "baits", o.Baits), count("order.spare_baits", "spare baits of the last shot", o.SpareBaits)}})
	if o.Mixed {
		s.say("Left over is one colour: use it again. Trimmings are mixed: never back into either colour.")
	}
	if o.Cost != nil {
		s.say("Plastic and additives cost %.2f %s, %.2f a bait.", *o.Cost, p.Money, *o.CostPer)
	}
	if l := p.Left; l != nil {
		first := ""
		if len(p.Setup) > 1 {
			first = "; " + l.Limiting + " runs out first"
		}
		s.say("What is left in the cups gives %d %s, %d %s%s.", l.Shots, Plural(l.Shots, "shot"), l.Baits, Plural(l.Baits, "bait"), first)
	}
	return s
}

// recipe lists the additives as the recipe has them, before spoons round them.
func recipe(s *Step, doses []laminate.Dose) {
	var rows []Row
	for i, d := range doses {
		key := fmt.Sprintf("doses.%d.", i)
		rows = append(rows, colour(d.Colour,
			Cell{Key: key + "per_cup_g", Label: d.Additive + " a cup", Pair: units.Pair{Metric: fmt.Sprintf("%.2f g", d.PerCupG), US: d.PerCup, USFirst: true}},
			Cell{Key: key + "weigh_g", Label: d.Additive + " in all", Pair: units.Pair{Metric: d.Weigh, US: d.Total}}))
	}
	s.add(Block{Form: Lines, Title: "By the recipe", Rows: rows})
}
