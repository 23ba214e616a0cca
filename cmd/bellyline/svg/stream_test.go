package svg

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"

	"bellyline/laminate"
	"bellyline/laminate/stream"
)

// drawn is a bait of two stations: at the first both colours, at the second back alone.
func drawn() *stream.Result {
	line, low, high := 1.0, .8, 1.2
	return &stream.Result{
		File: "bait <&>\x1b.stl", DrawnMM: 1, Ratio: stream.Ratio{Back: 2, Low: 1, High: 3},
		Stations: []stream.Station{
			{XMM: 20, LowMM: -4, HighMM: 6, LineMM: &line, LineLowMM: &low, LineHighMM: &high, BackMM: 5, BellyMM: 5},
			{XMM: 10, LowMM: -4, HighMM: 6, LineMM: &line, LineLowMM: &low, LineHighMM: &high, BackMM: 5, BellyMM: 5},
			{XMM: 0, LowMM: 0, HighMM: 6, BackMM: 6},
		},
		Sections: []stream.SectionView{{
			XMM: 20, LowMM: -4, HighMM: 6, LeftMM: -3, RightMM: 3, Loops: [][][2]float64{{{-3, -4}, {3, -4}, {3, 6}, {-3, 6}}},
			Parts: []stream.SectionPart{{Loops: []int{0}, Shared: true, LineMM: 1, LeftMM: -3, RightMM: 3}},
		}},
	}
}

// The picture is one well-formed file, whatever the model's name, and shows line,
// band, drawing and section.
func TestStreamPicture(t *testing.T) {
	var b strings.Builder
	if err := Stream(&b, drawn()); err != nil {
		t.Fatal(err)
	}
	seen := classes(t, b.String())
	// Side view, its key, and the section; the line once in each.
	for class, count := range map[string]int{"back": 3, "belly": 3, "skin": 2, "lands": 3, "drawn": 2, "band": 1, "mark": 1} {
		if seen[class] != count {
			t.Errorf("%d of class %s, want %d", seen[class], class, count)
		}
	}
	if strings.ContainsAny(b.String(), "\x1b") || !strings.Contains(b.String(), "bait &lt;&amp;&gt;.stl") {
		t.Error("the name is not made harmless")
	}
}

// 20 mm of bait take the page between its margins: the line of the first station
// lies at the right margin, 5 mm of 10 below the top.
func TestStreamPictureScale(t *testing.T) {
	var b strings.Builder
	if err := Stream(&b, drawn()); err != nil {
		t.Fatal(err)
	}
	// Scale 820/20 = 41; top of the bait at 46, so its line at 46 + 5*41 = 251.
	if !strings.Contains(b.String(), `class="lands" d="M860.00 251.00L450.00 251.00"`) {
		t.Error(b.String())
	}
}

func TestNothingToDraw(t *testing.T) {
	if err := Stream(io.Discard, &stream.Result{}); err == nil {
		t.Error("a picture of nothing")
	}
}

// baitAlong is a bait from the first to the last station and 2 mm past either.
func baitAlong(r *stream.Result) *laminate.Views {
	v := &laminate.Views{Asked: &[][2]float64{{0, r.DrawnMM}, {1, r.DrawnMM}}}
	for _, s := range r.Stations {
		v.Side = append(v.Side, laminate.Reach{AlongMM: s.XMM, LowMM: s.LowMM, HighMM: s.HighMM})
	}
	slices.SortFunc(v.Side, func(a, b laminate.Reach) int { return cmp.Compare(a.AlongMM, b.AlongMM) })
	v.Side[0].AlongMM -= 2
	v.Side[len(v.Side)-1].AlongMM += 2
	return v
}

// The side is drawn from nose to tail, and sections are numbered from the tail on, as
// the picture has them from left to right. It once ended at the outermost stations, and
// the numbers ran the other way.
func TestCardGoesFromTailToNose(t *testing.T) {
	r := drawn()
	slices.SortFunc(r.Sections, func(a, b stream.SectionView) int { return cmp.Compare(b.XMM, a.XMM) })
	v := baitAlong(r)
	var page strings.Builder
	if err := Card(&page, v, r); err != nil {
		t.Fatal(err)
	}
	last := 0.0
	for i := range r.Sections {
		var x, y float64
		_, at, ok := strings.Cut(page.String(), "<path class=\"mark\" d=\"M")
		if _, err := fmt.Sscanf(at, "%f %f", &x, &y); !ok || err != nil || x <= last {
			t.Fatalf("section %d is marked at %g, after %g: %v", i+1, x, last, err)
		}
		last = x
		page.Reset()
		page.WriteString(at)
	}
	line := landing(v.Side, r)
	if line[0][0] >= v.Side[0].AlongMM || line[len(line)-1][0] <= v.Side[len(v.Side)-1].AlongMM {
		t.Errorf("the line reaches from %g to %g", line[0][0], line[len(line)-1][0])
	}
}

// The card's picture stays a strip, whatever the bait's width: a section 200 mm wide
// beside a bait 100 mm long takes two fifths of it at most.
func TestCardPicture(t *testing.T) {
	r := drawn()
	for _, wide := range []float64{2, 200} {
		for i := range r.Sections {
			r.Sections[i].LeftMM, r.Sections[i].RightMM = -wide/2, wide/2
		}
		var page strings.Builder
		if err := Card(&page, baitAlong(r), r); err != nil {
			t.Fatal(err)
		}
		var w, h float64
		if _, err := fmt.Sscanf(page.String(), `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %f %f"`, &w, &h); err != nil {
			t.Fatal(err)
		}
		if w > cardWide+1 || h > cardTall+cardHead+cardMargin+1 {
			t.Errorf("sections %g mm wide: the picture is %g x %g", wide, w, h)
		}
		for _, want := range []string{"url(#cardbelly)", "url(#cardback)", `class="edge"`, `class="drawn"`} {
			if !strings.Contains(page.String(), want) {
				t.Errorf("the picture has no %s", want)
			}
		}
	}
	if Card(io.Discard, &laminate.Views{}, &stream.Result{}) == nil {
		t.Error("nothing is drawn")
	}
}
