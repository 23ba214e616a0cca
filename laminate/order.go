package laminate

import (
	"math"

	"bellyline/cavity/units"
)

// Order is what an order of baits takes.
type Order struct {
	Baits      int           `json:"baits"`
	Shots      int           `json:"shots"`
	SpareBaits int           `json:"spare_baits"` // the last shot fills every cavity
	Colours    []OrderColour `json:"colours"`
	LeftoverML []float64     `json:"leftover_ml"` // one-colour, cold: used again
	TrimmingsG float64       `json:"trimmings_g"` // runner, sprue and plug; of two colours: never back into either
	Mixed      bool          `json:"trimmings_mixed"`
	Cost       *float64      `json:"cost"`          // null unless every price was given
	CostPer    *float64      `json:"cost_per_bait"` // per bait ordered
}

// OrderColour is the account of one colour in grams:
// BoughtG = BaitsG + SpareG + TrimmingsG + LeftG.
type OrderColour struct {
	Name        string  `json:"name"`
	Cups        float64 `json:"cups"`         // plastisol to measure out, in 1/8 cups
	PlastisolML float64 `json:"plastisol_ml"` // the same
	HotML       float64 `json:"hot_ml"`       // shot, all baits and feed
	ColdML      float64 `json:"cold_ml"`      // the same plastic, mixed and cold
	BoughtG     float64 `json:"bought_g"`     // plastisol and additives
	BaitsG      float64 `json:"baits_g"`
	SpareG      float64 `json:"spare_g"`
	TrimmingsG  float64 `json:"trimmings_g"`
	LeftG       float64 `json:"left_g"` // in barrel and cup, one colour
}

func (r recipe) order(s Shot, heatings []Heating) Order {
	o := Order{Baits: r.orderedBaits(), Shots: r.shots(), Mixed: len(r.Colours) > 1}
	o.SpareBaits = o.Shots*r.Cavities - o.Baits
	cost, priced := 0.0, true
	for i, c := range s.Colours {
		oc := OrderColour{Name: c.Name}
		for _, h := range heatings {
			oc.PlastisolML += float64(h.Times) * h.Colours[i].PlastisolML
		}
		oc.HotML, oc.ColdML = c.TotalML*float64(o.Shots), c.ColdML*float64(o.Shots)
		perBait := c.baitG / float64(r.Cavities)
		oc.Cups = units.Volume(oc.PlastisolML).Cups()
		oc.BoughtG = oc.PlastisolML * r.blends[i].MassG
		oc.BaitsG = perBait * float64(o.Baits)
		oc.SpareG = perBait * float64(o.SpareBaits)
		oc.TrimmingsG = c.feedG * float64(o.Shots)
		oc.LeftG = max(0, oc.BoughtG-c.MassG*float64(o.Shots)) // CeilCups lets rounding pass
		o.TrimmingsG += oc.TrimmingsG
		o.LeftoverML = append(o.LeftoverML, oc.LeftG/r.blends[i].ColdDensity)
		o.Colours = append(o.Colours, oc)
		colourCost, ok := r.costOf(i, oc.PlastisolML)
		cost, priced = cost+colourCost, priced && ok
	}
	if priced {
		per := cost / float64(o.Baits)
		o.Cost, o.CostPer = &cost, &per
	}
	return o
}

// costOf prices plastisolML of colour i with its additives; false when a price is missing.
func (r recipe) costOf(i int, plastisolML float64) (float64, bool) {
	mix := r.Colours[i].Mix
	if mix.Plastisol.PricePerML == 0 {
		return 0, false
	}
	total := plastisolML * mix.Plastisol.PricePerML
	for k, d := range mix.Doses {
		if d.Additive.PricePerGram == 0 {
			return 0, false
		}
		total += r.blends[i].DoseG[k] * plastisolML * d.Additive.PricePerGram
	}
	return total, true
}

// CupShots is how many shots one cup of plastisol gives, with its additives,
// before what barrel and cup keep.
type CupShots struct {
	Name  string  `json:"name"`
	Shots float64 `json:"shots"`
}

func (r recipe) shotsPerCup(s Shot) []CupShots {
	var list []CupShots
	for i, c := range s.Colours {
		list = append(list, CupShots{c.Name, r.blends[i].HotML * units.Cup.ML() / c.TotalML})
	}
	return list
}

// Left answers "this much is left in each batch: how many baits?"
type Left struct {
	Shots    int    `json:"shots"`
	Baits    int    `json:"baits"`
	Limiting string `json:"limiting_colour"`
}

// left counts whole shots from hot plastic in the cups. The barrels are taken as
// primed, so only what the cup keeps is lost.
func (r recipe) left(s Shot) *Left {
	if r.LeftML == nil {
		return nil
	}
	out := &Left{}
	fewest := math.Inf(1)
	for i, c := range s.Colours {
		have := r.LeftML[i] - r.Vessel.KeepsML
		if shots := have / c.TotalML; shots < fewest {
			fewest, out.Limiting = shots, c.Name
			out.Shots = wholeShots(have, c.TotalML)
		}
	}
	out.Baits = out.Shots * r.Cavities
	return out
}
