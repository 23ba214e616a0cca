package cavity

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"bellyline/cavity/units"
)

// within compares with a published figure, to half a unit of its last digit.
func within(t rapid.TB, what string, got, want, half float64) {
	t.Helper()
	if !(math.Abs(got-want) <= half*(1+1e-9)) {
		t.Errorf("%s: got %.9g, want %.9g within %.1g", what, got, want, half)
	}
}

// equal compares two ways of working out the same figure.
func equal(t rapid.TB, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-12*math.Max(1, math.Abs(want))) {
		t.Errorf("%s: got %.17g, want %.17g", what, got, want)
	}
}

// plain is a plastisol of the given cold density and no price.
func plain(density float64) Plastisol {
	return Plastisol{Name: "plain", DensityGML: density, ExpansionPerC: 6e-4, Room: 25, Pour: 170, Ceiling: 190}
}

// salt is sodium chloride: 2.165 g/mL as a crystal (CRC Handbook, from memory:
// 2.17), spooned at the given density.
func salt(loose float64) Additive {
	return Additive{Name: "salt", LooseGML: loose, TrueGML: 2.165, When: BeforeHeating}
}

func cups(share float64) units.Amount {
	return units.Amount{Kind: units.ByVolume, Value: share * units.Cup.ML()}
}

// some draws an amount: none, or anything from a millionth up.
func some(t *rapid.T, most float64, what string) float64 {
	return rapid.OneOf(rapid.Just(0.), rapid.Float64Range(1e-6, most)).Draw(t, what)
}

