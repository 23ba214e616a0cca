package order

import (
	"math"
	"testing"

	"bellyline/cavity"
	"bellyline/cavity/units"
	"bellyline/laminate"
)

// paperOrder is the order of testdata/order_on_paper.md.
func paperOrder(t testing.TB) Order {
	t.Helper()
	base := cavity.Plastisol{Name: "paper", DensityGML: 1, ExpansionPerC: 0.0006, Room: 20, Pour: 170, Ceiling: 190, Coldest: 145, PricePerML: 0.02}
	salt := cavity.Additive{Name: "salt", LooseGML: 1.2, TrueGML: 2.16, When: cavity.BeforeHeating, PricePerGram: 0.003}
	salted := cavity.Mix{Plastisol: base, Doses: []cavity.Dose{{Additive: salt, PerCup: units.Amount{Kind: units.ByVolume, Value: float64(units.Cup / 8)}}}}
	left, right := laminate.Barrel{Name: "left", CapacityML: 120, KeepsML: 4}, laminate.Barrel{Name: "right", CapacityML: 120, KeepsML: 4}
	vessel := laminate.Vessel{Name: "pot", HoldsML: 4 * units.Cup.ML(), Fill: 0.5, KeepsML: 6, Cooling: laminate.Cooling{FromC: 170, ToC: 120, AfterS: 600}}
	a := laminate.Job{
		Bait: "a", Mold: "a", WeighedBaitG: 10, Cavities: 4, Feed: cavity.Feed{{Name: "runner", VolumeML: 6}}, Vessel: vessel, WaterC: 20,
		Colours:  []laminate.Colour{{Name: "belly", Half: "lower", Mix: cavity.Mix{Plastisol: base}}, {Name: "back", Half: "upper", Mix: salted}},
		Lines:    []laminate.Line{{Share: 0.5}},
		Injector: laminate.Injector{Name: "pair", Drive: laminate.Independent, Barrels: []laminate.Barrel{left, right}},
	}
	b := laminate.Job{
		Bait: "b", Mold: "b", WeighedBaitG: 5, Cavities: 6, Feed: cavity.Feed{{Name: "runner", VolumeML: 5}}, Vessel: vessel, WaterC: 20,
		Colours:  []laminate.Colour{{Name: "black", Mix: cavity.Mix{Plastisol: base}, TakesMixed: 0.2}},
		Injector: laminate.Injector{Name: "pair", Drive: laminate.Independent, Barrels: []laminate.Barrel{left}},
	}
	o := Order{Name: "paper", Bench: Bench{
		ShotS: 20, RefillS: 10, HeatSPerML: 60 / units.Cup.ML(), RoomC: 20, WarmUp: 1, PurgeML: 10, Reheats: 3,
		HandleS: 5, PackS: 30, LabourPerHour: 18, TaxShare: 0.1,
	}}
	for _, l := range []Line{
		{Name: "A", Job: a, Pieces: 36, Packs: 3, Molds: 2, Scrap: 0.1, OpensAfterS: 90, BagPrice: 0.1},
		{Name: "B", Job: b, Pieces: 12, Packs: 1, Molds: 1, OpensAfterS: 90, BagPrice: 0.1},
	} {
		var err error
		if l.Pour, err = l.Job.Pour(t.Context()); err != nil {
			t.Fatal(err)
		}
		o.Lines = append(o.Lines, l)
	}
	return o
}

// near compares with a figure written down to a ten-millionth or so.
func near(t *testing.T, what string, got, paper float64) {
	t.Helper()
	if !(math.Abs(got-paper) <= 1e-6*math.Max(1, math.Abs(paper))) {
		t.Errorf("%s: got %.9g, on paper %.9g", what, got, paper)
	}
}

// seconds compares with a time written down to a tenth of a millisecond.
func seconds(t *testing.T, what string, got, paper float64) {
	t.Helper()
	if !(math.Abs(got-paper) <= 1e-4) {
		t.Errorf("%s: got %.6f s, on paper %.6f s", what, got, paper)
	}
}

func same[T comparable](t *testing.T, what string, got, paper T) {
	t.Helper()
	if got != paper {
		t.Errorf("%s: got %v, on paper %v", what, got, paper)
	}
}

