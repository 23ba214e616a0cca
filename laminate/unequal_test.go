package laminate

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The job on paper: bores of 32 mm, so 3 mm of stroke are 3*pi/4*32^2 = 2412.743158 mm3.
// A shot takes 47.4512987 mL, its four cavities hold 40 mL. Belly first: it gets
// 2.412743 and half of the rest, 0.5+2.412743/47.4512987/2 = 0.5254234 of the shot, and
// in a box 10 mm tall the line of that share lies at 5.254234 mm, where the barrels
// put it at 5.
func TestPlungersThatStartUnequal(t *testing.T) {
	j := paperJob(t)
	j.Apart = Apart{MM: 3, First: "belly"}
	p := pourIt(t, j)
	same(t, "colours that can come first", len(p.Start.Alone), 1)
	a := p.Start.Alone[0]
	same(t, "colour", a.Colour, "belly")
	same(t, "barrel", a.Barrel, "left")
	near(t, "alone", a.ML, 2.412743158)
	near(t, "of a shot", a.ShotShare, 0.05084672)
	near(t, "of the cavities", a.BaitsShare, 0.06031858)
	near(t, "belly in the first shot", a.FirstShare, 0.52542336)
	near(t, "line", *a.FirstMM, 5.2542336)
	near(t, "moved", *a.MovedMM, 0.2542336)
	want := "plungers that start 3.0 mm (0.12 in) apart: 2.41 mL (0.082 fl oz) of belly comes first, alone: 5 % of a shot, as much as fills 6 % of its cavities; " +
		"the first mold of a draw gets 52.5/47.5, its line 0.3 mm higher in the mean, and where it fills first it is of one colour. " +
		"Level them before you draw, or push the one that comes first out into its own cup until both colours show, and only then set the mold on"
	if got := strings.Join(p.Warnings, "\n"); !strings.Contains(got, want) {
		t.Errorf("got  %s\nwant %s", got, want)
	}

	// Nobody has looked: either can come first, the back's the other way by as much.
	j.Apart.First = ""
	p = pourIt(t, j)
	same(t, "colours that can come first", len(p.Start.Alone), 2)
	near(t, "back first: belly's share", p.Start.Alone[1].FirstShare, 1-0.52542336)
	near(t, "back first: moved", *p.Start.Alone[1].MovedMM, -0.2542336)

	// Pushed one by one, each to its mark: the shares stay.
	j.Apart.First, j.Injector.Drive = "back", Independent
	a = pourIt(t, j).Start.Alone[0]
	equal(t, "pushed by itself", a.FirstShare, 0.4)
	if a.FirstMM != nil {
		t.Errorf("a line at %g mm", *a.FirstMM)
	}

	// 60 mm are 48.254863 mL: more than a shot, which then is of one colour.
	j = paperJob(t)
	j.Apart = Apart{MM: 60, First: "back"}
	p = pourIt(t, j)
	a = p.Start.Alone[0]
	near(t, "of a shot", a.ShotShare, 48.254863/47.4512987)
	equal(t, "belly's share", a.FirstShare, 0)
	equal(t, "of the cavities", a.BaitsShare, 1)
	if got := p.Start.Warning(); a.FirstMM != nil || !strings.Contains(got, "the first mold of a draw is of that colour only") {
		t.Errorf("a whole shot of one colour: %s", got)
	}
	if pourIt(t, paperJob(t)).Start != nil {
		t.Error("level plungers start unequal")
	}
}

// Whatever comes first, the mold is filled once: belly's part of the first shot is
// what came alone and its part of the rest.
func TestUnequalStartsFillTheMoldOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		i, s, alone := rapid.IntRange(0, 1).Draw(t, "first"), between(t, "delivered", 0.01, 0.99), between(t, "alone", 0, 2)
		got := firstShare(i, s, alone)
		first, second := 0., 0. // in parts of a shot
		if i == 0 {
			first = math.Min(1, alone)
		} else {
			second = math.Min(1, alone)
		}
		rest := 1 - first - second
		equal(t, "first colour", got, first+rest*s)
		equal(t, "second colour", 1-got, second+rest*(1-s))
	})
}

// A barrel of 120 mL and 32 mm has a stroke of 149.2 mm.
func TestStartsThatCannotBe(t *testing.T) {
	for _, c := range []struct {
		err    error
		want   string
		change func(*Job)
	}{
		{ErrJob, "plungers -1 mm apart", func(j *Job) { j.Apart.MM = -1 }},
		{ErrJob, "plungers NaN mm apart", func(j *Job) { j.Apart.MM = math.NaN() }},
		{ErrJob, "plungers 0 mm apart", func(j *Job) { j.Apart = Apart{First: "belly"} }},
		{ErrJob, `no colour is called "side", which comes first`, func(j *Job) { j.Apart.First = "side" }},
		{ErrJob, "one colour has one plunger, which stands apart from none",
			func(j *Job) {
				j.Colours, j.Lines, j.Injector.Barrels, j.LeftML = j.Colours[:1], nil, j.Injector.Barrels[:1], nil
			}},
		{ErrInjector, "plungers cannot stand 150 mm apart: the whole stroke of the left barrel is 149 mm", func(j *Job) { j.Apart.MM = 150 }},
		{ErrInjector, "what plungers 3 mm apart shoot takes the bore of the right barrel",
			func(j *Job) { j.Injector.Drive, j.Injector.Barrels[1].BoreMM = Independent, 0 }},
		{ErrJob, "a line of the kind core takes an insert or a second shot: its colours are shot one after the other, and no plunger starts ahead",
			func(j *Job) {
				j.Injector.Drive, j.Lines = Independent, []Line{{Boundary: Core{DepthMM: 2}, ByPlace: true}}
			}},
	} {
		j := paperJob(t)
		j.Apart = Apart{MM: 3}
		c.change(&j)
		_, err := j.Pour(t.Context())
		if !errors.Is(err, c.err) || err.Error() != c.err.Error()+": "+c.want {
			t.Errorf("got  %v\nwant %s", err, c.want)
		}
	}
}
