package order

import (
	"slices"

	"bellyline/laminate"
)

// Rounding is what it costs to measure in spoons, drops and steps of a scale.
type Rounding struct {
	To        string              `json:"to"`
	Weights   []WeightOff         `json:"weights"`
	Strengths []laminate.Strength `json:"strengths"`
}

// WeightOff is by what share the plastic of one colour comes out heavier or lighter than
// by its recipe, in the lightest and the heaviest cup.
type WeightOff struct {
	Colour string  `json:"colour"`
	Least  float64 `json:"least"`
	Most   float64 `json:"most"`
}

func (r *run) rounding() (Rounding, error) {
	out := Rounding{To: r.measures.String(), Weights: []WeightOff{}}
	var cups []laminate.HeatingColour
	for _, h := range r.heatings {
		for _, c := range h.Cups {
			if c.Cups == 0 {
				continue
			}
			cups = append(cups, c.HeatingColour)
			own := r.colours[c.colour]
			blend, err := laminate.MeasuredBlend(own.mix, c.HeatingColour)
			if err != nil {
				return out, err
			}
			out.weigh(c.Name, blend.ColdDensity/own.blend.ColdDensity-1)
		}
	}
	out.Strengths = laminate.Strengths(cups)
	return out, nil
}

func (o *Rounding) weigh(colour string, off float64) {
	i := slices.IndexFunc(o.Weights, func(w WeightOff) bool { return w.Colour == colour })
	if i < 0 {
		o.Weights = append(o.Weights, WeightOff{colour, off, off})
		return
	}
	o.Weights[i].Least, o.Weights[i].Most = min(o.Weights[i].Least, off), max(o.Weights[i].Most, off)
}
