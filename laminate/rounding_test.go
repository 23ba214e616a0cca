package laminate

import (
	"strings"
	"testing"

	"bellyline/cavity"
	"bellyline/cavity/units"
)

// The back of the job on paper in a shop whose finest measures are 1/2 cup and 1 tsp.
// Needed as on paper: 1.17606 and (284.707792+10-carried)/270.762093 cups. So 1 1/2 cups
// first, 1.5*270.762093 = 406.143140 less 308.433441 shot leaves 97.709699; then
// (294.707792-97.709699)/270.762093 = 0.72757, so 1 cup. Salt of 1/8 cup to the cup is 9 tsp
// and 6 tsp: right to the spoon. With 1/6 tsp of flake to the cup it is another matter.
func TestCoarseMeasures(t *testing.T) {
	j := paperJob(t)
	j.Measures = units.Measures{Cup: units.Cup / 2, Spoon: units.Tsp}
	p := pourIt(t, j)
	near(t, "first", p.Heatings[0].Colours[1].Cups, 1.5)
	near(t, "second", p.Heatings[1].Colours[1].Cups, 1)
	same(t, "salt", p.Heatings[0].Colours[1].Doses[0].Measure, "3 tbsp")
	same(t, "and then", p.Heatings[1].Colours[1].Doses[0].Measure, "2 tbsp")
	same(t, "strength", len(p.Rounding.Strengths), 1)
	near(t, "least", p.Rounding.Strengths[0].Least, 0)
	near(t, "most", p.Rounding.Strengths[0].Most, 0)
	near(t, "a bait", p.Rounding.BaitMostG, 0)
	same(t, "measured with", p.Rounding.To, "1/2 cup, 1 tsp and 0.1 g")
}

// One heating of 1 cup of the belly, and 10.4 g of salt to the cup on a scale that shows
// grams: 10 g, 10/10.4-1 = -3.846 %. Salt in a mL of plastisol: 10.4/236.5882365 =
// 0.0439582 g, 0.0203510 mL; hot 1.0439582/1.0953510 = 0.9530810 g/mL. Measured 0.0422675
// g, 0.0195683 mL: 1.0422675/1.0945683 = 0.9522180 g/mL. Unfed, 10 mL: 8.63 mg less.
func TestWhatAScaleCosts(t *testing.T) {
	j := plainJob(t)
	j.Fed, j.Baits = 0, 20
	salt := paperJob(t).Colours[1].Mix.Doses[0].Additive
	j.Colours[0].Mix.Doses = []cavity.Dose{{Additive: salt, PerCup: units.Amount{Kind: units.ByMass, Value: 10.4}}}
	j.Measures.Scale = units.Gram
	p := pourIt(t, j)
	near(t, "cups", p.Heatings[0].Colours[0].Cups, 1)
	same(t, "measure", p.Heatings[0].Colours[0].Doses[0].Measure, "10 g")
	near(t, "strength", p.Rounding.Strengths[0].Least, 10/10.4-1)
	near(t, "a bait", p.Rounding.BaitLeastG, -0.0086300)
	near(t, "and more", p.Rounding.BaitMostG, 0)
	// 9.53 g: a gram is 1 % of 100 g, of 11 baits.
	same(t, "on the scale", p.Bait.WeighTogether, 11)

	// 0.4 g to the cup is one step or none: never none. Of the multiples 0.8, 1.2, 1.6 and 2 g
	// the first within 5 % of a gram is 2.
	j.Colours[0].Mix.Doses[0].PerCup.Value = 0.4
	p = pourIt(t, j)
	same(t, "little", p.Heatings[0].Colours[0].Doses[0].Measure, "1 g")
	same(t, "warned", strings.Contains(strings.Join(p.Warnings, "\n"), "salt in belly: 1 g for 1 cup is +150 % off the recipe, which wants 0.4 g: your scale shows 1 g, so weigh 5 of them together, 2 g, and divide"), true)
}
