package laminate

import (
	"fmt"
	"math"
	"slices"

	"bellyline/cavity"
	"bellyline/cavity/units"
)

// Heating is what goes into the cups for one heating. Heatings in a row that are
// alike are listed once.
type Heating struct {
	Times   int             `json:"times"`
	Shots   int             `json:"shots"`
	Colours []HeatingColour `json:"colours"`
}

// HeatingColour is one colour's cup in a heating.
type HeatingColour struct {
	Name        string        `json:"name"`
	Cups        float64       `json:"cups"` // fresh plastisol, on top of what the last heating left
	CupsText    string        `json:"cups_text"`
	PlastisolML float64       `json:"plastisol_ml"`
	PlastisolG  float64       `json:"plastisol_g"`
	Doses       []HeatingDose `json:"doses"`
}

// DosesWhen returns the doses of one time, before or after heating.
func (c HeatingColour) DosesWhen(when cavity.When) []HeatingDose {
	var list []HeatingDose
	for _, d := range c.Doses {
		if d.When == when {
			list = append(list, d)
		}
	}
	return list
}

// HeatingDose is one additive measured into one heating.
type HeatingDose struct {
	Additive string      `json:"additive"`
	When     cavity.When `json:"when"`
	Measure  string      `json:"measure"`  // as measured: spoons, grams or drops
	MassG    float64     `json:"mass_g"`   // of that measure
	WantedG  float64     `json:"wanted_g"` // by the recipe
	// WantedG as the shop's scale shows it: so many doses weighed at once and divided; 0
	// when it cannot show it.
	WeighCount int     `json:"weigh_count"`
	WeighG     float64 `json:"weigh_g"` // all of them
	Weigh      string  `json:"weigh"`   // "3.2 g", "0.8 g for 13 together"
	Off        float64 `json:"off"`     // what rounding did: measured over wanted, less one
}

// heatings plans the cups. Every heating is an even part of the order, in whole
// shots; fresh plastisol is measured to 1/8 cup, upwards; what barrels and cups
// keep goes on into the next heating of the same colour. Of that, up to 1/8 cup
// may find no room under the vessel's mark: it waits for a later heating, and the
// shots of this one do not need it.
func (r recipe) heatings(s Shot) ([]Heating, error) {
	most, err := r.shotsPerHeating(s)
	if err != nil {
		return nil, err
	}
	left := r.shots()
	each := ceilDiv(left, ceilDiv(left, most))
	carried := make([]float64, len(r.Colours)) // hot mL
	var list []Heating
	for left > 0 {
		h := Heating{Times: 1, Shots: min(each, left)}
		for i := range r.Colours {
			used := float64(h.Shots) * s.Colours[i].TotalML
			need := math.Max(0, used+r.keepsML(i)-carried[i])
			fresh := r.Measures.CeilCups(units.Volume(need / r.blends[i].HotML))
			carried[i] += fresh.ML()*r.blends[i].HotML - used
			h.Colours = append(h.Colours, MeasureCup(r.Measures, r.Colours[i].Name, r.Colours[i].Mix, r.blends[i], fresh))
		}
		left -= h.Shots
		list = appendHeating(list, h)
	}
	return list, nil
}

func appendHeating(list []Heating, h Heating) []Heating {
	if n := len(list); n > 0 && list[n-1].Shots == h.Shots && slices.EqualFunc(list[n-1].Colours, h.Colours,
		func(a, b HeatingColour) bool { return a.Cups == b.Cups }) {
		list[n-1].Times++
		return list
	}
	return append(list, h)
}

// keepsML is what barrel and cup keep of colour i, hot.
func (r recipe) keepsML(i int) float64 {
	return r.Injector.Barrels[i].KeepsML + r.Vessel.KeepsML
}

// shotsPerHeating is the largest number of shots that one heating of both
// colours gives, starting with empty barrels.
func (r recipe) shotsPerHeating(s Shot) (int, error) {
	most := math.MaxInt32
	for i, c := range s.Colours {
		hot := r.Vessel.PlastisolLimitML(r.Measures, r.blends[i])*r.blends[i].HotML - r.keepsML(i)
		n := wholeShots(hot, c.TotalML)
		if n < 1 {
			return 0, fmt.Errorf("%w: one shot takes %.1f mL of %s and %.1f mL stays in barrel and cup, but vessel %q filled to %.0f %% gives %.1f mL hot; use a larger vessel or fewer cavities",
				ErrJob, c.TotalML, c.Name, r.keepsML(i), r.Vessel.Name, r.Vessel.Fill*100, math.Max(0, hot+r.keepsML(i)))
		}
		most = min(most, n)
	}
	return most, nil
}

// MeasureCup measures out a cup of fresh plastisol with its additives: blend is the
// mix's, fresh a number of steps of its cups.
func MeasureCup(with units.Measures, colour string, mix cavity.Mix, blend cavity.Blend, fresh units.Volume) HeatingColour {
	out := HeatingColour{
		Name: colour, Cups: fresh.Cups(), CupsText: units.CupsText(fresh),
		PlastisolML: fresh.ML(), PlastisolG: fresh.ML() * mix.Plastisol.DensityGML,
	}
	for k, d := range mix.Doses {
		wanted := d.PerCup.Times(fresh.Cups())
		if wanted.Kind == units.ByPercent {
			wanted = units.Amount{Kind: units.ByMass, Value: blend.DoseG[k] * fresh.ML()}
		}
		measured := with.Measured(wanted)
		dose := HeatingDose{Additive: d.Additive.Name, When: d.Additive.When, Measure: with.Text(measured)}
		dose.MassG, _ = d.Additive.Grams(measured, 0) // the blend has already found every dose sound
		dose.WantedG = blend.DoseG[k] * fresh.ML()
		weighing := with.Weighing(dose.WantedG, doseWarning)
		dose.WeighCount, dose.WeighG, dose.Weigh = weighing.Count, weighing.TotalG, with.WeighingText(weighing)
		if wanted.Value > 0 {
			dose.Off = measured.Value/wanted.Value - 1
		}
		out.Doses = append(out.Doses, dose)
	}
	return out
}
