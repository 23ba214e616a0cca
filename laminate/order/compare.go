package order

import "math"

// Difference is one figure of two plans.
type Difference struct {
	What string   `json:"what"`
	Unit string   `json:"unit"` // s, g, mL, pieces, money
	A    *float64 `json:"a"`    // null when not known
	B    *float64 `json:"b"`
}

// Comparison is two plans side by side.
type Comparison struct {
	A           *Plan        `json:"a"`
	B           *Plan        `json:"b"`
	Differences []Difference `json:"differences"`
}

// Compare puts two plans side by side.
func Compare(a, b *Plan) Comparison {
	c := Comparison{A: a, B: b}
	rows := func(p *Plan) []Difference {
		baits, shots, warm, fresh, left, dead := 0.0, 0.0, 0.0, 0.0, 0.0, p.Mixed.LeftG+p.Mixed.TooOldG
		for _, l := range p.Lines {
			baits += float64(l.Ordered)
			shots += float64(l.Shots + l.WarmUps)
			warm += float64(l.WarmUps)
		}
		for _, k := range p.Colours {
			fresh += k.FreshML
			left += k.ShelfG
			dead += k.TooOldG
		}
		money := [2]float64{math.NaN(), math.NaN()}
		if p.Cost != nil {
			money = [2]float64{p.Cost.Total, p.Cost.Total / baits}
		}
		var list []Difference
		for _, x := range []struct {
			what, unit string
			value      float64
		}{
			{"baits ordered", "pieces", baits}, {"heatings", "pieces", float64(len(p.Heatings))}, {"shots, with warm-ups", "pieces", shots}, {"of them warm-ups", "pieces", warm},
			{"at the bench", "s", p.PourS}, {"trimming and packing", "s", p.HandleS},
			{"plastisol", "mL", fresh}, {"one-colour leftovers", "g", left}, {"mixed or too old", "g", dead},
			{"cost", "money", money[0]}, {"cost of a bait", "money", money[1]},
		} {
			d := Difference{What: x.what, Unit: x.unit}
			if value := x.value; !math.IsNaN(value) {
				d.A = &value
			}
			list = append(list, d)
		}
		return list
	}
	c.Differences = rows(a)
	for i, d := range rows(b) {
		c.Differences[i].B = d.A
	}
	return c
}
