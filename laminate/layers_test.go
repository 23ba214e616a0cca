package laminate

import (
	"strings"
	"testing"
)

// threeColours is the job on paper with a third colour like belly, in a barrel like the
// others, 20/50/30 from below.
func threeColours(t *testing.T) Job {
	j := paperJob(t)
	third := j.Colours[0]
	third.Name, third.Half = "crest", "upper"
	j.Colours[1].Half = ""
	j.Colours = append(j.Colours, third)
	barrel := j.Injector.Barrels[0]
	barrel.Name = "third"
	j.Injector.Barrels = append(j.Injector.Barrels, barrel)
	j.Lines = LinesFor(Level{}, []float64{0.2, 0.5, 0.3})
	j.LeftML = nil
	return j
}

// In a box 10 mm tall shares of 20/50/30 have lines at 2 and 7 mm, each over 80 x 12.5
// mm and 2 x (80 + 12.5) mm of skin. Bores of 30, 40 and 50 mm have areas as 9 to 16 to
// 25: 18/32/50, with lines at 1.8 and 5 mm. For the drawn shares beside 30 mm: back
// 30*sqrt(5/2) = 47.434165 mm, crest 30*sqrt(3/2) = 36.742346 mm.
func TestThreeColoursOneOverTheOther(t *testing.T) {
	j := threeColours(t)
	j.Injector.Drive = Independent
	l := pourIt(t, j).Line
	same(t, "lines", len(l.Layers), 2)
	for i, want := range []struct {
		below, above string
		share, at    float64
	}{{"belly", "back", 0.2, 2}, {"back", "crest", 0.7, 7}} {
		line := l.Layers[i]
		same(t, "below", line.Below, want.below)
		same(t, "above", line.Above, want.above)
		equal(t, "asked share", line.AskedShare, want.share)
		equal(t, "asked", *line.AskedMM, want.at)
		equal(t, "delivered", *line.DeliveredMM, want.at)
		equal(t, "joined", *line.SplitAreaMM2, 1000)
	}
	equal(t, "joined in all", *l.SplitAreaMM2, 2000)
	equal(t, "on the skin in all", *l.LineLengthMM, 2*185)

	for i, bore := range []float64{30, 40, 50} {
		j.Injector.Barrels[i].BoreMM = bore
	}
	j.Injector.Drive = Ganged
	p := pourIt(t, j)
	equal(t, "lower line", *p.Line.Layers[0].DeliveredMM, 1.8)
	equal(t, "upper line", *p.Line.Layers[1].DeliveredMM, 5)
	near(t, "belly's bore", p.Line.Agree.Bores[0].BoreMM, 30)
	near(t, "back's bore", p.Line.Agree.Bores[1].BoreMM, 47.434165)
	near(t, "crest's bore", p.Line.Agree.Bores[2].BoreMM, 36.742346)
	want := "the ganged barrels give 18/32/50 from belly to crest, not 20/50/30 as drawn; three ways out: draw the lines where they put them, at 18/32/50; " +
		"or take bores of 47.4 mm (1.87 in) for back and 36.7 mm (1.45 in) for crest beside the 30.0 mm of belly; or push each plunger by hand"
	if got := strings.Join(p.Warnings, "\n"); !strings.Contains(got, want) {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	equal(t, "belly's share of a shot", p.Shot.Colours[0].Share, 0.18)
	equal(t, "crest's share of a shot", p.Shot.Colours[2].Share, 0.5)
}
