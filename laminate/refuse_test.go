package laminate

import (
	"errors"
	"math"
	"testing"

	"bellyline/cavity"
	"bellyline/cavity/units"
)

// TestJobsThatCannotBe changes one thing of the job on paper at a time.
func TestJobsThatCannotBe(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		err    error
		want   string // after the sentinel
		change func(*Job)
	}{
		{ErrJob, "one to 4 colours, not 0", func(j *Job) { j.Colours = nil }},
		{ErrJob, "one to 4 colours, not 5", func(j *Job) { j.Colours = append(j.Colours, j.Colours[0], j.Colours[0], j.Colours[0]) }},
		{ErrJob, "3 colours have 2 lines between them, not 1", func(j *Job) { j.Colours = append(j.Colours, j.Colours[0]) }},
		{ErrJob, "the share below a line lies between 0 and 1, not NaN", func(j *Job) {
			j.Colours, j.Lines = append(j.Colours, j.Colours[0]), LinesFor(nil, []float64{0.2, nan, 0.8})
		}},
		{ErrJob, "the share below a line lies between 0 and 1, not 0", func(j *Job) {
			j.Colours, j.Lines = append(j.Colours, j.Colours[0]), LinesFor(nil, []float64{0, 0.5, 0.5})
		}},
		{ErrJob, "the share below a line lies between 0 and 1, not 1.2", func(j *Job) {
			j.Colours, j.Lines = append(j.Colours, j.Colours[0]), LinesFor(nil, []float64{0.7, 0.5, -0.2})
		}},
		{ErrJob, "the line as drawn leaves nothing for back", func(j *Job) {
			j.Colours, j.Lines, j.LeftML = append(j.Colours, j.Colours[0]), []Line{{Share: 0.7}, {Share: 0.5}}, nil
		}},
		{ErrJob, "layers are made by level, tilted and drawn lines, not by crosswise",
			func(j *Job) {
				j.Colours, j.Lines = append(j.Colours, j.Colours[0]), LinesFor(Crosswise{}, []float64{0.2, 0.3, 0.5})
			}},
		{ErrJob, "a mold has at least one cavity", func(j *Job) { j.Cavities = 0 }},
		{ErrJob, "a mold has at least one cavity", func(j *Job) { j.Cavities = -4 }},
		{ErrJob, "a mold has at most 10000 cavities, not 10001", func(j *Job) { j.Cavities = 10_001 }},
		{ErrJob, "the fed share lies between 0 and 1, not 1.5", func(j *Job) { j.Fed = 1.5 }},
		{ErrJob, "the fed share lies between 0 and 1, not -0.1", func(j *Job) { j.Fed = -0.1 }},
		{ErrJob, "the fed share lies between 0 and 1, not NaN", func(j *Job) { j.Fed = nan }},
		{ErrJob, "it needs a model of the bait or a weighed bait", func(j *Job) { j.Cavity = nil }},
		{ErrJob, "it needs a model of the bait or a weighed bait", func(j *Job) { j.Cavity, j.WeighedBaitG = nil, nan }},
		{ErrJob, "it needs a model of the bait or a weighed bait", func(j *Job) { j.Cavity, j.WeighedBaitG = nil, inf }},
		{ErrJob, "a cavity of 0 mm3", func(j *Job) { j.Cavity = &cavity.Cavity{} }},
		{ErrJob, "-1 baits", func(j *Job) { j.Baits = -1 }},
		{ErrJob, "10000001 baits", func(j *Job) { j.Baits = 10_000_001 }},
		{ErrJob, "the colours may not be NaN C apart", func(j *Job) { j.MaxDifferenceC = nan }},
		{ErrJob, "the colours may not be -5 C apart", func(j *Job) { j.MaxDifferenceC = -5 }},
		{ErrJob, "the share below a line lies between 0 and 1, not 0", func(j *Job) { j.Lines[0].Share = 0 }},
		{ErrJob, "the share below a line lies between 0 and 1, not 1", func(j *Job) { j.Lines[0].Share = 1 }},
		{ErrJob, "the share below a line lies between 0 and 1, not 1e-07", func(j *Job) { j.Lines[0].Share = 1e-7 }},
		{ErrJob, "the share below a line lies between 0 and 1, not NaN", func(j *Job) { j.Lines[0].Share = nan }},
		{ErrJob, "a line at a height needs a model of the bait; give a share instead",
			func(j *Job) { j.Cavity, j.WeighedBaitG, j.Lines[0].ByPlace = nil, 10, true }},
		{ErrJob, "a line at a height of NaN mm", func(j *Job) { j.Lines = []Line{{Boundary: Level{HeightMM: nan}, ByPlace: true}} }},
		{ErrJob, "a line at a height of -Inf mm", func(j *Job) { j.Lines = []Line{{Boundary: Level{HeightMM: -inf}, ByPlace: true}} }},
		{ErrJob, "the line at 12.000 mm misses the bait, which reaches from 0.000 to 10.000 mm", func(j *Job) { j.Lines = []Line{{Boundary: Level{HeightMM: 12}, ByPlace: true}} }},
		{ErrJob, "what is left is given for 1 colours of 2", func(j *Job) { j.LeftML = j.LeftML[:1] }},
		{ErrJob, "what is left is given for 0 colours of 2", func(j *Job) { j.LeftML = []float64{} }},
		{ErrJob, "NaN mL left of back", func(j *Job) { j.LeftML[1] = nan }},
		{ErrJob, "-1 mL left of belly", func(j *Job) { j.LeftML[0] = -1 }},
		{ErrJob, `vessel "pot" holds 0 mL`, func(j *Job) { j.Vessel.HoldsML = 0 }},
		{ErrJob, `vessel "pot" holds NaN mL`, func(j *Job) { j.Vessel.HoldsML = nan }},
		{ErrJob, `vessel "pot" may be filled to between 0 and 1, not 0`, func(j *Job) { j.Vessel.Fill = 0 }},
		{ErrJob, `vessel "pot" may be filled to between 0 and 1, not 50`, func(j *Job) { j.Vessel.Fill = 50 }},
		{ErrJob, `vessel "pot" may be filled to between 0 and 1, not NaN`, func(j *Job) { j.Vessel.Fill = nan }},
		{ErrJob, `vessel "pot" keeps -6 mL`, func(j *Job) { j.Vessel.KeepsML = -6 }},
		// 1 cup, half full, is 127.2 mL hot of belly; keeping 110 leaves less than a shot.
		{ErrJob, `one shot takes 23.7 mL of belly and 110.0 mL stays in barrel and cup, but vessel "pot" filled to 50 % gives 127.2 mL hot; use a larger vessel or fewer cavities`,
			func(j *Job) { j.Vessel.HoldsML, j.Vessel.KeepsML = units.Cup.ML(), 106 }},
		{ErrInjector, `2 colours need as many barrels, "twin" has 1`, func(j *Job) { j.Injector.Barrels = j.Injector.Barrels[:1] }},
		{ErrInjector, `"twin" is driven "by hand"; a pair is "independent" or "ganged"`, func(j *Job) { j.Injector.Drive = "by hand" }},
		{ErrInjector, `"twin" is driven ""; a pair is "independent" or "ganged"`, func(j *Job) { j.Injector.Drive = "" }},
		{ErrInjector, `ganged barrels need their bores, "right" has none`, func(j *Job) { j.Injector.Barrels[1].BoreMM = 0 }},
		{ErrInjector, `barrel "left" has a bore of NaN mm`, func(j *Job) { j.Injector.Barrels[0].BoreMM = nan }},
		{ErrInjector, `barrel "left" has a bore of -32 mm`, func(j *Job) { j.Injector.Barrels[0].BoreMM = -32 }},
		{ErrInjector, `barrel "left" has a bore of 1e-300 mm`, func(j *Job) { j.Injector.Barrels[0].BoreMM = 1e-300 }},
		{ErrInjector, `barrel "right" has a bore of +Inf mm`, func(j *Job) { j.Injector.Barrels[1].BoreMM = inf }},
		{ErrInjector, "its bores leave belly a share of 9.8e-08", func(j *Job) { j.Injector.Barrels[0].BoreMM, j.Injector.Barrels[1].BoreMM = 0.1, 320 }},
		{ErrInjector, `barrel "left" holds 0 mL`, func(j *Job) { j.Injector.Barrels[0].CapacityML = 0 }},
		{ErrInjector, `barrel "left" holds NaN mL`, func(j *Job) { j.Injector.Barrels[0].CapacityML = nan }},
		{ErrInjector, `barrel "right" keeps -4 mL`, func(j *Job) { j.Injector.Barrels[1].KeepsML = -4 }},
		// A shot takes 23.7 mL a colour, of it 3 mL of feed: 5.18 mL a cavity.
		{ErrInjector, "one shot takes 23.7 mL of back, the right barrel gives 20.0 mL; it can fill at most 3 of the 4 cavities",
			func(j *Job) { j.Injector.Barrels[1].CapacityML = 24 }},
		{ErrInjector, "one shot takes 23.7 mL of belly, the left barrel gives 8.0 mL; it cannot fill even one cavity with this feed",
			func(j *Job) { j.Injector.Barrels[0].CapacityML = 12 }},
		{ErrInjector, "one shot takes 23.7 mL of belly, the left barrel gives 0.0 mL; it cannot fill even one cavity with this feed",
			func(j *Job) { j.Injector.Barrels[0].KeepsML = 128 }},
		{cavity.ErrChannel, "runner of NaN mL", func(j *Job) { j.Feed[0].VolumeML = nan }},
		{cavity.ErrMix, `additive "salt" needs a true density from 0.01 to 25 g/mL, not 0`, func(j *Job) { j.Colours[1].Mix.Doses[0].Additive.TrueGML = 0 }},
	} {
		j := paperJob(t)
		c.change(&j)
		_, err := j.Pour(t.Context())
		want := c.err.Error() + ": " + c.want
		if errors.Is(c.err, cavity.ErrMix) {
			want = `colour "back": ` + want
		}
		if !errors.Is(err, c.err) || err.Error() != want {
			t.Errorf("got  %v\nwant %s", err, want)
		}
	}
}

