package bench

import (
	"fmt"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

// leastSkinMM is what would not be seen, nor printed as more than 0.0.
const leastSkinMM = 0.05

func lineGroup(p *laminate.Pour) group {
	g := newGroup("Where the line lands")
	l := p.Line
	if l == nil {
		g.Text = append(g.Text, "One colour: there is no line.")
		return g
	}
	if p.Across != nil {
		g.Text = append(g.Text, "No line: as the block stands the colours do not lie one over the other.")
		return g
	}
	if len(l.Layers) > 0 {
		layerRows(&g, l.Layers)
		return g
	}
	g.add("line.asked_share", "", "wanted, "+p.Setup[0].Name+" to "+p.Setup[1].Name, units.ShareText(l.AskedShare), "")
	g.add("line.delivered_share", "", "the barrels give", units.ShareText(l.DeliveredShare), "").Large = true
	if l.AskedUpMM != nil {
		g.addLength("line.asked_up_mm", "", "wanted, above the lowest point", *l.AskedUpMM)
	}
	if l.DeliveredUpMM != nil {
		g.addLength("line.delivered_up_mm", "", "delivered, above the lowest point", *l.DeliveredUpMM)
	}
	if l.Lands != nil {
		g.addLength("line.lands.mean_up_mm", "", "where two streams put it, mean above the lowest point", l.Lands.MeanUpMM)
		if l.Lands.SkinOver != "" && l.Lands.SkinMM >= leastSkinMM {
			g.addLength("line.lands.skin_mm", l.Lands.SkinOver, "skin of the other colour that the front lays over it", l.Lands.SkinMM)
		}
		g.Text = append(g.Text, "Elasticity, freezing, swirl at the gate and air are left out of where the streams put it: a trial shot decides.")
	}
	if l.SplitAreaMM2 != nil {
		const inch2 = float64(units.Inch * units.Inch)
		g.add("line.split_area_mm2", "", "the colours join over", fmt.Sprintf("%.0f mm²", *l.SplitAreaMM2), fmt.Sprintf("%.2f in²", *l.SplitAreaMM2/inch2))
		g.addLength("line.line_length_mm", "", "the line on the skin", *l.LineLengthMM)
		g.add("line.pieces", "", "pieces of the join", fmt.Sprint(*l.Pieces), "")
	}
	return g
}

// layerRows lists the lines between three colours and more.
func layerRows(g *group, layers []laminate.LayerLine) {
	for i, l := range layers {
		key, where := fmt.Sprintf("line.layers.%d.", i), l.Below+" to "+l.Above+": "
		g.add(key+"asked_share", "", where+"wanted, all below to all above", units.ShareText(l.AskedShare), "")
		g.add(key+"delivered_share", "", where+"the barrels give", units.ShareText(l.DeliveredShare), "").Large = true
		if l.AskedUpMM != nil {
			g.addLength(key+"asked_up_mm", "", where+"wanted, above the lowest point", *l.AskedUpMM)
		}
		if l.DeliveredUpMM != nil {
			g.addLength(key+"delivered_up_mm", "", where+"delivered, above the lowest point", *l.DeliveredUpMM)
		}
	}
}

func shotGroup(p *laminate.Pour) group {
	g := newGroup("What one shot takes, hot")
	for i, c := range p.Shot.Colours {
		key := fmt.Sprintf("shot.colours.%d.", i)
		g.addVolume(key+"bait_ml", c.Name, "in the baits", c.BaitML)
		g.addVolume(key+"topup_ml", c.Name, "topping up", c.TopUpML)
		g.addVolume(key+"feed_ml", c.Name, "runner, sprue", c.FeedML)
		g.addVolume(key+"total_ml", c.Name, "together", c.TotalML).Large = true
		g.addMass(key+"mass_g", c.Name, "weighs", c.MassG)
		g.add(fmt.Sprintf("shots_per_cup.%d.shots", i), c.Name, "shots to a cup", fmt.Sprintf("%.2f", p.ShotsPerCup[i].Shots), "")
	}
	g.addVolume("shot.volume_ml", "", "all colours", p.Shot.VolumeML)
	return g
}

func orderGroup(p *laminate.Pour) group {
	g := newGroup("The order")
	g.add("order.baits", "", "baits", fmt.Sprint(p.Order.Baits), "")
	g.add("order.spare_baits", "", "spare baits of the last shot", fmt.Sprint(p.Order.SpareBaits), "")
	for i, c := range p.Order.Colours {
		key := fmt.Sprintf("order.colours.%d.", i)
		metric, _ := both(units.Volume(c.PlastisolML).String())
		g.add(key+"plastisol_ml", c.Name, "plastisol", metric, units.CupsText(units.Volume(c.PlastisolML))).Large = true
		g.add(key+"left_g", c.Name, "left over, used again", grams(c.LeftG, 0), "")
		g.add(key+"trimmings_g", c.Name, "trimmings", grams(c.TrimmingsG, 0), "")
	}
	for i, d := range p.Doses {
		g.add(fmt.Sprintf("doses.%d.weigh_g", i), d.Colour, d.Additive+", by the recipe", d.Weigh, d.Total)
	}
	if p.Order.Cost != nil {
		g.Text = append(g.Text, fmt.Sprintf("Plastic and additives cost %.2f %s, %.2f a bait.", *p.Order.Cost, p.Money, *p.Order.CostPer))
	}
	if p.Order.Mixed {
		g.Text = append(g.Text, "Left over is one colour: use it again. Trimmings are mixed: never back into either colour.")
	}
	return g
}
