package laminate

import (
	"context"
	"fmt"
	"slices"

	"bellyline/cavity"
	"bellyline/cavity/units"
)

// DoseFor is how much of an additive gives the bait a wanted weight.
type DoseFor struct {
	Additive string  `json:"additive"`
	BaitG    float64 `json:"bait_g"`    // wanted
	PerCupG  float64 `json:"per_cup_g"` // to each cup of every colour, instead of what the recipe says
	PerCup   string  `json:"per_cup"`   // in spoons, rounded; empty when its loose density is not known
}

// heaviestDose is more grams to a cup than there is plastisol in it.
const heaviestDose = 400

// DoseFor finds how much of an additive every cup of all colours must get for a bait
// to weigh baitG, by halving: more of what is heavier than the mix never makes it
// lighter. Errors wrap ErrJob. It costs some sixty blends, no cut of the model.
func (j Job) DoseFor(ctx context.Context, a cavity.Additive, baitG float64) (*DoseFor, error) {
	if j.Cavity == nil {
		return nil, fmt.Errorf("%w: with only a weighed bait, its weight is what it is; a dose for another weight takes a model", ErrJob)
	}
	if j.Across != nil {
		return nil, fmt.Errorf("%w: with the streams across the parting face its baits do not weigh alike, so no dose gives all of them one weight", ErrJob)
	}
	r, _, _, err := j.recipe(ctx)
	if err != nil {
		return nil, err
	}
	weight := func(grams float64) (float64, error) {
		with := r
		with.blends = nil
		for _, c := range j.Colours {
			m := cavity.Mix{Plastisol: c.Mix.Plastisol, Doses: slices.DeleteFunc(slices.Clone(c.Mix.Doses), func(d cavity.Dose) bool { return d.Additive.Name == a.Name })}
			m.Doses = append(m.Doses, cavity.Dose{Additive: a, PerCup: units.Amount{Kind: units.ByMass, Value: grams}})
			b, err := m.Blend()
			if err != nil {
				return 0, err
			}
			with.blends = append(with.blends, denserBlend(b, r.denser))
		}
		return with.bait().MassG, nil
	}
	least, err := weight(0)
	if err != nil {
		return nil, err
	}
	most, err := weight(heaviestDose)
	if err != nil {
		return nil, err
	}
	if !(baitG >= least && baitG <= most) {
		return nil, fmt.Errorf("%w: with %s a bait of this mold weighs %.2f g without any to %.2f g with %d g in a cup; %.2f g lies outside", ErrJob, a.Name, least, most, heaviestDose, baitG)
	}
	low, high := 0.0, float64(heaviestDose)
	for range 60 {
		mid := (low + high) / 2
		g, err := weight(mid)
		if err != nil {
			return nil, err
		}
		if g < baitG {
			low = mid
		} else {
			high = mid
		}
	}
	out := &DoseFor{Additive: a.Name, BaitG: baitG, PerCupG: high}
	if a.LooseGML > 0 {
		out.PerCup = j.Measures.SpoonsText(units.Volume(high / a.LooseGML))
	}
	return out, nil
}
