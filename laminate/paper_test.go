package laminate

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"bellyline/cavity"
	"bellyline/cavity/units"
)

// A pour worked on paper, step by step; every figure below was found with a
// pocket calculator from the figures above it, none by this program. All data
// are invented.
//
// GIVEN
//
//	bait      a box 80 x 12.5 x 10 mm, bottom at height 0: 10 mL
//	mold      4 cavities; runner and sprue 6 mL; fed half of the shrinkage
//	line      belly 40, back 60
//	belly     plastisol 1.00 g/mL, 0.0005 per C, room 20 C, poured at 170 C
//	back      the same with 1/8 cup of salt to the cup: 1.2 g/mL loose, 2.16 true
//	injector  ganged, bores 32 mm, holds 120 mL, keeps 4 mL
//	vessel    4 cups, half full, keeps 6 mL
//	order     100 baits
//	prices    0.02 a mL of plastisol, 0.003 a g of salt
//
// ONE ML OF PLASTISOL BECOMES
//
//	            mass            cold                 hot                     density cold, hot
//	belly       1               1                    1+0.0005*150 = 1.075    1          1/1.075 = 0.9302326
//	back        1+0.125*1.2     1+0.15/2.16          1.075+0.0694444         1.15/1.0694444   1.15/1.1444444
//	            = 1.15          = 1.0694444          = 1.1444444             = 1.0753247      = 1.0048544
//
// THE BARRELS give equal volumes: 50/50, so the line moves from 4 mm to 5 mm.
//
// ONE BAIT holds 5 mL of each. Fully fed it would draw, per mL,
//
//	belly 1.075/1-1 = 0.075; back 1.1444444/1.0694444-1 = 0.0701299; mean 0.0725649
//
// half fed 0.0362825, so 10 mL draw 0.362825 mL, half of it, 0.1814123 mL, from each barrel.
//
//	weight          5.1814123*(0.9302326+1.0048544) = 10.026484 g
//	nothing drawn   5*1.935087                      =  9.675435 g
//	all drawn       5.3628247*1.935087              = 10.377532 g
//
// ONE SHOT takes of each colour 4*5 + 4*0.1814123 + 3 = 23.7256493 mL, together 47.4512987 mL
//
//	belly 23.7256493*0.9302326 = 22.070371 g;  back 23.7256493*1.0048544 = 23.840822 g
//
// A CUP of plastisol, 236.5882365 mL, gives hot
//
//	belly 254.332354 mL = 10.719721 shots (0.0932860 cups a shot);  back 270.762093 mL = 11.412212 shots
//
// A BARREL gives 116 mL, 4.889 shots: 4. The plunger moves 23725.6493/(pi/4*32^2 =
// 804.247719) = 29.500422 mm a mold; drawn 4*23.7256493+4 = 98.902597 mL,
// 4*29.500422 = 118.001688 mm back: what a barrel keeps lies before its plunger.
//
// A VESSEL takes 2 cups mixed and cold: belly 2 cups of plastisol; back 2/1.0694444
// = 1.870, so 1 3/4. Barrel and vessel keep 10 mL.
//
//	belly (2*254.332354-10)/23.7256493 = 21.02;  back (1.75*270.762093-10)/23.7256493 = 19.55: 19 shots
//
// THE ORDER is 25 shots, two heatings, 13 and 12.
//
//	first    13*23.7256493+10 = 318.433441 mL hot
//	         belly /254.332354 = 1.25204, so 1 3/8 cups; left 349.706987-308.433441 = 41.273546
//	         back  /270.762093 = 1.17606, so 1 1/4 cups; left 338.452616-308.433441 = 30.019175
//	second   12*23.7256493 = 284.707792
//	         belly (284.707792+10-41.273546)/254.332354 = 0.99647, so 1 cup; left 10.898108
//	         back  (284.707792+10-30.019175)/270.762093 = 0.97753, so 1 cup; left 16.073476
//	cups     belly 2 3/8, back 2 1/4
//	left     belly 10.898108*0.9302326 = 10.137775 g;  back 16.073476*1.0048544 = 16.151503 g, 15.020117 mL cold
//	shot     hot 25*23.7256493 = 593.141233 each; back cold 25*23.840822/1.0753247 = 554.270305
//	loads    13 shots are 4 loads, 12 are 3: 7
//	salt     first 1.25*1/8 cup = 7 1/2 tsp; second 1/8 cup
//	         in all 2.25*29.57352956*1.2 = 79.848530 g, 13 1/2 tsp
//	cost     0.02*4.625*236.5882365 + 0.003*79.848530 = 21.884412+0.239546 = 22.123957
//	trimmings  25*3*(0.9302326+1.0048544) = 145.131525 g
//
// LEFT IN THE CUPS, hot, 1 1/2 cups of belly and 1 of back:
//
//	belly (354.882355-6)/23.7256493 = 14.7;  back (236.588237-6)/23.7256493 = 9.7: 9 shots, 36 baits
func paperJob(t *testing.T) Job {
	t.Helper()
	base := cavity.Plastisol{Name: "paper", DensityGML: 1, ExpansionPerC: 0.0005, Room: 20, Pour: 170, Ceiling: 190, PricePerML: 0.02}
	salt := cavity.Additive{Name: "salt", LooseGML: 1.2, TrueGML: 2.16, When: cavity.BeforeHeating, PricePerGram: 0.003}
	barrel := Barrel{BoreMM: 32, CapacityML: 120, KeepsML: 4}
	left, right := barrel, barrel
	left.Name, right.Name = "left", "right"
	return Job{
		Bait: "box", Mold: "paper", Cavity: openBox(t, 80, 12.5, 10), Cavities: 4, Fed: 0.5,
		Feed: cavity.Feed{{Name: "runner", VolumeML: 6}},
		Colours: []Colour{
			{Name: "belly", Half: "lower", Mix: cavity.Mix{Plastisol: base}},
			{Name: "back", Half: "upper", Mix: cavity.Mix{Plastisol: base, Doses: []cavity.Dose{
				{Additive: salt, PerCup: units.Amount{Kind: units.ByVolume, Value: float64(units.Cup / 8)}}}}},
		},
		Lines:    []Line{{Share: 0.4}},
		Injector: Injector{Name: "twin", Barrels: []Barrel{left, right}, Drive: Ganged},
		Vessel:   Vessel{Name: "pot", HoldsML: 4 * units.Cup.ML(), Fill: 0.5, KeepsML: 6},
		Baits:    100, LeftML: []float64{1.5 * units.Cup.ML(), units.Cup.ML()}, MaxDifferenceC: 5,
	}
}

