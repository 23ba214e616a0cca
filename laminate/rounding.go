package laminate

import (
	"math"
	"slices"

	"bellyline/cavity"
	"bellyline/cavity/units"
)

// Rounding is what it costs to measure in spoons, drops and steps of a scale.
type Rounding struct {
	To string `json:"to"` // what is measured with: "1/8 cup, 1/8 tsp and 0.1 g"
	// By how much a bait of the worst heatings differs from the recipe's, in g.
	BaitLeastG float64    `json:"bait_least_g"` // 0 or less
	BaitMostG  float64    `json:"bait_most_g"`  // 0 or more
	Strengths  []Strength `json:"strengths"`
}

// Strength is how strong an additive comes out: what is of it in the plastic over what
// the recipe wants, less one, in the weakest and the strongest heating.
type Strength struct {
	Colour   string  `json:"colour"`
	Additive string  `json:"additive"`
	Least    float64 `json:"least"`
	Most     float64 `json:"most"`
}

// Strengths gathers the doses of some cups by colour and additive.
func Strengths(cups []HeatingColour) []Strength {
	list := []Strength{}
	for _, c := range cups {
		if c.Cups == 0 {
			continue
		}
		for _, d := range c.Doses {
			i := slices.IndexFunc(list, func(s Strength) bool { return s.Colour == c.Name && s.Additive == d.Additive })
			if i < 0 {
				i, list = len(list), append(list, Strength{c.Name, d.Additive, d.Off, d.Off})
			}
			list[i].Least, list[i].Most = min(list[i].Least, d.Off), max(list[i].Most, d.Off)
		}
	}
	return list
}

// MeasuredBlend is what becomes of a mix whose doses are those measured into a cup.
// What goes on from an earlier heating is not in it.
func MeasuredBlend(mix cavity.Mix, cup HeatingColour) (cavity.Blend, error) {
	m := cavity.Mix{Plastisol: mix.Plastisol}
	for k, d := range cup.Doses {
		if d.MassG > 0 {
			perCup := units.Amount{Kind: units.ByMass, Value: d.MassG / cup.Cups}
			m.Doses = append(m.Doses, cavity.Dose{Additive: mix.Doses[k].Additive, PerCup: perCup})
		}
	}
	return m.Blend()
}

// rounding compares the baits of each heating with those of the recipe.
func (r recipe) rounding(heatings []Heating) (Rounding, error) {
	out := Rounding{To: r.Measures.String()}
	var cups []HeatingColour
	wanted := r.massG(r.Fed)
	for _, h := range heatings {
		with := r
		with.blends = slices.Clone(r.blends)
		for i, c := range h.Colours {
			if c.Cups == 0 { // poured from what was left: as the heating before
				continue
			}
			blend, err := MeasuredBlend(r.Colours[i].Mix, c)
			if err != nil {
				return out, err
			}
			with.blends[i] = denserBlend(blend, r.denser)
			cups = append(cups, c)
		}
		off := with.massG(r.Fed) - wanted
		if math.Abs(off) < 1e-9*wanted { // rounding of numbers, not of spoons
			off = 0
		}
		out.BaitLeastG, out.BaitMostG = min(out.BaitLeastG, off), max(out.BaitMostG, off)
	}
	out.Strengths = Strengths(cups)
	return out, nil
}

// togetherShare is how much of what lies on the scale its step may be: a bait is then
// known to 1 %. Common practice, no source.
const togetherShare = 0.01

// weighTogether is how many baits must lie on the scale at once.
func weighTogether(scaleG, baitG float64) int {
	return max(1, int(math.Ceil(scaleG/(togetherShare*baitG)-1e-9)))
}
