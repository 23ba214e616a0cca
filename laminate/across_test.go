package laminate

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// Ganged barrels of equal bores and a mold with as many cavities left of the runner as
// right of it: each side is of one colour. With three cavities on belly's side and one
// on back's, belly's half fills two of the three. With bores of 30 and 40 mm belly
// gets 9/25 = 0.36: of four cavities 1.44, so that back crosses over.
func TestStreamsAcrossThePartingFace(t *testing.T) {
	for _, c := range []struct {
		beside []int
		bores  [2]float64
		lies   []string
		first  []float64 // belly's share on each side
	}{
		{nil, [2]float64{32, 32}, []string{"on the side of the left barrel", "on the side of the right barrel"}, []float64{1, 0}},
		{[]int{3, 1}, [2]float64{32, 32}, []string{"on the side of the left barrel", "on the side of the right barrel"}, []float64{2. / 3, 0}},
		{[]int{1, 1}, [2]float64{32, 32}, []string{"on the side of the left barrel", "on the line of the runner", "on the side of the right barrel"}, []float64{1, 0.5, 0}},
		{nil, [2]float64{30, 40}, []string{"on the side of the left barrel", "on the side of the right barrel"}, []float64{0.72, 0}},
		{nil, [2]float64{40, 30}, []string{"on the side of the left barrel", "on the side of the right barrel"}, []float64{1, 0.28}},
		{[]int{0, 0}, [2]float64{40, 30}, []string{"on the line of the runner"}, []float64{0.64}},
	} {
		j := paperJob(t)
		j.Across = &Across{Beside: c.beside}
		j.Injector.Barrels[0].BoreMM, j.Injector.Barrels[1].BoreMM = c.bores[0], c.bores[1]
		p := pourIt(t, j)
		if len(p.Across.Sides) != len(c.lies) {
			t.Errorf("sides %+v, want %v", p.Across.Sides, c.lies)
			continue
		}
		for i, side := range p.Across.Sides {
			same(t, "lies", side.Lies, c.lies[i])
			equal(t, "belly's share", side.Colours[0].Share, c.first[i])
			equal(t, "back's share", side.Colours[1].Share, 1-c.first[i])
		}
		same(t, "assumed", p.Across.Assumed, c.beside == nil)
	}
}

// A bait 12.5 mm wide on the runner's line: 0.64 of its width is belly's, 8 mm. Of a
// bait all of one colour, with nothing drawn, the weight on paper is 10 mL of that
// colour's hot density.
func TestUprightLineAndWeightsOfSides(t *testing.T) {
	j := paperJob(t)
	j.Cavities, j.Across = 1, &Across{}
	j.Injector.Barrels[0].BoreMM, j.Injector.Barrels[1].BoreMM = 40, 30
	p := pourIt(t, j)
	same(t, "sides", len(p.Across.Sides), 1)
	near(t, "in from belly's side", *p.Across.Sides[0].UprightMM, 8)
	want := "no laminate: the plane between the streams stands across the parting face, so the colours flow side by side and not one over the other; " +
		"1 cavity on the line of the runner: 64/36 belly to back, the line upright from nose to tail, 8.0 mm (0.31 in) in from the belly side"
	same(t, "says", p.Across.Says, want)
	same(t, "first warning", p.Warnings[0], want)
	same(t, "way out", p.Across.Remedy, `for a laminate turn the block a quarter, until the left barrel's stream faces the lower, and take "streams" out of the mold file`)

	j = paperJob(t)
	j.Across = &Across{}
	p = pourIt(t, j)
	near(t, "belly's baits", p.Across.Sides[0].MassUnfedG, 10*0.9302326)
	near(t, "back's baits", p.Across.Sides[1].MassUnfedG, 10*1.0048544)
}