// near compares with a figure written down to a millionth or so.
func near(t *testing.T, what string, got, paper float64) {
	t.Helper()
	if !(math.Abs(got-paper) <= 2e-6*math.Max(1, math.Abs(paper))) {
		t.Errorf("%s: got %.9g, on paper %.9g", what, got, paper)
	}
}

func same[T comparable](t rapid.TB, what string, got, paper T) {
	t.Helper()
	if got != paper {
		t.Errorf("%s: got %v, on paper %v", what, got, paper)
	}
}

func TestPourOnPaper(t *testing.T) {
	p, err := paperJob(t).Pour(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	t.Run("line", func(t *testing.T) {
		near(t, "asked height", *p.Line.AskedMM, 4)
		near(t, "delivered height", *p.Line.DeliveredMM, 5)
		near(t, "asked share", p.Line.AskedShare, 0.4)
		near(t, "delivered share", p.Line.DeliveredShare, 0.5)
		near(t, "joined area", *p.Line.SplitAreaMM2, 80*12.5)
		near(t, "line on the skin", *p.Line.LineLengthMM, 2*(80+12.5))
	})
	t.Run("bait", func(t *testing.T) {
		near(t, "weight", p.Bait.MassG, 10.026484)
		near(t, "nothing drawn", p.Bait.MassUnfedG, 9.675435)
		near(t, "all drawn", p.Bait.MassFedG, 10.377532)
	})
	t.Run("shot", func(t *testing.T) {
		near(t, "volume", p.Shot.VolumeML, 47.4512987)
		for i, grams := range []float64{22.070371, 23.840822} {
			c := p.Shot.Colours[i]
			near(t, c.Name+" baits", c.BaitML, 20)
			near(t, c.Name+" topping up", c.TopUpML, 4*0.1814123)
			near(t, c.Name+" feed", c.FeedML, 3)
			near(t, c.Name+" total", c.TotalML, 23.7256493)
			near(t, c.Name+" grams", c.MassG, grams)
		}
		near(t, "belly cups", p.Shot.Colours[0].Cups, 0.0932860)
		near(t, "back cold", p.Shot.Colours[1].ColdML, 23.840822/1.0753247)
		near(t, "belly shots a cup", p.ShotsPerCup[0].Shots, 10.719721)
		near(t, "back shots a cup", p.ShotsPerCup[1].Shots, 11.412212)
	})
	t.Run("barrels", func(t *testing.T) {
		same(t, "shots a load", p.Load.ShotsPerLoad, 4)
		same(t, "loads", p.Load.Loads, 7)
		near(t, "travel", p.Load.Barrels[0].TravelMM, 29.500422)
		near(t, "drawn", p.Load.Barrels[1].DrawML, 98.902597)
		near(t, "mark", p.Load.Barrels[1].DrawMM, 118.001688)
	})
	t.Run("cups", func(t *testing.T) {
		same(t, "rows of heatings", len(p.Heatings), 2)
		same(t, "first shots", p.Heatings[0].Shots, 13)
		same(t, "second shots", p.Heatings[1].Shots, 12)
		same(t, "first belly", p.Heatings[0].Colours[0].CupsText, "1 1/4 + 1/8 cups")
		same(t, "first back", p.Heatings[0].Colours[1].CupsText, "1 1/4 cups")
		same(t, "second belly", p.Heatings[1].Colours[0].CupsText, "1 cup")
		same(t, "second back", p.Heatings[1].Colours[1].CupsText, "1 cup")
		same(t, "first salt", p.Heatings[0].Colours[1].Doses[0].Measure, "1/8 cup + 1 1/2 tsp")
		same(t, "second salt", p.Heatings[1].Colours[1].Doses[0].Measure, "1/8 cup")
	})
	t.Run("order", func(t *testing.T) {
		o := p.Order
		same(t, "shots", o.Shots, 25)
		near(t, "belly cups", o.Colours[0].Cups, 2.375)
		near(t, "back cups", o.Colours[1].Cups, 2.25)
		near(t, "belly left", o.Colours[0].LeftG, 10.137775)
		near(t, "back left", o.Colours[1].LeftG, 16.151503)
		near(t, "back left cold", o.LeftoverML[1], 15.020117)
		near(t, "belly hot", o.Colours[0].HotML, 593.141233)
		near(t, "back cold", o.Colours[1].ColdML, 554.270305)
		near(t, "trimmings", o.TrimmingsG, 145.131525)
		near(t, "salt", p.Doses[0].TotalG, 79.848530)
		near(t, "salt spoons", *p.Doses[0].TotalTsp, 13.5)
		near(t, "cost", *o.Cost, 22.123957)
		same(t, "baits from what is left", p.Left.Baits, 36)
		same(t, "runs out first", p.Left.Limiting, "back")
	})
}
