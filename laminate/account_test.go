package laminate

import (
	"errors"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// rounding is what units.CeilCups lets pass as rounding, in mL of plastisol: a
// millionth of 1/8 cup.
const rounding = cupML / 8 * 1e-6

// hair is by how much, relatively, a volume may miss a whole number of shots and
// count as that number or as one less: random jobs do fill barrels and vessels
// exactly, and then rounding decides. It is a little more than wholeShots allows.
const hair = 2e-9

// shotsIn counts the shots of a volume one by one: those that there are for
// certain, and those that there are if a hair is overlooked.
func shotsIn(have, each float64) (certain, perhaps int) {
	for float64(certain+1)*each <= have*(1-hair) {
		certain++
	}
	for perhaps = certain; float64(perhaps+1)*each <= have*(1+hair); perhaps++ {
	}
	return certain, perhaps
}

// forRandomJobs pours a few thousand random jobs. A refusal must be right.
func forRandomJobs(t *testing.T, check func(t *rapid.T, j Job, p *Pour, d rederived)) {
	from := bodies(t)
	answered, refused := 0, 0
	for range 20 { // of a hundred each
		rapid.Check(t, func(t *rapid.T) {
			j := randomJob(t, from)
			p, err := j.Pour(t.Context())
			if err != nil {
				refused++
				checkRefusal(t, j, err)
				return
			}
			answered++
			asked := 1.0
			if p.Line != nil {
				asked = p.Line.AskedShare
			}
			check(t, j, p, rederive(j, asked))
		})
	}
	if answered < refused {
		t.Errorf("only %d of %d jobs had an answer", answered, answered+refused)
	}
}

// checkRefusal finds out for itself whether a shot is too large for a barrel or a
// vessel.
func checkRefusal(t *rapid.T, j Job, err error) {
	asked := 0.0
	for _, l := range j.Lines {
		asked = l.Share
		if !l.ByPlace {
			continue
		}
		s, cutErr := j.Cavity.Section(t.Context(), l.Boundary.PlaceMM())
		if cutErr != nil {
			t.Fatal(cutErr)
		}
		asked = s.BelowMM3 / (s.BelowMM3 + s.AboveMM3)
	}
	d := rederive(j, asked)
	barrels, vessels := true, true
	for i, s := range d.shot {
		b := j.Injector.Barrels[i]
		barrels = barrels && s.hotML <= (b.CapacityML-b.KeepsML)*(1-hair)
		vessels = vessels && fitsVessel(j, d, i, 1, -hair)
	}
	switch {
	case !barrels && errors.Is(err, ErrInjector), !vessels && errors.Is(err, ErrJob):
	default:
		t.Errorf("barrels hold a shot: %v, vessels do: %v; refused by %v", barrels, vessels, err)
	}
}

// fitsVessel tells whether n shots and what barrel and vessel keep come out of
// one vessel of fresh plastic, measured in eighths of a cup, give or take slack.
func fitsVessel(j Job, d rederived, i, n int, slack float64) bool {
	m, eighths := d.mixes[i], 0
	// A mark that is missed by under a millionth of a step counts, as in FloorCups.
	for next := 1 - 1e-6*(1+slack); next/8*m.coldML <= j.Vessel.HoldsML*j.Vessel.Fill && next/8*m.hotML <= j.Vessel.HoldsML; next++ {
		eighths++
	}
	keeps := j.Injector.Barrels[i].KeepsML + j.Vessel.KeepsML
	return float64(n)*d.shot[i].hotML+keeps <= float64(eighths)/8*m.hotML*(1+slack)
}

func TestShotAgainstASecondDerivation(t *testing.T) {
	forRandomJobs(t, func(t *rapid.T, j Job, p *Pour, d rederived) {
		equal(t, "bait", p.Bait.MassG, d.baitG)
		equal(t, "cavity", p.Bait.VolumeML, d.cavML)
		if !(p.Bait.MassUnfedG <= p.Bait.MassG*(1+1e-14) && p.Bait.MassG <= p.Bait.MassFedG*(1+1e-14)) {
			t.Errorf("a bait of %g g outside of %g to %g", p.Bait.MassG, p.Bait.MassUnfedG, p.Bait.MassFedG)
		}
		equal(t, "bait between unfed and fed", p.Bait.MassG, p.Bait.MassUnfedG+j.Fed*(p.Bait.MassFedG-p.Bait.MassUnfedG))
		if j.Cavity == nil {
			equal(t, "a weighed bait", p.Bait.MassG, j.WeighedBaitG)
		}
		volume := 0.0
		for i, c := range p.Shot.Colours {
			s := d.shot[i]
			equal(t, "grams", c.MassG, d.shotG(i))
			equal(t, "hot", c.TotalML, s.hotML)
			equal(t, "cold", c.ColdML, d.shotG(i)/d.mixes[i].cold())
			equal(t, "baits as they fill", c.BaitML, float64(j.Cavities)*d.cavML*d.shares[i])
			equal(t, "parts of the whole", c.BaitML+c.TopUpML+c.FeedML, c.TotalML)
			equal(t, "feed", c.FeedML*d.mixes[i].hot(), s.feedG)
			equal(t, "shots a cup", p.ShotsPerCup[i].Shots*s.hotML, d.mixes[i].hotML)
			volume += c.TotalML
		}
		equal(t, "the whole shot", p.Shot.VolumeML, volume)
		if j.Injector.Drive == Ganged && len(j.Colours) == 2 {
			for i, c := range p.Shot.Colours {
				equal(t, "bores' ratio of the whole shot", c.Share, d.shares[i])
			}
			equal(t, "one handle, one travel", p.Load.Barrels[0].TravelMM, p.Load.Barrels[1].TravelMM)
		}
	})
}

func TestOrderClosesInGrams(t *testing.T) {
	forRandomJobs(t, func(t *rapid.T, j Job, p *Pour, d rederived) {
		o, baits := p.Order, j.Baits
		if baits == 0 {
			baits = j.Cavities
		}
		if o.Baits != baits || o.Shots*j.Cavities < baits || (o.Shots-1)*j.Cavities >= baits || o.SpareBaits != o.Shots*j.Cavities-baits {
			t.Errorf("%d baits ordered of %d cavities: %+v", baits, j.Cavities, o)
		}
		shots, trimmings := float64(o.Shots), 0.0
		for i, c := range o.Colours {
			m, s := d.mixes[i], d.shot[i]
			cups := 0.0
			for _, h := range p.Heatings {
				cups += float64(h.Times) * h.Colours[i].Cups
			}
			equal(t, "cups", c.Cups, cups)
			equal(t, "plastisol", c.PlastisolML, cups*cupML)
			equal(t, "bought", c.BoughtG, cups*m.grams)
			equal(t, "in baits", c.BaitsG+c.SpareG, s.baitG*shots)
			equal(t, "baits of all baits", c.BaitsG*float64(o.Shots*j.Cavities), s.baitG*shots*float64(o.Baits))
			equal(t, "trimmings", c.TrimmingsG, s.feedG*shots)
			trimmings += s.feedG * shots
			slack := rounding * m.grams / cupML
			within(t, "bought is in baits, trimmings or left", c.BaitsG+c.SpareG+c.TrimmingsG+c.LeftG, c.BoughtG, slack+1e-11*c.BoughtG)
			kept := (j.Injector.Barrels[i].KeepsML + j.Vessel.KeepsML) * m.hot()
			if c.LeftG < 0 || c.LeftG < kept-slack-1e-11*c.BoughtG || c.LeftG > kept+m.grams/8+slack {
				t.Errorf("%g g left, %g g kept, at most 1/8 cup of %g g more", c.LeftG, kept, m.grams/8)
			}
			equal(t, "left over, cold", o.LeftoverML[i]*m.cold(), c.LeftG)
		}
		equal(t, "all trimmings", o.TrimmingsG, trimmings)
		checkCost(t, j, p, d)
	})
}

func checkCost(t *rapid.T, j Job, p *Pour, d rederived) {
	cost, priced := 0.0, true
	for i, c := range j.Colours {
		cups := p.Order.Colours[i].Cups
		priced = priced && c.Mix.Plastisol.PricePerML > 0
		cost += cups * cupML * c.Mix.Plastisol.PricePerML
		for k, dose := range c.Mix.Doses {
			priced = priced && dose.Additive.PricePerGram > 0
			cost += cups * d.mixes[i].doseG[k] * dose.Additive.PricePerGram
		}
	}
	switch {
	case priced != (p.Order.Cost != nil) || priced != (p.Order.CostPer != nil):
		t.Errorf("all prices given: %v; cost %v", priced, p.Order.Cost)
	case priced:
		equal(t, "cost", *p.Order.Cost, cost)
		equal(t, "cost per bait", *p.Order.CostPer*float64(p.Order.Baits), cost)
	}
}

func TestDosesAddUp(t *testing.T) {
	forRandomJobs(t, func(t *rapid.T, j Job, p *Pour, d rederived) {
		n := 0
		for i, c := range j.Colours {
			for k, given := range c.Mix.Doses {
				dose := p.Doses[n]
				n++
				if dose.Colour != c.Name || dose.Additive != given.Additive.Name || dose.When != given.Additive.When {
					t.Errorf("dose %+v stands for %s in %s", dose, given.Additive.Name, c.Name)
				}
				equal(t, "grams a cup", dose.PerCupG, d.mixes[i].doseG[k])
				equal(t, "grams in all", dose.TotalG, d.mixes[i].doseG[k]*p.Order.Colours[i].Cups)
				if known := given.Additive.LooseGML > 0; known != (dose.TotalTsp != nil) {
					t.Errorf("loose density known: %v, teaspoons %v", known, dose.TotalTsp)
				} else if known {
					equal(t, "teaspoons in all", *dose.TotalTsp*cupML/48*given.Additive.LooseGML, dose.TotalG)
				}
				for _, h := range p.Heatings {
					measured, wanted := h.Colours[i].Doses[k], d.mixes[i].doseG[k]*h.Colours[i].Cups
					if wanted > 0 {
						equal(t, "what rounding did", measured.MassG, wanted*(1+measured.Off))
					}
				}
			}
		}
		if n != len(p.Doses) {
			t.Errorf("%d doses, %d given", len(p.Doses), n)
		}
	})
}

// checkFirst says whether the named colour is one that runs out first, of those
// that give so many shots each.
func checkFirst(t *rapid.T, name string, j Job, shots []float64) {
	i := slices.IndexFunc(j.Colours, func(c Colour) bool { return c.Name == name })
	if least := slices.Min(shots); i < 0 || shots[i] > least+hair*math.Abs(least) {
		t.Errorf("%q is said to run out first; shots: %v", name, shots)
	}
}

func TestWhatIsLeftGivesWholeShots(t *testing.T) {
	forRandomJobs(t, func(t *rapid.T, j Job, p *Pour, d rederived) {
		certain, perhaps := math.MaxInt, math.MaxInt
		var shots []float64
		for i := range j.Colours {
			have := j.LeftML[i] - j.Vessel.KeepsML
			n, m := shotsIn(have, d.shot[i].hotML)
			certain, perhaps = min(certain, n), min(perhaps, m)
			shots = append(shots, have/d.shot[i].hotML)
		}
		checkFirst(t, p.Left.Limiting, j, shots)
		if l := p.Left; l.Shots < certain || l.Shots > perhaps || l.Baits != l.Shots*j.Cavities {
			t.Errorf("left: %+v, want %d to %d shots", l, certain, perhaps)
		}
		j.LeftML = nil
		if pourIt(t, j).Left != nil {
			t.Error("an answer that nobody asked for")
		}
	})
}