// Nothing on the card of streams across the parting face may look like a laminate.
func TestNoLaminateIsPretended(t *testing.T) {
	j := paperJob(t)
	j.Across, j.Streams = &Across{}, true
	p := pourIt(t, j)
	if l := p.Line; l.DeliveredMM != nil || l.DeliveredUpMM != nil || l.SplitAreaMM2 != nil || l.LineLengthMM != nil || l.Lands != nil || l.Agree != nil {
		t.Errorf("a line of a laminate: %+v", l)
	}
	same(t, "in water", len(p.Water.Falls), 0)
	for _, c := range p.Setup {
		same(t, "half", c.Half, "")
	}
	for _, w := range p.Warnings {
		if strings.Contains(w, "the line") && !strings.HasPrefix(w, "no laminate") || strings.Contains(w, "ganged") {
			t.Errorf("a warning of a line: %s", w)
		}
	}
	if _, err := j.DoseFor(t.Context(), j.Colours[1].Mix.Doses[0].Additive, 10); !errors.Is(err, ErrJob) {
		t.Errorf("a dose for one weight of baits that do not weigh alike: %v", err)
	}
}

// The sides together get what the barrels give, in shares and in grams.
func TestSidesAddUpToTheShot(t *testing.T) {
	from := bodies(t)
	rapid.Check(t, func(t *rapid.T) {
		j := randomJob(t, from)
		j.Across = &Across{}
		if rapid.Bool().Draw(t, "said") {
			first := rapid.IntRange(0, j.Cavities).Draw(t, "first side")
			j.Across.Beside = []int{first, rapid.IntRange(0, j.Cavities-first).Draw(t, "second side")}
		}
		p, err := j.Pour(t.Context())
		if err != nil {
			t.Skip("one colour, or a shot that does not fit")
		}
		cavities, first, grams := 0, 0., 0.
		for _, s := range p.Across.Sides {
			if x := s.Colours[0].Share; !(x >= 0 && x <= 1) || math.Abs(x+s.Colours[1].Share-1) > 1e-15 {
				t.Errorf("shares %+v", s.Colours)
			}
			cavities += s.Cavities
			first += float64(s.Cavities) * s.Colours[0].Share
			grams += float64(s.Cavities) * s.MassG
		}
		same(t, "cavities", cavities, j.Cavities)
		equal(t, "belly's share", first/float64(j.Cavities), p.Line.DeliveredShare)
		equal(t, "grams", grams, p.Shot.Colours[0].baitG+p.Shot.Colours[1].baitG)
	})
}

func TestStreamsThatCannotBe(t *testing.T) {
	for _, c := range []struct {
		want   string
		change func(*Job)
	}{
		{"cavities lie on two sides of the runner, not as [2]", func(j *Job) { j.Across.Beside = []int{2} }},
		{"cavities lie on two sides of the runner, not as [2 -1]", func(j *Job) { j.Across.Beside = []int{2, -1} }},
		{"3 and 2 cavities beside the runner are more than the mold's 4", func(j *Job) { j.Across.Beside = []int{3, 2} }},
		{"one colour has one stream, and no plane between two", func(j *Job) {
			j.Colours, j.Lines, j.Injector.Barrels, j.LeftML = j.Colours[:1], nil, j.Injector.Barrels[:1], nil
		}},
		{"a line of the kind crosswise takes an insert or a second shot, so there are no two streams side by side",
			func(j *Job) { j.Injector.Drive, j.Lines = Independent, []Line{{Boundary: Crosswise{}, Share: 0.5}} }},
	} {
		j := paperJob(t)
		j.Across = &Across{}
		c.change(&j)
		_, err := j.Pour(t.Context())
		if !errors.Is(err, ErrJob) || err.Error() != ErrJob.Error()+": "+c.want {
			t.Errorf("got  %v\nwant %s", err, c.want)
		}
	}
	// A bait whose nose is not square to its back still has a left and a right.
	j := paperJob(t)
	j.Cavity = openBody(t, "egg.stl", r3.Vector{X: 1, Z: 4}, ellipsoid(30, 12, 8, 40))
	j.Cavities, j.Across, j.Injector.Barrels[0].BoreMM = 1, &Across{}, 32
	within(t, "middle of an egg", *pourIt(t, j).Across.Sides[0].UprightMM, 12, 1e-9)
}
