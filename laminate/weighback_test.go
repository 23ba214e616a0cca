package laminate

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"bellyline/cavity/units"
	"bellyline/cavity/water"
)

// plainJob is the belly of the job on paper alone: a cavity of 10 mL, 1 g/mL cold, a
// swelling of 0.0005*150 = 0.075. Unfed a bait has 10/1.075 = 9.302326 g, fed 10 g.
func plainJob(t *testing.T, airG ...float64) Job {
	t.Helper()
	j := paperJob(t)
	j.Colours, j.Lines, j.Injector.Barrels, j.LeftML = j.Colours[:1], nil, j.Injector.Barrels[:1], nil
	j.Weighings.Baits = inAir(airG...)
	return j
}

func inAir(grams ...float64) []WeighedBait {
	var list []WeighedBait
	for _, g := range grams {
		list = append(list, WeighedBait{AirG: g})
	}
	return list
}

// 9.7 g: (9.7*1.075-10)/0.75 = 0.57 of the shrinkage was drawn.
func TestWeighedBaitsSayWhatWasFed(t *testing.T) {
	p := pourIt(t, plainJob(t, 9.6, 9.7, 9.8))
	b := p.Weighed.Baits
	near(t, "mean", b.MeanG, 9.7)
	near(t, "spread", *b.SpreadG, 0.1) // sqrt((0.01+0+0.01)/2)
	near(t, "fed", *b.Fed, 0.57)
	near(t, "denser", b.DenserBy, 0)
	near(t, "a bait", p.Bait.MassG, 9.7)
	near(t, "unfed", p.Bait.MassUnfedG, 9.302326)
	near(t, "a shot", p.Shot.Colours[0].MassG, 4*9.7+6*0.9302326)
	same(t, "said of it", p.Bait.WeighedBaits, 3)
	same(t, "assumed", p.Bait.FedAssumed, false)
	// Give: sqrt(0.1^2/3 + 0.1^2/12)/(10-9.302326) = 0.0645497/0.697674
	near(t, "give", *b.FedGive, 0.0925212)
}

func TestOneWeighedBaitHasNoSpread(t *testing.T) {
	p := pourIt(t, plainJob(t, 9.7))
	if b := p.Weighed.Baits; b.SpreadG != nil || b.LightG != nil {
		t.Errorf("spread %v, limit %v of one bait", b.SpreadG, b.LightG)
	}
	near(t, "reject below", p.Bait.RejectBelowG, 9.302326)
}

// Median 9.7, distances 0, 0, 0.1, 0.1, 0.8: their median is 0.1, so the limit is
// 9.7-3*1.4826*0.1 = 9.25522. Of 9.70, 9.71, 9.72, 9.60 it is the scale: 9.705-0.1;
// on a finer scale 1 %: 9.705-0.09705 = 9.60795.
func TestLightBaitsAreFlaggedAndLeftOut(t *testing.T) {
	p := pourIt(t, plainJob(t, 9.6, 9.7, 8.9, 9.8, 9.7))
	b := p.Weighed.Baits
	near(t, "limit", *b.LightG, 9.25522)
	same(t, "light", len(b.Light), 1)
	same(t, "which", b.Light[0].Bait, 3)
	same(t, "used", b.Used, 4)
	near(t, "mean", b.MeanG, 9.7)
	near(t, "reject below", p.Bait.RejectBelowG, 9.25522)
	if got := strings.Join(p.Warnings, "\n"); !strings.Contains(got, "weighed bait 3, 8.9 g, is lighter than 9.26 g: air in it, or not filled; left out of the mean") {
		t.Errorf("warnings: %s", got)
	}

	j := plainJob(t, 9.70, 9.71, 9.72, 9.60)
	near(t, "limit by the scale", *pourIt(t, j).Weighed.Baits.LightG, 9.605)
	j.Measures.Scale = units.Gram / 100
	near(t, "limit by 1 %", *pourIt(t, j).Weighed.Baits.LightG, 9.60795)
}

// Water of 20 C has 0.998207 g/mL (IAPWS/CIPM, from memory). A bait of 9.7 mL and 1.05
// g/mL weighs 10.185 g and, hung, 10.185-9.7*0.998207 = 0.502392 g; on a sinker of 3 g
// that much more.
func TestHungBaitsGiveVolumeAndDensity(t *testing.T) {
	j := plainJob(t)
	j.Weighings.WaterC = 20
	j.Weighings.Baits = []WeighedBait{
		{AirG: 10.185, Hung: true, HungG: 0.502392}, {AirG: 10.185, Hung: true, HungG: 3.502392, SinkerG: 3}, {AirG: 10.185},
	}
	p := pourIt(t, j)
	b := p.Weighed.Baits
	same(t, "hung", b.Hung, 2)
	near(t, "volume", *b.VolumeML, 9.7)
	near(t, "density", *b.DensityGML, 1.05)
	near(t, "denser", b.DenserBy, 0.05)
	within(t, "fed", *b.Fed, 0.57, 2e-5) // a millionth of 9.7 mL, over 0.697674
	near(t, "a bait", p.Bait.MassG, 10.185)
	near(t, "its density", p.Bait.DensityGML, 1.05)
	near(t, "setup", p.Setup[0].DensityGML, 1.05)
}

