package laminate

import (
	"bellyline/cavity"
	"bellyline/cavity/units"
)

// Dose is one additive of one colour, for a cup of plastisol and for the order.
type Dose struct {
	Colour   string      `json:"colour"`
	Additive string      `json:"additive"`
	When     cavity.When `json:"when"`
	PerCup   string      `json:"per_cup"`
	PerCupG  float64     `json:"per_cup_g"`
	TotalG   float64     `json:"total_g"`
	TotalTsp *float64    `json:"total_tsp"` // null when its loose density is not known
	// The same as it is measured and weighed in the shop.
	Total  string  `json:"total"` // empty when its loose density is not known
	WeighG float64 `json:"weigh_g"`
	Weigh  string  `json:"weigh"`
}

// doses lists every additive; cups are those that the order measures out.
func (r recipe) doses(cups []float64) []Dose {
	list := []Dose{}
	for i, c := range r.Colours {
		for k, d := range c.Mix.Doses {
			perCup := r.blends[i].DoseG[k] * units.Cup.ML()
			dose := Dose{
				Colour: c.Name, Additive: d.Additive.Name, When: d.Additive.When,
				PerCup: d.PerCup.String(), PerCupG: perCup, TotalG: perCup * cups[i],
			}
			weighing := r.Measures.Weighing(dose.TotalG, doseWarning)
			dose.WeighG, dose.Weigh = weighing.TotalG, r.Measures.WeighingText(weighing)
			if loose := d.Additive.LooseGML; loose > 0 {
				tsp := units.Volume(dose.TotalG / loose).Tsp()
				dose.TotalTsp = &tsp
				dose.Total = r.Measures.SpoonsText(units.Volume(dose.TotalG / loose))
			}
			list = append(list, dose)
		}
	}
	return list
}
