package laminate

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The job on paper with bores of 30 and 40 mm: the areas stand as 9 to 16, so belly
// gets 9/25 = 36 %. For 40/60 the areas must stand as 2 to 3: belly's bore beside
// back's 40 mm is 40*sqrt(2/3) = 32.659863 mm, back's beside belly's 30 mm is
// 30*sqrt(3/2) = 36.742346 mm.
func TestBoresForTheDrawnLine(t *testing.T) {
	j := paperJob(t)
	j.Injector.Barrels[0].BoreMM, j.Injector.Barrels[1].BoreMM = 30, 40
	p := pourIt(t, j)
	near(t, "delivered", p.Line.DeliveredShare, 0.36)
	near(t, "delivered height in a box 10 mm tall", *p.Line.DeliveredMM, 3.6)
	a := p.Line.Agree
	near(t, "areas", a.BoreAreaRatio, 2./3)
	near(t, "belly's bore", a.Bores[0].BoreMM, 32.659863)
	near(t, "back's bore", a.Bores[1].BoreMM, 36.742346)
	near(t, "belly's bore now", a.Bores[0].IsMM, 30)
	equal(t, "all that ganged barrels give", a.LeastShare, 0.36)
	equal(t, "and no more", a.MostShare, 0.36)
	// Pushed by hand, 4 cavities and 6 mL of feed take of belly 4*4*(1+0.0375)+2.4 mL,
	// half of 0.075 being drawn; of back 4*6*(1+0.0701299/2)+3.6 mL (figures on paper).
	bellyML, backML := 16*1.0375+2.4, 24*(1+0.0701299/2)+3.6
	near(t, "belly's push", a.Pushes[0].TravelMM, bellyML*1000/(math.Pi/4*900))
	near(t, "back's push", a.Pushes[1].TravelMM, backML*1000/(math.Pi/4*1600))
	near(t, "back's for 1 of belly's", a.Pushes[1].PerFirst, backML/bellyML*9/16)
	if !a.ByHandFits {
		t.Error("19.0 and 28.4 mL do not fit into barrels that give 116 mL")
	}
	want := "the ganged barrels give 36/64 belly to back, not 40/60 as drawn, the line 0.4 mm lower; three ways out: " +
		"draw the line where they put it, at 36/64, 3.6 mm (0.14 in) above the lowest point (3.60 mm in the model); " +
		"or change belly's barrel to a bore of 32.7 mm (1.29 in) from 30.0 mm, or back's barrel to a bore of 36.7 mm (1.45 in) from 40.0 mm, the other kept (areas as 0.67 to 1); " +
		"or push each plunger by hand, without the common handle: for one mold belly 26.9 mm (1.06 in), back 22.6 mm (0.89 in)"
	if got := strings.Join(p.Warnings, "\n"); !strings.Contains(got, want) {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// Barrels changed as told, lines moved as told and plungers pushed as told do give
// what was drawn.
func TestEveryWayOutLeadsOut(t *testing.T) {
	from := bodies(t)
	rapid.Check(t, func(t *rapid.T) {
		j := randomJob(t, from)
		j.Injector.Drive = Ganged
		p, err := j.Pour(t.Context())
		if err != nil || p.Line == nil {
			t.Skip("one colour, or a shot that does not fit")
		}
		var asked []float64
		below := 0.0
		for _, c := range p.Line.Courses() {
			asked, below = append(asked, c.AskedShare-below), c.AskedShare
		}
		asked = append(asked, 1-below)
		changed := j
		for i, b := range p.Line.Agree.Bores {
			if i == 0 || len(asked) == 2 { // of a pair either is changed, of more all but the first
				changed.Injector.Barrels = append([]Barrel{}, j.Injector.Barrels...)
			}
			changed.Injector.Barrels[i].BoreMM = b.BoreMM
			shares, fixed, err := changed.Injector.Delivered(asked)
			if err != nil || !fixed {
				t.Fatal(err)
			}
			if len(asked) == 2 || i == len(asked)-1 {
				for k := range asked {
					equal(t, "share with changed barrels", shares[k], asked[k])
				}
			}
		}
		hand := j
		hand.Injector.Drive = Independent
		byHand, err := hand.Pour(t.Context())
		if (err == nil) != p.Line.Agree.ByHandFits && !strings.Contains(errText(err), "vessel") {
			t.Errorf("by hand fits %v, yet %v", p.Line.Agree.ByHandFits, err)
		}
		if err == nil {
			for i, push := range p.Line.Agree.Pushes {
				equal(t, "push", push.TravelMM, byHand.Load.Barrels[i].TravelMM)
			}
		}
		moved := j
		delivered, _, _ := j.Injector.Delivered(asked)
		moved.Lines = LinesFor(nil, delivered)
		for _, w := range pourIt(t, moved).Warnings {
			if strings.Contains(w, "ganged") {
				t.Errorf("the line was drawn where the barrels put it, yet: %s", w)
			}
		}
	})
}

func errText(err error) string {
	if err == nil {
		return ""
	}
	return err.Error()
}

// Independent barrels that give 116 mL each fill 40 mL of cavities and 6 mL of feed
// with any share. With 20 mL in belly's the paper's figures allow 41.5*s+6*s = 20
// (40 mL and half of 0.075 of it, and the feed): s = 20/47.5. With 30 mL in back's,
// back takes 40*(1+0.0701299/2)+6 = 47.402598 of its own share: 30/47.402598.
func TestWhatBarrelsCanDeliver(t *testing.T) {
	j := paperJob(t)
	j.Injector.Drive = Independent
	a := pourIt(t, j).Line.Agree
	near(t, "least", a.LeastShare, leastShare)
	near(t, "most", a.MostShare, 1-leastShare)
	j.Injector.Barrels[0].CapacityML, j.Injector.Barrels[1].CapacityML = 24, 34
	a = pourIt(t, j).Line.Agree
	near(t, "most", a.MostShare, 20/47.5)
	near(t, "least", a.LeastShare, 1-30/47.402598)
}

// A line that independent barrels cannot fill in one stroke is refused with where it
// can lie, and with the bore that would do at the same stroke: belly takes
// 40*0.52*1.0375+6*0.52 = 24.7 mL, and with what the barrel keeps it must hold 28.7 mL:
// 32*sqrt(28.7/24) = 34.993 mm.
func TestIndependentBarrelsThatCannotReach(t *testing.T) {
	j := paperJob(t)
	j.Injector.Drive = Independent
	j.Lines = []Line{{Share: 0.52}}
	j.Injector.Barrels[0].CapacityML = 24
	_, err := j.Pour(t.Context())
	want := "injector cannot do this: one shot takes 24.7 mL of belly, the left barrel gives 20.0 mL; it can fill at most 3 of the 4 cavities; " +
		"for all of them draw the line between 0.1/99.9 and 42.1/57.9, or take a barrel of 35.0 mm (1.38 in) bore and the same stroke"
	if errText(err) != want {
		t.Errorf("got  %v\nwant %s", err, want)
	}
}

// A weighed stroke of 22 g of belly (0.9302326 g/mL hot) and 18 g of back (1.0048544)
// is 23.65 mL to 17.913043 mL: belly gets 0.56901512 though the bores are equal. For 40/60
// the change starts from there: belly's bore 32*sqrt((2/3)/(23.65/17.913043)) = 22.739110.
func TestBoresStartFromWhatWasWeighed(t *testing.T) {
	j := paperJob(t)
	j.Weighings.StrokeG = []float64{22, 18}
	l := pourIt(t, j).Line
	near(t, "delivered", l.DeliveredShare, 0.56901512)
	near(t, "belly's bore", l.Agree.Bores[0].BoreMM, 22.739110)
	near(t, "back's bore", l.Agree.Bores[1].BoreMM, 32*32/22.739110)
	// The areas told are those of the bores told, not of the drawn share.
	near(t, "areas", l.Agree.TakenAreaRatio, 22.739110*22.739110/(32*32))
	if got := l.Agree.changeBarrels(); !strings.HasSuffix(got, "(areas as 0.50 to 1, by the stroke that you weighed)") {
		t.Error(got)
	}
}