// Without a model the mean is the bait, and its density that of the water test.
func TestWeighedBaitsWithoutAModel(t *testing.T) {
	j := plainJob(t, 10.3, 10.1)
	j.Cavity = nil
	j.Weighings.WaterC = 20
	j.Weighings.Baits = append(j.Weighings.Baits, WeighedBait{AirG: 10.185, Hung: true, HungG: 0.502392})
	p := pourIt(t, j)
	near(t, "a bait", p.Bait.MassG, (10.3+10.1+10.185)/3)
	near(t, "its density", p.Bait.DensityGML, 1.05)
	if p.Weighed.Baits.Fed != nil {
		t.Error("what was fed takes a model")
	}
}

// 10.5 g where all that the cavity can draw gives 10: the mix is 5 % denser, or the
// cavity wider; 9.1 g where an unfed bait has 9.302326: 2.175 % lighter.
func TestWeightsThatFeedingDoesNotExplain(t *testing.T) {
	p := pourIt(t, plainJob(t, 10.5, 10.5))
	near(t, "denser", p.Weighed.Baits.DenserBy, 0.05)
	near(t, "fed", *p.Weighed.Baits.Fed, 1)
	near(t, "a bait", p.Bait.MassG, 10.5)
	p = pourIt(t, plainJob(t, 9.1, 9.1))
	near(t, "lighter", p.Weighed.Baits.DenserBy, -0.02175)
	near(t, "fed", *p.Weighed.Baits.Fed, 0)
	near(t, "a bait", p.Bait.MassG, 9.1)
	want := "the weighed baits have 9.10 g, and by model and mix one that draws nothing has 9.30 g: the mix is taken as 2.2 % lighter; hang some in water to see whether it is that"
	if got := strings.Join(p.Warnings, "\n"); !strings.Contains(got, want) {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// 20 g each: belly 20/0.9302326 = 21.5 mL hot, back 20/1.0048544 = 19.903381 mL, so
// 21.5/41.403381 = 0.5192813 where equal bores say a half. The box is 10 mm tall.
func TestAWeighedStrokeSetsTheRatio(t *testing.T) {
	j := paperJob(t)
	j.Weighings.StrokeG = []float64{20, 20}
	p := pourIt(t, j)
	s := p.Weighed.Stroke
	near(t, "belly", s.VolumeML[0], 21.5)
	near(t, "back", s.VolumeML[1], 19.903381)
	near(t, "share", s.Shares[0], 0.5192813)
	near(t, "by bores", s.BoresShares[0], 0.5)
	near(t, "delivered", p.Line.DeliveredShare, 0.5192813)
	near(t, "line", *p.Line.DeliveredMM, 5.192813)
	near(t, "of a shot", p.Shot.Colours[0].TotalML/p.Shot.VolumeML, 0.5192813)
	equal(t, "plungers go together", p.Load.Barrels[0].TravelMM, p.Load.Barrels[1].TravelMM)
	same(t, "no leak", strings.Contains(strings.Join(p.Warnings, "\n"), "leaks"), false)

	j.Weighings.StrokeG = []float64{20, 15}
	p = pourIt(t, j) // 21.5/(21.5+14.927536) = 0.5902147
	near(t, "share", p.Weighed.Stroke.Shares[0], 0.5902147)
	same(t, "leak", strings.Contains(strings.Join(p.Warnings, "\n"), "one stroke, weighed, gives 59/41, and the bores 50/50: a plunger that leaks"), true)
}

func TestWeighingsThatCannotBe(t *testing.T) {
	for _, c := range []struct {
		err    error
		want   string
		change func(*Job)
	}{
		{ErrJob, "weighed bait 2: 9.7 g in air, and hung in water 9.8 g: water carries part of everything, so hung is less; were the two swapped, or is it a sinker that was not given?",
			func(j *Job) { j.Weighings.Baits = append(inAir(9.7), WeighedBait{AirG: 9.7, Hung: true, HungG: 9.8}) }},
		{ErrJob, "weighed bait 1: NaN g in air, 0 g in water, with a sinker of 0 g", func(j *Job) { j.Weighings.Baits = inAir(math.NaN()) }},
		{ErrJob, "weighed bait 1: -2 g in air, 0 g in water, with a sinker of 0 g", func(j *Job) { j.Weighings.Baits = inAir(-2) }},
		{ErrJob, "weighed bait 3: 97 g, and the median of all is 9.7 g: is its point, and its unit, right?", func(j *Job) { j.Weighings.Baits = inAir(9.7, 9.6, 97) }},
		{ErrJob, "the weighed baits have 11.50 g each, and by model and mix one has 9.30 to 10.00 g; check the unit of the scale and of the model, and that no hook was weighed",
			func(j *Job) { j.Weighings.Baits = inAir(11.5) }},
		{ErrJob, "the weighed baits have 6.00 g each, and by model and mix one has 9.30 to 10.00 g; check the unit of the scale and of the model, and that no hook was weighed",
			func(j *Job) { j.Weighings.Baits = inAir(6) }},
		// 12 g hung at 0.5 g push away 11.5/0.998207 = 11.52 mL.
		{ErrJob, "hung in water the baits have 11.52 mL, and set they must have 9.30 to 10.00 mL in a cavity of 10.00 mL; check the scale's unit, the sinker and the model's",
			func(j *Job) { j.Weighings.Baits = []WeighedBait{{AirG: 12, Hung: true, HungG: 0.5}} }},
		// 12 g hung at 2.5 g push away 9.5/0.998207 = 9.517 mL: 1.261 g/mL.
		{ErrJob, "in air and hung in water the baits come to 1.261 g/mL, and their mix is 1.000 g/mL: one of them is wrong; check the sinker, the colours and their doses",
			func(j *Job) { j.Weighings.Baits = []WeighedBait{{AirG: 12, Hung: true, HungG: 2.5}} }},
		{ErrJob, "a weighed stroke takes two colours or more, each in its own cup", func(j *Job) { j.Weighings.StrokeG = []float64{20, 20} }},
	} {
		j := plainJob(t)
		j.Weighings.WaterC = 20
		c.change(&j)
		refused(t, j, c.err, c.want)
	}
	two := paperJob(t)
	two.Weighings.StrokeG = []float64{200, 20}
	refused(t, two, ErrInjector, "one stroke cannot have pushed 200.0 g of belly, hot 215.0 mL: its barrel gives 116.0 mL")
	two.Weighings.StrokeG = []float64{20, math.Inf(1)}
	refused(t, two, ErrJob, "a stroke that gives +Inf g of back")
	two.Weighings.StrokeG, two.Injector.Drive = []float64{20, 20}, Independent
	refused(t, two, ErrJob, "plungers that are pushed one by one give what each is pushed, so a weighed stroke fixes no ratio; take it out")
}

func refused(t *testing.T, j Job, sentinel error, want string) {
	t.Helper()
	_, err := j.Pour(t.Context())
	if !errors.Is(err, sentinel) || err.Error() != sentinel.Error()+": "+want {
		t.Errorf("got  %v\nwant %v: %s", err, sentinel, want)
	}
}

// Weights and volumes of baits of a known fed share and density give both back.
func TestWeighingBackFindsWhatWasSo(t *testing.T) {
	from := bodies(t)[:3]
	rapid.Check(t, func(t *rapid.T) {
		j := randomJob(t, from)
		truth, err := j.Pour(t.Context())
		if err != nil || truth.Bait.MassFedG < 1.01*truth.Bait.MassUnfedG {
			t.Skip("not poured, or hardly any shrinkage")
		}
		denser, waterC := between(t, "denser", 0.9, 1.1), between(t, "water", 0, 40)
		mass := denser * truth.Bait.MassG
		pushed := truth.Bait.MassG / truth.Bait.DensityGML * water.Water{TempC: waterC}.DensityKgM3() / 1000
		const sinker = 1000 // g, so that all of them hang
		for i := range rapid.IntRange(1, 8).Draw(t, "baits") {
			w := WeighedBait{AirG: mass}
			if i == 0 || rapid.Bool().Draw(t, "hung") {
				w.Hung, w.SinkerG, w.HungG = true, sinker, sinker+mass-pushed
			}
			j.Weighings.Baits = append(j.Weighings.Baits, w)
		}
		j.Weighings.WaterC = waterC
		fed := j.Fed
		j.Fed, j.FedAssumed = 0.5, true
		p, err := j.Pour(t.Context())
		if err != nil {
			t.Skip("so heavy that something else does not fit")
		}
		b := p.Weighed.Baits
		within(t, "fed", *b.Fed, fed, 1e-6) // rounding of 1 kg, over 1 % of a gram
		within(t, "denser", b.DenserBy, denser-1, 1e-7)
		within(t, "a bait", p.Bait.MassG, mass, 1e-9*mass)
		same(t, "light", len(b.Light), 0)
		for _, c := range p.Order.Colours {
			within(t, "account of "+c.Name, c.BaitsG+c.SpareG+c.TrimmingsG+c.LeftG, c.BoughtG, 1e-9*c.BoughtG)
		}
	})
}
