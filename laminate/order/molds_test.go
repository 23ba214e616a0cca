package order

import (
	"errors"
	"math"
	"testing"
)

// Line B of the order on paper with 2 molds: 2 good shots of 20 s, 37.7 mL hot. Each mold
// spoils its first. Free 30 s after the shot, from the first shot on in s:
//
//	two   mold 1 at 0, mold 2 at 20, 1 at 50, 2 at 70, free at 120; 4 shots
//	one   0, 50, 100, free at 150; 3 shots
//
// 4 shots take 160.8 mL with what is kept, 5/8 cup, 3 shots 123.1, 1/2 cup: 0.59 more for
// plastic, and 30 s at 18 an hour are 0.15. Without a wage the time counts for itself.
// Free 10 s after the shot, one mold is as fast: 0, 30, 60, free at 90; two: 0, 20, 40, 60.
func TestFewerMoldsWhereASecondOnlyCosts(t *testing.T) {
	o := paperOrder(t)
	o.Lines = o.Lines[1:]
	o.Lines[0].Molds = 2
	for _, c := range []struct {
		opensS, wage float64
		molds, warm  int
	}{{30, 18, 1, 1}, {30, 0, 2, 2}, {10, 0, 1, 1}} {
		o.Lines[0].OpensAfterS, o.Bench.LabourPerHour = c.opensS, c.wage
		p, err := o.Plan(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		if l := p.Lines[0]; l.Molds != c.molds || l.MoldsGiven != 2 || l.WarmUps != c.warm || l.Shots != 2 {
			t.Errorf("%+v: %+v", c, l)
		}
	}

	// A mold that cools for ten minutes: a second one saves more labour than its spoilt
	// shot costs (37.7 mL hot are 34.6 mL of plastisol, 0.69 at 0.02 a mL; ten minutes
	// at 18 an hour are 3). Without a wage time counts for itself.
	for _, wage := range []float64{18, 0} {
		o.Bench.LabourPerHour = wage
		o.Lines[0].Pieces, o.Lines[0].Packs, o.Lines[0].OpensAfterS = 36, 3, 600
		o.Lines[0].Job.Vessel.Cooling.AfterS = 36_000 // the batch waits
		p, err := o.Plan(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		if l := p.Lines[0]; l.Molds != 2 {
			t.Errorf("at %g an hour %+v", wage, l)
		}
	}
}

// 30 g of black, hot 30/0.9174312 = 32.7 mL, are taken before fresh plastic. On paper the
// heating of B takes 3*37.7 mL and 10 of cup and barrel, with what B may take of mixed
// trimmings; alone there are none: 123.1-32.7 = 90.4 mL are 0.35055 of a cup's 257.8811778,
// so 3/8 cup.
func TestLeftoversAreUsedFirst(t *testing.T) {
	o := paperOrder(t)
	o.Lines = o.Lines[1:]
	o.Leftovers = []Leftover{{Colour: "black", MassG: 20, Heated: 1}, {Colour: "black", MassG: 10, Heated: 3}, {Colour: "black", MassG: 50, Heated: 4}}
	p, err := o.Plan(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	cup := p.Heatings[0].Cups[0]
	near(t, "taken", cup.BackG, 30)
	near(t, "fresh", cup.Cups, 0.375)
	if cup.Heats != 4 {
		t.Errorf("the oldest of it is heated for the %d. time, want 4", cup.Heats)
	}
	a := p.Colours[0]
	near(t, "from before", a.BroughtG, 80)
	near(t, "in and out", a.FreshG+a.BroughtG, a.BaitsG+a.SpareG+a.ToMixedG+a.ShelfG+a.TooOldG)
	if a.TooOldG < 50 {
		t.Errorf("%g g are too old, and 50 g were so before", a.TooOldG)
	}
	want := "50 g left over of black has been heated 4 times, and may be 3 times before it is heated again: not used"
	if w := p.Warnings[len(p.Warnings)-1]; w != want {
		t.Errorf("got  %s\nwant %s", w, want)
	}
}

func TestLeftoversThatCannotBe(t *testing.T) {
	for want, l := range map[string]Leftover{
		`left over is "red", and no bait of the order has that colour; there is: belly, back, black`: {"red", 10, 1},
		"-1 g left over of black":  {"black", -1, 1},
		"NaN g left over of black": {"black", math.NaN(), 1},
		"what is left over of black has been heated 0 times; at least once, or it is not left over": {"black", 10, 0},
	} {
		o := paperOrder(t)
		o.Leftovers = []Leftover{l}
		if _, err := o.Plan(t.Context()); !errors.Is(err, ErrOrder) || err.Error() != ErrOrder.Error()+": "+want {
			t.Errorf("got  %v\nwant %s", err, want)
		}
	}
}

// Groups hold every heating once, and what a heating's cups take is what its group says.
func TestHeatingGroupsHoldEveryHeating(t *testing.T) {
	o := paperOrder(t)
	o.Lines[0].Pieces = 1000
	p, err := o.Plan(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	seen := make([]int, len(p.Heatings))
	groups := p.HeatingGroups()
	for _, g := range groups {
		for k, n := range g.Numbers {
			h := p.Heatings[n-1]
			seen[n-1]++
			if h.Shots != g.Shots || h.StartS != g.StartsS[k] {
				t.Errorf("heating %d: %d shots at %g s, its group %d at %g s", n, h.Shots, h.StartS, g.Shots, g.StartsS[k])
			}
			for i, c := range h.Cups {
				if r := g.Cups[i]; c.CupsText != r.CupsText || c.BackG < r.BackLeastG || c.BackG > r.BackMostG {
					t.Errorf("heating %d: %+v is not of the group %+v", n, c, r)
				}
			}
		}
	}
	for i, n := range seen {
		if n != 1 {
			t.Errorf("heating %d stands in %d groups", i+1, n)
		}
	}
	if len(groups) > len(p.Heatings)/4 {
		t.Errorf("%d groups of %d heatings: hardly any are alike", len(groups), len(p.Heatings))
	}
}
