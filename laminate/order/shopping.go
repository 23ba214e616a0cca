package order

import (
	"slices"

	"bellyline/cavity/units"
)

// Shopping is what an order uses up, whatever is on the shelf.
type Shopping struct {
	Plastisol []Bought `json:"plastisol"`
	Additives []Bought `json:"additives"`
	Bags      int      `json:"bags"`
}

// Bought is one thing on the list.
type Bought struct {
	Name  string   `json:"name"`
	MassG float64  `json:"mass_g"`
	ML    *float64 `json:"volume_ml"` // plastisol cold, additives as spooned; null when the loose density is not known
	Text  string   `json:"text"`      // in cups or spoons; empty when the volume is not known
}

// shopping adds up the heatings' cups as they are measured, by names.
func (r *run) shopping() Shopping {
	var s Shopping
	for _, h := range r.heatings {
		for _, cup := range h.Cups {
			mix := r.colours[cup.colour].mix
			ml := cup.PlastisolML
			add(&s.Plastisol, mix.Plastisol.Name, cup.PlastisolG, &ml)
			for k, d := range cup.Doses {
				var volume *float64
				if loose := mix.Doses[k].Additive.LooseGML; loose > 0 {
					v := d.MassG / loose
					volume = &v
				}
				add(&s.Additives, d.Additive, d.MassG, volume)
			}
		}
	}
	for i := range s.Plastisol {
		s.Plastisol[i].Text = units.CupsText(units.Volume(*s.Plastisol[i].ML))
	}
	for i, a := range s.Additives {
		if a.ML != nil {
			s.Additives[i].Text = r.measures.SpoonsText(units.Volume(*a.ML))
		}
	}
	for _, t := range r.tasks {
		s.Bags += t.Packs
	}
	return s
}

func add(list *[]Bought, name string, grams float64, ml *float64) {
	i := slices.IndexFunc(*list, func(b Bought) bool { return b.Name == name })
	if i < 0 {
		*list = append(*list, Bought{Name: name, MassG: grams, ML: ml})
		return
	}
	(*list)[i].MassG += grams
	if b := &(*list)[i]; b.ML != nil && ml != nil {
		*b.ML += *ml
	}
}
