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
	// Filled to the brim: how many shots that gives, and how often it is drawn full in
	// all when it is refilled by itself. One handle draws both barrels at once.
	ShotsFull int `json:"shots_full"`
	Refills   int `json:"refills"`
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
	}
	l.Loads = refills(heatings, most)
	fewest := math.Inf(1)
	for i, c := range s.Colours {
		b := r.Injector.Barrels[i]
		if shots := b.usableML() / c.TotalML; shots < fewest {
			fewest, l.Limiting = shots, c.Name
		}
		draw := float64(l.ShotsPerLoad)*c.TotalML + b.KeepsML
		barrel := LoadBarrel{
			Colour: c.Name, Barrel: b.Name, DrawML: draw, ShotsFull: wholeShots(b.usableML(), c.TotalML), Refills: l.Loads,
			TravelMM: b.TravelMM(c.TotalML), DrawMM: float64(l.ShotsPerLoad) * b.TravelMM(c.TotalML),
		}
		if r.Injector.Drive == Independent {
			barrel.Refills = refills(heatings, barrel.ShotsFull)
		}
		l.Barrels = append(l.Barrels, barrel)
	}
	if r.Weighings.StrokeG != nil {
		l.travelAlike()
	}
	return l
}

// travelAlike moves both plungers as far as the one that gives most for its bore: under
// one handle they go together, and the other leaks or drew air.
func (l *Load) travelAlike() {
	travel, draw := 0.0, 0.0
	for _, b := range l.Barrels {
		travel, draw = max(travel, b.TravelMM), max(draw, b.DrawMM)
	}
	for i := range l.Barrels {
		l.Barrels[i].TravelMM, l.Barrels[i].DrawMM = travel, draw
	}
}

// refills is how often a barrel of so many shots is drawn in all heatings. It is empty
// at the end of each.
func refills(heatings []Heating, shotsFull int) int {
	n := 0
	for _, h := range heatings {
		n += h.Times * ceilDiv(h.Shots, shotsFull)
	}
	return n
}

func ceilDiv(a, b int) int { return (a + b - 1) / b }
