package laminate

import "math"

// Load is how the barrels are filled: a mold is filled in one stroke, so a
// barrel load is a whole number of shots, and the barrel that empties first
// sets it for both.
type Load struct {
	ShotsPerLoad int          `json:"shots_per_load"`
	Loads        int          `json:"loads"`
	Limiting     string       `json:"limiting_colour"`
	Barrels      []LoadBarrel `json:"barrels"`
}

// LoadBarrel is one barrel of a load.
type LoadBarrel struct {
	Colour   string  `json:"colour"`
	Barrel   string  `json:"barrel"`
	DrawML   float64 `json:"draw_ml"`   // to fill the barrel for a whole load, what it keeps included
	TravelMM float64 `json:"travel_mm"` // of the plunger for one mold; 0 when the bore is not known
	DrawMM   float64 `json:"draw_mm"`   // how far back the plunger then stands, air out; 0 when the bore is not known
}

// smallestLoad returns how many whole shots the fullest possible load gives.
func (in Injector) smallestLoad(s Shot) int {
	shots := math.MaxInt32
	for i, c := range s.Colours {
		shots = min(shots, wholeShots(in.Barrels[i].usableML(), c.TotalML))
	}
	return shots
}

// wholeShots counts the shots in a volume. A volume within a billionth of a
// whole number is that number: the rest is rounding.
func wholeShots(haveML, perShotML float64) int {
	if perShotML <= 0 {
		return math.MaxInt32
	}
	return int(math.Max(0, math.Min(math.Floor(haveML/perShotML*(1+1e-9)), math.MaxInt32)))
}

// load plans the barrel loads of all heatings. There is no sense in drawing more
// than the largest heating shoots.
func (r recipe) load(s Shot, heatings []Heating) Load {
	var l Load
	most := r.Injector.smallestLoad(s)
	for _, h := range heatings {
		l.ShotsPerLoad = max(l.ShotsPerLoad, min(most, h.Shots))
		l.Loads += h.Times * ceilDiv(h.Shots, most)
	}
	fewest := math.Inf(1)
	for i, c := range s.Colours {
		b := r.Injector.Barrels[i]
		if shots := b.usableML() / c.TotalML; shots < fewest {
			fewest, l.Limiting = shots, c.Name
		}
		draw := float64(l.ShotsPerLoad)*c.TotalML + b.KeepsML
		l.Barrels = append(l.Barrels, LoadBarrel{
			Colour: c.Name, Barrel: b.Name, DrawML: draw,
			TravelMM: b.TravelMM(c.TotalML), DrawMM: float64(l.ShotsPerLoad) * b.TravelMM(c.TotalML),
		})
	}
	return l
}

func ceilDiv(a, b int) int { return (a + b - 1) / b }