// A bait that was weighed weighs that, whatever it drew while it shrank.
func TestWeighedBaitIsNotWarnedOf(t *testing.T) {
	j := paperJob(t)
	j.FedAssumed = true
	same(t, "warnings with a model", len(pourIt(t, j).Warnings), 2) // and one of the line
	j.Cavity, j.WeighedBaitG = nil, 10
	p := pourIt(t, j)
	same(t, "warnings with a weight", len(p.Warnings), 1)
	equal(t, "weight", p.Bait.MassG, 10)
}

// The barrel that empties first is named even when both give the same number of
// whole shots: 116 mL and 113 mL are both 4 shots of 23.7 mL.
func TestTheBarrelThatEmptiesFirst(t *testing.T) {
	j := paperJob(t)
	j.Injector.Barrels[1].CapacityML = 117
	j.LeftML = []float64{130, 125} // less 6 that the cup keeps: 5.2 and 5.02 shots
	p := pourIt(t, j)
	same(t, "shots a load", p.Load.ShotsPerLoad, 4)
	same(t, "empties first", p.Load.Limiting, "back")
	same(t, "shots left", p.Left.Shots, 5)
	same(t, "runs out first", p.Left.Limiting, "back")
}

// A vessel filled to the rim cold would run over hot: belly swells by 1.075, so
// 4 cups hold 3.72 of it, down to the mark 3 5/8; back, by 1.1444444/1.0694444 =
// 1.0701299, holds 4/1.1444444 = 3.495 cups of plastisol, down to 3 3/8.
func TestVesselDoesNotRunOverHot(t *testing.T) {
	j := paperJob(t)
	j.Vessel.Fill = 1
	r, _, _, err := j.recipe(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	cup := units.Cup.ML()
	near(t, "belly", j.Vessel.PlastisolLimitML(j.Measures, r.blends[0])/cup, 3.625)
	near(t, "back", j.Vessel.PlastisolLimitML(j.Measures, r.blends[1])/cup, 3.375)
	p := pourIt(t, j)
	near(t, "belly's mark", p.Setup[0].MarkML, 4*cup/1.075)
	near(t, "back's mark", p.Setup[1].MarkML, 4*cup/1.0701299)
}