func TestOrderOnPaper(t *testing.T) {
	p, err := paperOrder(t).Plan(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Heatings) != 3 || len(p.Schedule) != 15 {
		t.Fatalf("%d heatings, %d shots; on paper 3 and 15", len(p.Heatings), len(p.Schedule))
	}
	t.Run("shots", func(t *testing.T) {
		for i, want := range []LinePlan{{Shots: 10, WarmUps: 2, Scrap: 4}, {Shots: 2, WarmUps: 1}} {
			l := p.Lines[i]
			same(t, l.Name+" good", l.Shots, want.Shots)
			same(t, l.Name+" warm-up", l.WarmUps, want.WarmUps)
			same(t, l.Name+" scrap", l.Scrap, want.Scrap)
			same(t, l.Name+" spare", l.Spare, 0)
		}
		same(t, "draws", p.Refills, 6)
		near(t, "a bait of B", p.Lines[1].BaitG, 5.0347043)
	})
	t.Run("cups", func(t *testing.T) {
		for n, want := range [][]string{{"1/2 + 1/8 cup", "1/2 + 1/8 cup"}, {"1/2 + 1/8 cup", "1/2 cup"}, {"1/2 cup"}} {
			for i, cups := range want {
				same(t, p.Heatings[n].Cups[i].Name, p.Heatings[n].Cups[i].CupsText, cups)
			}
		}
		same(t, "first salt", p.Heatings[0].Cups[1].Doses[0].Measure, "1 tbsp + 1/2 + 1/4 tsp")
		same(t, "second salt", p.Heatings[1].Cups[1].Doses[0].Measure, "1 tbsp")
		near(t, "mixed into black", p.Heatings[2].Cups[0].MixedG, 25.4125904)
		same(t, "black is heated", p.Heatings[2].Cups[0].Heats, 3)
		near(t, "black left in cup and barrel", p.Heatings[2].Cups[0].LeftG, 29.9870579)
	})
	t.Run("times", func(t *testing.T) {
		for n, at := range [][3]float64{{0, 69.3801, 339.3801}, {340, 409.3801, 679.3801}, {679.3801, 710.3479, 970.3479}} {
			h := p.Heatings[n]
			seconds(t, "begun", h.StartS, at[0])
			seconds(t, "hot", h.ReadyS, at[1])
			seconds(t, "done", h.DoneS, at[2])
			near(t, "window", *h.WindowS, 269.796172)
			first := [3][]float64{{10, 30, 120, 140, 230, 250}, {10, 30, 120, 140, 230, 250}, {20, 130, 240}}[n]
			for _, s := range p.Schedule {
				if s.Heating == n+1 {
					seconds(t, "shot", s.StartS-h.ReadyS, first[0])
					first = first[1:]
				}
			}
		}
		near(t, "belly is heated to", p.Heatings[0].Cups[0].HeatToC, 173.44685)
		near(t, "and is then at", *p.Heatings[0].Cups[0].ReadyC, 170)
		seconds(t, "belly waits", p.Heatings[0].Cups[0].WaitS, 33.6191)
		seconds(t, "back waits", p.Heatings[0].Cups[1].WaitS, 0)
		seconds(t, "in all", p.PourS, 1060.3479)
	})
	t.Run("accounts", func(t *testing.T) {
		for i, want := range []Account{
			{FreshG: 295.7352956, BaitsG: 172.9836760, ToMixedG: 90.6887483, ShelfG: 32.0628713, Cups: 1.25, Cost: 5.9147059},
			{FreshG: 306.0860310, BaitsG: 187.0163240, ToMixedG: 98.0455308, ShelfG: 21.0241762, Cups: 1.125, Cost: 5.4430081},
			{FreshG: 118.2941183, MixedInG: 25.4125904, BaitsG: 60.4164513, ToMixedG: 9.2379895, ShelfG: 74.0522678, Cups: 0.5, Cost: 2.3658824},
		} {
			a := p.Colours[i]
			near(t, a.Name+" bought", a.FreshG, want.FreshG)
			near(t, a.Name+" mixed in", a.MixedInG, want.MixedInG)
			near(t, a.Name+" baits", a.BaitsG, want.BaitsG)
			near(t, a.Name+" to mixed", a.ToMixedG, want.ToMixedG)
			near(t, a.Name+" left", a.ShelfG, want.ShelfG)
			near(t, a.Name+" too old", a.TooOldG, 0)
			near(t, a.Name+" cups", a.Cups, want.Cups)
			near(t, a.Name+" cost", a.Cost, want.Cost)
		}
		near(t, "mixed in", p.Mixed.InG, 197.9722685)
		near(t, "mixed out", p.Mixed.OutG, 25.4125904)
		near(t, "mixed left", p.Mixed.LeftG, 172.5596781)
		near(t, "salt to buy", p.Shopping.Additives[0].MassG, 39.9242649)
		same(t, "in spoons", p.Shopping.Additives[0].Text, "1/8 cup + 1/2 + 1/4 tsp") // 3 3/4 tsp and 3 tsp
		same(t, "plastisol to buy", p.Shopping.Plastisol[0].Text, "2 3/4 + 1/8 cups")
		same(t, "bags", p.Shopping.Bags, 4)
	})
	t.Run("money", func(t *testing.T) {
		near(t, "A", p.Lines[0].Cost.Total, 18.9740160)
		near(t, "A a bait", p.Lines[0].Cost.PerBait, 0.5270560)
		near(t, "A a pack", *p.Lines[0].Cost.PerPack, 6.3246720)
		near(t, "B", p.Lines[1].Cost.Total, 4.3738532)
		near(t, "B a bait", p.Lines[1].Cost.PerBait, 0.3644878)
		near(t, "together", p.Cost.Total, 23.3478692)
	})
}
