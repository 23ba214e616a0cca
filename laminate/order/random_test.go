package order

import (
	"context"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"bellyline/cavity"
	"bellyline/cavity/units"
	"bellyline/laminate"
)

// The shop of random orders is invented.

func between(t *rapid.T, what string, low, high float64) float64 {
	return low + (high-low)*float64(rapid.IntRange(0, 1000).Draw(t, what))/1000
}

func randomColours(t *rapid.T) []laminate.Colour {
	var list []laminate.Colour
	for i := range rapid.IntRange(1, 4).Draw(t, "colours") {
		salt := cavity.Additive{Name: "salt", LooseGML: 1.2, TrueGML: 2.165, When: cavity.BeforeHeating, PricePerGram: 0.002}
		c := laminate.Colour{Name: fmt.Sprintf("colour %d", i), Half: "half"}
		c.Mix.Plastisol = cavity.Plastisol{
			Name: "soft", DensityGML: between(t, "density", 0.95, 1.2), ExpansionPerC: between(t, "expansion", 0, 0.001),
			Room: 21, Pour: 171, Ceiling: 190, Coldest: units.Celsius(between(t, "coldest", 120, 165)), PricePerML: 0.01,
		}
		if rapid.Bool().Draw(t, "salted") {
			c.Mix.Doses = []cavity.Dose{{Additive: salt, PerCup: units.Amount{Kind: units.ByMass, Value: between(t, "salt", 0, 60)}}}
		}
		if rapid.IntRange(0, 3).Draw(t, "takes") == 0 {
			c.TakesMixed = between(t, "mixed", 0, 1)
		}
		list = append(list, c)
	}
	return list
}