func blend(t rapid.TB, p Plastisol, doses ...Dose) Blend {
	t.Helper()
	b, err := Mix{Plastisol: p, Doses: doses}.Blend()
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// Scoops of salt to a cup of plastisol of 1.02 g/mL. Loose densities: 1.217 is a
// household table's 6 g a teaspoon (USDA, from memory); 0.95 an assumed one for
// fine popcorn salt. The rest is computed by hand: grams = scoop times loose
// density, volume added = grams/2.165, density = (241.320+grams)/(236.588+volume).
func TestSaltByTheScoop(t *testing.T) {
	for _, c := range []struct {
		loose, cups           float64
		grams, addsML, weighs float64 // 0: not worked out
	}{
		{1.217, 1. / 8, 35.991, 16.624, 1.09517},
		{1.217, 1. / 4, 71.982, 33.248, 1.16108},
		{1.217, 1. / 2, 143.964, 0, 1.27121},
		{0.95, 1. / 8, 0, 0, 1.07954},
		{0.95, 1. / 4, 0, 0, 1.13319},
	} {
		b := blend(t, plain(1.02), Dose{salt(c.loose), cups(c.cups)})
		within(t, "density", b.ColdDensity, c.weighs, 5e-6)
		if c.grams > 0 {
			within(t, "grams a cup", b.DoseG[0]*units.Cup.ML(), c.grams, 5e-4)
		}
		if c.addsML > 0 {
			within(t, "mL added to a cup", (b.ColdML-1)*units.Cup.ML(), c.addsML, 5e-4)
		}
	}
	b := blend(t, plain(1.02), Dose{salt(1.217), cups(1. / 8)})
	within(t, "salt by weight", b.DoseG[0]/b.MassG, 0.1298, 5e-5)
}

// How much salt takes a cup of 1.02 g/mL to a density. By hand: phi =
// (target-1.02)/(2.165-1.02), grams = phi/(1-phi)*236.588*2.165.
func TestSaltForATarget(t *testing.T) {
	for _, c := range []struct{ target, grams float64 }{
		{1.05, 13.782}, {1.10, 38.476}, {1.15, 65.604}, {1.20, 95.542}, {1.25, 128.753},
	} {
		b := blend(t, plain(1.02), Dose{salt(1.217), units.Amount{Kind: units.ByMass, Value: c.grams}})
		// Half a milligram more or less moves the density by under 3e-6 g/mL.
		within(t, "density from grams", b.ColdDensity, c.target, 3e-6)
		phi := (b.ColdDensity - 1.02) / (2.165 - 1.02)
		within(t, "grams from density", phi/(1-phi)*236.588*2.165, c.grams, 2e-3)
	}
}

// A compound of resin and plasticizer by additivity of volumes, resin 1.40 g/mL:
// rho = (100+phr)/(100/1.40 + phr/plasticizer), worked out apart from this
// program. Plasticizers: DOTP 0.984 (an encyclopedia), DINP 0.972 and DOA 0.925
// (suppliers' sheets, from memory). phr is percent of the resin's mass.
func TestCompoundOfResinAndPlasticizer(t *testing.T) {
	phr := []float64{40, 50, 70, 100, 150, 200, 300, 400}
	for _, c := range []struct {
		plasticizer float64
		want        []float64
	}{
		{0.984, []float64{1.2491, 1.2271, 1.1924, 1.1557, 1.1167, 1.0922, 1.0630, 1.0462}},
		{0.972, []float64{1.2436, 1.2208, 1.1851, 1.1474, 1.1074, 1.0823, 1.0524, 1.0353}},
		{0.925, []float64{1.2209, 1.1954, 1.1556, 1.1140, 1.0702, 1.0430, 1.0107, 0.9923}},
	} {
		for i, x := range phr {
			liquid := Additive{Name: "plasticizer", TrueGML: c.plasticizer, When: BeforeHeating}
			b := blend(t, plain(1.40), Dose{liquid, units.Amount{Kind: units.ByPercent, Value: x}})
			within(t, "density", b.ColdDensity, c.want[i], 5e-5)
		}
	}
}

// The mass of a US cup at four densities, and the loose density of pearl pigment,
// 0.3 to 0.5 g/mL on a pigment maker's page: a quarter teaspoon of 0.37 to 0.62 g.
func TestCupAndQuarterTeaspoon(t *testing.T) {
	for _, c := range []struct{ density, cup float64 }{{0.99, 234.2224}, {1.00, 236.5882}, {1.02, 241.3200}, {1.05, 248.4176}} {
		within(t, "grams of a cup", blend(t, plain(c.density)).MassG*units.Cup.ML(), c.cup, 5e-5)
	}
	for _, c := range []struct{ loose, grams float64 }{{0.3, 0.37}, {0.5, 0.62}} {
		pearl := Additive{Name: "pearl", LooseGML: c.loose, TrueGML: 2.9, When: BeforeHeating}
		g, err := pearl.Grams(units.Amount{Kind: units.ByVolume, Value: units.Tsp.ML() / 4}, 0)
		if err != nil {
			t.Fatal(err)
		}
		within(t, "grams of a quarter teaspoon", g, c.grams, 5e-3)
	}
}

// Density at pouring temperature: 1.02/(1+6e-4*145) = 1.02*0.919963 = 0.938362.
func TestHotDensity(t *testing.T) {
	b := blend(t, plain(1.02))
	within(t, "hot over cold", b.HotDensity/b.ColdDensity, 0.919963, 5e-7)
	within(t, "hot density", b.HotDensity, 0.938362, 5e-7)
}

func TestDropsAndPercentAndGrams(t *testing.T) {
	colour := Additive{Name: "green", TrueGML: 1.05, When: BeforeHeating}
	for _, c := range []struct {
		what   string
		amount units.Amount
		dropML float64
		grams  float64 // in 241.32 g of plastisol, by hand
	}{
		{"8 drops, twenty to the mL", units.Amount{Kind: units.ByDrops, Value: 8}, 0, 0.42},
		{"8 drops of 0.03 mL", units.Amount{Kind: units.ByDrops, Value: 8}, 0.03, 0.252},
		{"2 percent", units.Amount{Kind: units.ByPercent, Value: 2}, 0, 4.8264},
		{"3 g", units.Amount{Kind: units.ByMass, Value: 3}, 0, 3},
		{"nothing", units.Amount{Kind: units.ByMass}, 0, 0},
	} {
		colour.DropML = c.dropML
		g, err := colour.Grams(c.amount, 241.32)
		if err != nil {
			t.Fatal(err)
		}
		equal(t, c.what, g, c.grams)
	}
}

// The same salt by the scoop, on the scale and in percent is the same mix.
func TestWaysOfGivingOneDose(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := plain(rapid.Float64Range(0.9, 1.4).Draw(t, "plastisol"))
		loose := rapid.Float64Range(0.1, 2).Draw(t, "loose")
		ml := some(t, 200, "mL a cup")
		grams := loose * ml
		percent := grams / (p.DensityGML * 236.5882365) * 100 // the cup is 231/16 cubic inches
		want := blend(t, p, Dose{salt(loose), units.Amount{Kind: units.ByVolume, Value: ml}})
		for _, a := range []units.Amount{{Kind: units.ByMass, Value: grams}, {Kind: units.ByPercent, Value: percent}} {
			got := blend(t, p, Dose{salt(loose), a})
			equal(t, "mass", got.MassG, want.MassG)
			equal(t, "cold volume", got.ColdML, want.ColdML)
			equal(t, "hot volume", got.HotML, want.HotML)
		}
	})
}

// Masses add up, volumes of substance add up, and heat swells the plastisol only.
func TestMixAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := plain(rapid.Float64Range(0.9, 1.4).Draw(t, "plastisol"))
		p.ExpansionPerC = rapid.Float64Range(0, 1e-3).Draw(t, "expansion")
		mass, cold := p.DensityGML*236.5882365, 236.5882365
		var doses []Dose
		for range rapid.IntRange(0, 5).Draw(t, "doses") {
			a := Additive{TrueGML: rapid.Float64Range(0.5, 8).Draw(t, "true"), When: AfterHeating}
			g := some(t, 100, "grams")
			mass, cold = mass+g, cold+g/a.TrueGML
			doses = append(doses, Dose{a, units.Amount{Kind: units.ByMass, Value: g}})
		}
		b := blend(t, p, doses...)
		equal(t, "mass", b.MassG*236.5882365, mass)
		equal(t, "cold volume", b.ColdML*236.5882365, cold)
		equal(t, "swelling", b.HotML-b.ColdML, p.ExpansionPerC*145)
		equal(t, "cold density", b.ColdDensity*cold, mass)
		equal(t, "hot density", b.HotDensity*b.HotML, b.MassG)
	})
}
