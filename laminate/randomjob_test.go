package laminate

import (
	"fmt"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"bellyline/cavity"
	"bellyline/cavity/units"
)

// bodies are opened once for all random jobs of a test.
func bodies(t *testing.T) []*cavity.Cavity {
	return []*cavity.Cavity{
		openBox(t, 80, 12.5, 10),
		openBody(t, "egg.stl", r3.Vector{Y: 1, Z: 2}, ellipsoid(30, 12, 8, 16)),
		openBody(t, "stick.stl", r3.Vector{Z: 1}, lyingCylinder(4, 120, 24)),
		nil, // weighed
	}
}

// between draws a number of a range, named in what rapid prints of a failure.
func between(t *rapid.T, what string, low, high float64) float64 {
	return rapid.Float64Range(low, high).Draw(t, what)
}

// randomJob draws a job of the kinds and sizes that shops know, and beyond. Some
// have barrels or vessels too small for one shot.
func randomJob(t *rapid.T, from []*cavity.Cavity) Job {
	j := Job{
		Bait: "bait", Mold: "mold", Cavity: rapid.SampledFrom(from).Draw(t, "body"),
		WeighedBaitG: between(t, "weighed", 1, 40),
		Cavities:     rapid.IntRange(1, 12).Draw(t, "cavities"),
		Fed:          rapid.SampledFrom([]float64{0, 0.5, 1, between(t, "fed", 0, 1)}).Draw(t, "fed"),
		FedAssumed:   rapid.Bool().Draw(t, "assumed"),
		Feed:         randomFeed(t),
		Baits:        rapid.SampledFrom([]int{0, 1, rapid.IntRange(1, 300).Draw(t, "few"), rapid.IntRange(1, 5000).Draw(t, "many")}).Draw(t, "baits"),
	}
	count := rapid.SampledFrom([]int{1, 2, 2, 3, 4}).Draw(t, "colours")
	for i := range count {
		name := []string{"belly", "back", "fin", "crest"}[i]
		j.Colours = append(j.Colours, Colour{Name: name, Half: name + " half", Mix: randomMix(t)})
		j.Injector.Barrels = append(j.Injector.Barrels, Barrel{
			Name: name + " barrel", BoreMM: between(t, "bore", 5, 60),
			CapacityML: between(t, "holds", 60, 900), KeepsML: between(t, "barrel keeps", 0, 12),
		})
		j.LeftML = append(j.LeftML, between(t, "left", 0, 2000))
	}
	j.Injector.Drive = rapid.SampledFrom([]Drive{Independent, Ganged}).Draw(t, "drive")
	j.Vessel = Vessel{
		Name: "pot", HoldsML: between(t, "vessel", 1, 16) * units.Cup.ML(),
		Fill: between(t, "fill", 0.2, 1), KeepsML: between(t, "vessel keeps", 0, 15),
	}
	sum := 0.0
	shares := make([]float64, count)
	for i := range shares {
		shares[i] = between(t, "part", 0.02, 1)
		sum += shares[i]
	}
	for i := range shares {
		shares[i] /= sum
	}
	j.Lines = LinesFor(nil, shares)
	if j.Cavity != nil && count == 2 && rapid.Bool().Draw(t, "by height") {
		low, high := j.Cavity.Heights()
		j.Lines = []Line{{Boundary: Level{HeightMM: low + between(t, "height", 0.05, 0.95)*(high-low)}, ByPlace: true}}
	}
	return j
}

func randomFeed(t *rapid.T) cavity.Feed {
	var f cavity.Feed
	for i := range rapid.IntRange(0, 4).Draw(t, "channels") {
		c := cavity.Channel{Name: fmt.Sprint("channel ", i), Count: rapid.IntRange(0, 3).Draw(t, "count")}
		if rapid.Bool().Draw(t, "by weight") {
			c.MassG = between(t, "trimmings", 0, 20)
		} else {
			c.VolumeML = between(t, "channel", 0, 20)
		}
		f = append(f, c)
	}
	return f
}

// some draws an amount: none, or anything from a millionth up.
func some(t *rapid.T, most float64) float64 {
	return rapid.OneOf(rapid.Just(0.), rapid.Float64Range(1e-6, most)).Draw(t, "amount")
}

func randomMix(t *rapid.T) cavity.Mix {
	m := cavity.Mix{Plastisol: cavity.Plastisol{
		Name: "plastisol", DensityGML: between(t, "density", 0.9, 1.3), ExpansionPerC: between(t, "expansion", 0, 1e-3),
		Room: units.Celsius(between(t, "room", 10, 30)), Pour: units.Celsius(between(t, "pour", 150, 190)), Ceiling: 200,
		PricePerML: rapid.SampledFrom([]float64{0, 0.01, 0.02}).Draw(t, "price"),
	}}
	for i := range rapid.IntRange(0, 3).Draw(t, "doses") {
		solid := between(t, "true", 0.8, 5)
		kind := rapid.SampledFrom([]units.AmountKind{units.ByVolume, units.ByMass, units.ByDrops, units.ByPercent}).Draw(t, "kind")
		most := map[units.AmountKind]float64{units.ByVolume: 120, units.ByMass: 80, units.ByDrops: 60, units.ByPercent: 40}[kind]
		a := cavity.Additive{
			Name: fmt.Sprint("additive ", i), TrueGML: solid, LooseGML: between(t, "loose", 0.1, solid),
			DropML:       rapid.SampledFrom([]float64{0, 0.04}).Draw(t, "drop"),
			When:         rapid.SampledFrom([]cavity.When{cavity.BeforeHeating, cavity.AfterHeating}).Draw(t, "when"),
			PricePerGram: rapid.SampledFrom([]float64{0, 0.003}).Draw(t, "price of it"),
		}
		if kind != units.ByVolume && rapid.Bool().Draw(t, "loose density not known") {
			a.LooseGML = 0
		}
		m.Doses = append(m.Doses, cavity.Dose{Additive: a, PerCup: units.Amount{Kind: kind, Value: some(t, most)}})
	}
	return m
}