func randomOrder(t *rapid.T) Order {
	o := Order{Name: "random", Bench: Bench{
		ShotS: between(t, "shot", 1, 60), RefillS: between(t, "refill", 0, 30), HeatSPerML: between(t, "heat", 0, 1), AtOnce: rapid.Bool().Draw(t, "at once"),
		RoomC: 21, WarmUp: rapid.IntRange(0, 2).Draw(t, "warm-up"), ColdAfterS: between(t, "cold", 0, 2) * 1800, PurgeML: between(t, "purge", 0, 20),
		Reheats: rapid.IntRange(0, 4).Draw(t, "reheats"), HandleS: 5, PackS: 20, LabourPerHour: 20, TaxShare: 0.08,
	}}
	if o.Bench.ColdAfterS < 900 {
		o.Bench.ColdAfterS = 0
	}
	colours := randomColours(t)
	injectors := []laminate.Injector{
		{Name: "single", Barrels: []laminate.Barrel{{Name: "barrel", CapacityML: 300, KeepsML: 5}}},
		{Name: "pair", Drive: laminate.Independent, Barrels: []laminate.Barrel{{Name: "left", CapacityML: 200, KeepsML: 4}, {Name: "right", CapacityML: 250, KeepsML: 3}}},
		{Name: "triple", Drive: laminate.Independent, Barrels: []laminate.Barrel{{Name: "left", CapacityML: 200, KeepsML: 4}, {Name: "middle", CapacityML: 220, KeepsML: 2}, {Name: "right", CapacityML: 250, KeepsML: 3}}},
	}
	vessels := []laminate.Vessel{
		{Name: "large", HoldsML: 1200, Fill: 0.5, KeepsML: 8, Cooling: laminate.Cooling{FromC: 171, ToC: 160, AfterS: between(t, "cools", 120, 900)}},
		{Name: "small", HoldsML: 700, Fill: 0.6, KeepsML: 4},
	}
	for i := range rapid.IntRange(1, 5).Draw(t, "lines") {
		two := len(colours) > 1 && rapid.Bool().Draw(t, "two")
		j := laminate.Job{
			Bait: fmt.Sprint("bait ", i), Mold: fmt.Sprint("mold ", i), WeighedBaitG: between(t, "bait", 1, 20), Cavities: rapid.IntRange(1, 6).Draw(t, "cavities"),
			Fed: between(t, "fed", 0, 1), Feed: cavity.Feed{{Name: "runner", VolumeML: between(t, "runner", 0, 12)}},
			Vessel: rapid.SampledFrom(vessels).Draw(t, "vessel"), WaterC: 20, MaxDifferenceC: 5,
		}
		first := rapid.IntRange(0, len(colours)-1).Draw(t, "first")
		j.Colours = []laminate.Colour{colours[first]}
		j.Injector = injectors[0]
		if two {
			j.Colours = append(j.Colours, colours[(first+1)%len(colours)])
			j.Injector = injectors[1]
			j.Lines = []laminate.Line{{Share: between(t, "share", 0.2, 0.8)}}
		}
		if two && len(colours) > 2 && rapid.Bool().Draw(t, "three") {
			j.Colours = append(j.Colours, colours[(first+2)%len(colours)])
			j.Injector = injectors[2]
			lowest := between(t, "lowest", 0.2, 0.5)
			j.Lines = laminate.LinesFor(laminate.Level{}, []float64{lowest, 0.7 - lowest, 0.3})
		}
		pour, err := j.Pour(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		l := Line{
			Name: fmt.Sprint("line ", i+1), Job: j, Pour: pour, Pieces: rapid.IntRange(1, 150).Draw(t, "pieces"), Molds: rapid.IntRange(1, 3).Draw(t, "molds"),
			Scrap: between(t, "scrap", 0, 0.3), OpensAfterS: between(t, "opens", 0, 240), BagPrice: 0.1,
		}
		l.Packs = (l.Pieces + 9) / 10
		o.Lines = append(o.Lines, l)
	}
	return o
}

// randomLeftovers lays plastic of earlier days on the shelves of an order that can be
// planned: its plan says what the colours are called.
func randomLeftovers(t *rapid.T, o Order) []Leftover {
	p, err := o.Plan(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	var list []Leftover
	for range rapid.IntRange(0, 3).Draw(t, "leftovers") {
		list = append(list, Leftover{
			Colour: p.Colours[rapid.IntRange(0, len(p.Colours)-1).Draw(t, "left of")].Name,
			MassG:  between(t, "left", 1, 800), Heated: rapid.IntRange(1, 5).Draw(t, "heated"),
		})
	}
	return list
}

// checkMolds holds that no plan with all of its molds would cost less.
func checkMolds(t *rapid.T, o Order, p *Plan) {
	all, err := o.plan(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if p.Cost.Total > all.Cost.Total*(1+1e-9) {
		t.Fatalf("fewer molds cost %g, all of them %g", p.Cost.Total, all.Cost.Total)
	}
	brought := map[string]float64{}
	for _, l := range o.Leftovers {
		if !p.LeftoversKept {
			brought[l.Colour] += l.MassG
		}
	}
	checkLeftovers(t, o, p)
	for i, l := range p.Lines {
		if l.Molds > o.Lines[i].Molds || l.MoldsGiven != o.Lines[i].Molds {
			t.Fatalf("%s: %d of %d molds, there are %d", l.Name, l.Molds, l.MoldsGiven, o.Lines[i].Molds)
		}
	}
	for _, a := range p.Colours {
		closeTo(t, a.Name+" from before", a.BroughtG, brought[a.Name], brought[a.Name])
	}
}

// checkLeftovers holds that what is left over makes no order dearer.
func checkLeftovers(t *rapid.T, o Order, p *Plan) {
	o.Leftovers = nil
	without, err := o.Plan(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if p.Cost.Total > without.Cost.Total*(1+1e-9) {
		t.Fatalf("with leftovers it costs %g, without %g", p.Cost.Total, without.Cost.Total)
	}
}

func closeTo(t rapid.TB, what string, got, want, scale float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-9*math.Max(1, math.Abs(scale))) {
		t.Errorf("%s: %.12g, want %.12g", what, got, want)
	}
}

// What a random order must hold is worked out again from the plan's own cups and
// shots, by other sums than the planner's. Each check draws a hundred orders.
func TestRandomOrders(t *testing.T) {
	checks := 30
	if testing.Short() {
		checks = 3
	}
	for range checks {
		randomOrders(t)
	}
}

func randomOrders(t *testing.T) {
	t.Helper()
	rapid.Check(t, func(t *rapid.T) {
		o := randomOrder(t)
		o.Leftovers = randomLeftovers(t, o)
		p, err := o.Plan(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		checkMolds(t, o, p)
		checkEnough(t, o, p)
		checkGrams(t, o, p)
		checkSchedule(t, o, p)
		checkCups(t, o, p)
		checkCost(t, o, p)
	})
}

// checkEnough counts good baits shot by shot.
func checkEnough(t *rapid.T, o Order, p *Plan) {
	for i, l := range o.Lines {
		good := 0
		for _, s := range p.Schedule {
			if s.Line == i+1 && !s.WarmUp {
				good += l.Job.Cavities
			}
		}
		scrap := int(math.Ceil(l.Scrap*float64(good) - 1e-9))
		switch {
		case good-scrap < l.Pieces:
			t.Fatalf("%s: %d baits less %d scrap, %d ordered", l.Name, good, scrap, l.Pieces)
		case p.Lines[i].Spare != good-scrap-l.Pieces:
			t.Fatalf("%s: %d spare, want %d", l.Name, p.Lines[i].Spare, good-scrap-l.Pieces)
		}
		fewer := good - l.Job.Cavities
		if fewer-int(math.Ceil(l.Scrap*float64(fewer)-1e-9)) >= l.Pieces {
			t.Fatalf("%s: a shot less would do", l.Name)
		}
	}
}

// checkGrams follows every gram.
func checkGrams(t *rapid.T, o Order, p *Plan) {
	toMixed, fromMixed := 0.0, 0.0
	for _, a := range p.Colours {
		closeTo(t, a.Name+" in and out", a.FreshG+a.MixedInG+a.BroughtG, a.BaitsG+a.SpareG+a.ToMixedG+a.ShelfG+a.TooOldG, a.FreshG)
		closeTo(t, a.Name+" waste", a.FeedG+a.RejectG+a.PurgeG, a.ToMixedG+a.ReturnedG, a.FreshG)
		for _, x := range []float64{a.FreshG, a.MixedInG, a.BaitsG, a.SpareG, a.ToMixedG, a.ReturnedG, a.ShelfG, a.TooOldG} {
			if !(x >= -1e-6) {
				t.Fatalf("%s: %+v", a.Name, a)
			}
		}
		fresh := 0.0
		for _, h := range p.Heatings {
			for _, c := range h.Cups {
				if c.Name == a.Name {
					fresh += c.PlastisolML
				}
			}
		}
		closeTo(t, a.Name+" bought", a.FreshML, fresh, fresh)
		toMixed += a.ToMixedG
		fromMixed += a.MixedInG
	}
	closeTo(t, "mixed in", p.Mixed.InG, toMixed, toMixed)
	closeTo(t, "mixed out", p.Mixed.OutG, fromMixed, toMixed)
	closeTo(t, "mixed left", p.Mixed.InG-p.Mixed.OutG, p.Mixed.LeftG+p.Mixed.TooOldG, toMixed)
	// The ordered baits themselves.
	want, got := 0.0, 0.0
	for _, l := range p.Lines {
		want += l.BaitG * float64(l.Ordered)
	}
	for _, a := range p.Colours {
		got += a.BaitsG
	}
	closeTo(t, "baits", got, want, want)
}

// checkSchedule plays the shots in the order of time.
func checkSchedule(t *rapid.T, o Order, p *Plan) {
	free, last, used := map[[2]int]float64{}, map[[2]int]float64{}, map[[2]int]int{}
	before, heating := 0.0, 0
	for _, s := range p.Schedule {
		l, key := o.Lines[s.Line-1], [2]int{s.Line, s.Mold}
		h := p.Heatings[s.Heating-1]
		if s.Heating != heating {
			heating = s.Heating
			if h.StartS < before-1e-9 {
				t.Fatalf("heating %d begins at %g, the one before ends at %g", heating, h.StartS, before)
			}
			before = h.ReadyS
		}
		switch {
		case s.StartS < free[key]-1e-9:
			t.Fatalf("mold %v is filled at %g s and free at %g s", key, s.StartS, free[key])
		case s.StartS < before-1e-9:
			t.Fatalf("a shot at %g s, the bench is busy till %g s", s.StartS, before)
		case h.WindowS != nil && s.StartS > h.ReadyS+*h.WindowS+1e-6:
			t.Fatalf("a shot at %g s, the window closed at %g s", s.StartS, h.ReadyS+*h.WindowS)
		case s.Mold > l.Molds:
			t.Fatalf("mold %d of %d", s.Mold, l.Molds)
		}
		if cold := o.Bench.ColdAfterS; used[key] > 0 && cold > 0 && s.StartS-last[key] > cold {
			used[key] = 0
		}
		if warm := used[key] < o.Bench.WarmUp; warm != s.WarmUp {
			t.Fatalf("mold %v at %g s: warm-up %v, want %v", key, s.StartS, s.WarmUp, warm)
		}
		used[key]++
		last[key], free[key] = s.StartS, s.StartS+o.Bench.ShotS+l.OpensAfterS
		before = s.StartS + o.Bench.ShotS
	}
}

// checkCups looks at marks, reheats and what may go where.
func checkCups(t *rapid.T, o Order, p *Plan) {
	takes := map[string]float64{}
	for _, l := range o.Lines {
		for _, c := range l.Job.Colours {
			takes[c.Name] = c.TakesMixed
		}
	}
	for n, h := range p.Heatings {
		var line Line
		shot := map[string]float64{}
		for _, s := range p.Schedule {
			if s.Heating != n+1 {
				continue
			}
			line = o.Lines[s.Line-1]
			for _, c := range line.Pour.Shot.Colours {
				shot[c.Name] += c.TotalML
			}
		}
		for i, c := range h.Cups {
			blend, _ := line.Job.Colours[i].Mix.Blend()
			mark := line.Job.Vessel.MarkML(blend) / blend.ColdML * blend.HotML
			keeps := line.Job.Vessel.KeepsML + line.Job.Injector.Barrels[i].KeepsML
			eighths := c.Cups * 8
			switch {
			case c.HotML > mark*(1+1e-9):
				t.Fatalf("heating %d: %g mL of %s, the mark is at %g", n+1, c.HotML, c.Name, mark)
			case c.HotML < (c.UsedML+keeps)*(1-1e-6):
				t.Fatalf("heating %d: %g mL of %s, %g are shot and %g kept", n+1, c.HotML, c.Name, c.UsedML, keeps)
			case c.HotML > c.UsedML+keeps+blend.HotML*units.CupStep.ML()*(1+1e-6):
				t.Fatalf("heating %d: %g mL of %s, %g are shot and %g kept", n+1, c.HotML, c.Name, c.UsedML, keeps)
			case c.Heats > 1+o.Bench.Reheats:
				t.Fatalf("heating %d: %s is heated %d times with %d reheats", n+1, c.Name, c.Heats, o.Bench.Reheats)
			case takes[c.Name] == 0 && c.MixedG > 0:
				t.Fatalf("%s gets mixed trimmings", c.Name)
			case math.Abs(eighths-math.Round(eighths)) > 1e-9:
				t.Fatalf("%g cups", c.Cups)
			}
			closeTo(t, "shot and purged", c.UsedML, shot[c.Name]+c.PurgeML, c.UsedML)
		}
	}
}

func checkCost(t *rapid.T, o Order, p *Plan) {
	if p.Cost == nil {
		t.Fatal("everything has its price")
	}
	sum, plastic := 0.0, 0.0
	for _, l := range p.Lines {
		sum += l.Cost.Total
	}
	for _, a := range p.Colours {
		plastic += a.Cost
	}
	closeTo(t, "lines make the order", sum, p.Cost.Total, sum)
	closeTo(t, "colours make the plastic", plastic, p.Cost.Plastic, sum)
	// 20 an hour and 8 % tax, as the random shop has them.
	labour := (p.PourS + p.HandleS) / 3600 * 20
	closeTo(t, "labour", p.Cost.Labour, labour, labour)
	closeTo(t, "total", p.Cost.Total, 1.08*(plastic+labour+p.Cost.Bags), sum)
}
