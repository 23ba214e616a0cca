package bench

import (
	"bytes"
	"encoding/json"
	"math"
	"net/http"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"bellyline/cmd/bellyline/files"
	"bellyline/cmd/bellyline/shop"
	"bellyline/laminate"
	"bellyline/mesh"
	"bellyline/mesh/solids"
	"bellyline/mesh/stl"
)

// box is a closed block from the origin, as an STL: half of its volume lies below
// half of its height, and below any plane through its middle.
func box(x, y, z float64) []byte {
	var out bytes.Buffer
	if err := stl.Write(&out, "box", mesh.New(solids.Block(x, y, z))); err != nil {
		panic(err) // a buffer takes all
	}
	return out.Bytes()
}

// boxLines are lines in a block of 60 x 20 x 10 mm, and what lies below them by hand.
var boxLines = map[string]struct {
	line   linePart
	height float64
	share  float64 // of the first colour
}{
	"level":     {linePart{Kind: "level"}, 4, 0.4},
	"tilted":    {linePart{Kind: "tilted", TiltDeg: 5}, 5, 0.5}, // through the middle
	"rolled":    {linePart{Kind: "tilted", RollDeg: -20}, 5, 0.5},
	"drawn":     {linePart{Kind: "drawn", Points: [][2]float64{{0, 2}, {30, 6}, {60, 2}}}, 0, 0.4}, // 4 mm in the mean of 10
	"raised":    {linePart{Kind: "drawn", Points: [][2]float64{{0, 2}, {30, 6}, {60, 2}}}, 1, 0.5},
	"crosswise": {linePart{Kind: "crosswise"}, 15, 0.25},
	// The groove is 4 mm wide at its floor, 5 mm deep, its flanks lean by 45 degrees:
	// 45 mm2 of 200 mm2.
	"stripe": {linePart{Kind: "stripe", WidthMM: 4, AcrossMM: 10, DraftDeg: 45}, 5, 1 - 45.0/200},
}

// The page gives each kind of line the share that follows by hand, its parts say the
// same, and the line is drawn where the parts join.
func TestLinesOfAllKinds(t *testing.T) {
	s := newBench(t, Options{})
	o := decode[opened](t, upload(t, s, file{"bait.stl", box(60, 20, 10)}).Body.Bytes())
	for name, c := range boxLines {
		ask := o.Settings
		ask.Injector = "hand pair"
		ask.Line, ask.HeightMM = c.line, &c.height
		a := answerTo(t, s, o.ID, ask)
		if a.Error != "" {
			t.Errorf("%s: %s", name, a.Error)
			continue
		}
		p := decode[parted](t, post(t, s, "/api/work/"+o.ID+"/split", ask))
		if p.Error != "" || len(p.Split.Colours) != 2 || len(p.Sheets) != 1 {
			t.Fatalf("%s: %+v", name, p)
		}
		for what, got := range map[string]float64{"pour": a.Pour.Line.AskedShare, "parts": p.Split.Colours[0].Share} {
			if math.Abs(got-c.share) > 1e-9 {
				t.Errorf("%s: the %s give the first colour %.12g, want %.12g", name, what, got, c.share)
			}
		}
		if diff := cmp.Diff(p.Sheets, a.Line.Sheets); diff != "" {
			t.Errorf("%s: the line is drawn in two places:\n%s", name, diff)
		}
		if got := drawnBelow(p.Sheets[0]); math.Abs(got-c.share) > 0.01 { // of 24,000 places, some 0.3 % lie at the line
			t.Errorf("%s: %.4f of the block is drawn in the first colour, want %.4f", name, got, c.share)
		}
		if got := decode[parted](t, post(t, s, "/api/work/"+o.ID+"/split", byShare(ask, c.share))); got.Error != "" || math.Abs(got.Split.Colours[0].Share-c.share) > 1e-9 {
			t.Errorf("%s: for its own share: %+v", name, got)
		}
	}
}

func byShare(s settings, share float64) settings {
	text, _ := json.Marshal(share)
	s.HeightMM, s.Share = nil, string(text)
	return s
}

// drawnBelow is the part of the block of 60 x 20 x 10 mm that a page draws below a
// sheet, place by place.
func drawnBelow(s laminate.Sheet) float64 {
	below, all := 0, 0
	dot := func(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
	for x := 0.5; x < 60; x++ {
		for y := 0.5; y < 20; y++ {
			for z := 0.25; z < 10; z += 0.5 {
				p := [3]float64{x, y, z}
				all++
				if dot(s.Up, p) < s.HeightAt(dot(s.Along, p)) {
					below++
				}
			}
		}
	}
	return float64(below) / float64(all)
}

// Two level lines make three colours: their parts are told, and nothing is poured.
func TestLayers(t *testing.T) {
	s := newBench(t, Options{})
	o := decode[opened](t, upload(t, s, file{"bait.stl", box(60, 20, 10)}).Body.Bytes())
	ask := o.Settings
	low := 2.0
	ask.HeightMM, ask.Line = &low, linePart{Kind: "layers", UpperShare: "70/30"}
	a := answerTo(t, s, o.ID, ask)
	if a.Error != "" || a.Pour != nil || !strings.Contains(a.Note, "second shot") {
		t.Errorf("answered %q, noted %q, poured %v", a.Error, a.Note, a.Pour)
	}
	p := decode[parted](t, post(t, s, "/api/work/"+o.ID+"/split", ask))
	var shares []float64
	for _, c := range p.Split.Colours {
		shares = append(shares, math.Round(c.Share*1e9)/1e9)
	}
	if diff := cmp.Diff([]float64{0.2, 0.5, 0.3}, shares); diff != "" {
		t.Errorf("shares (- want, + got):\n%s", diff)
	}
	if code, body := try(t, s, "/api/work/"+o.ID+"/save/card", ask); code != http.StatusUnprocessableEntity || !strings.Contains(string(body), "second shot") {
		t.Errorf("a card of layers: status %d, %s", code, body)
	}
	for _, which := range []string{"belly", "middle", "back"} {
		if body := post(t, s, "/api/work/"+o.ID+"/save/"+which, ask); len(body) < 84 {
			t.Errorf("the %s body has %d bytes", which, len(body))
		}
	}
	if text := string(post(t, s, "/api/work/"+o.ID+"/save/line", ask)); !strings.Contains(text, "- {height: 2 mm}") || !strings.Contains(text, "- {belly_share: 0.7}") {
		t.Errorf("the line file holds\n%s", text)
	}
}

// A mold file's own line is opened whatever its kind; a hinge is opened as the tilt
// that it asks for.
func TestMoldFilesWithLines(t *testing.T) {
	for text, want := range map[string]linePart{
		"{kind: tilted, tilt: 5 deg, height: 5 mm}": {Kind: "tilted", TiltDeg: 5},
		// Through 2 mm at the tail and 5 mm in the middle, 30 mm on.
		"{kind: tilted, hinge: {along: 0 mm, height: 2 mm}, roll: 1 deg, belly_share: 0.5}":                 {Kind: "tilted", TiltDeg: math.Atan(0.1) * 180 / math.Pi, RollDeg: 1},
		"{kind: drawn, points: [{along: 0 mm, height: 2 mm}, {along: 60 mm, height: 6 mm}], curve: smooth}": {Kind: "drawn", Points: [][2]float64{{0, 2}, {60, 6}}, Smooth: true},
		"{kind: stripe, width: 4 mm, across: 10 mm, draft: 45 deg, floor: 5 mm}":                            {Kind: "stripe", WidthMM: 4, AcrossMM: 10, DraftDeg: 45},
	} {
		mold := strings.Replace(strings.Replace(string(shop.StarterMold()), "line: {belly_share: 50/50}", "line: "+text, 1), "injector: twin", "injector: hand pair", 1)
		s := newBench(t, Options{})
		o := decode[opened](t, upload(t, s, file{"mold.yaml", []byte(mold)}, file{"shop.yaml", shop.StarterShop()}, file{"bait.stl", box(60, 20, 10)}).Body.Bytes())
		if want.Points == nil {
			want.Points = [][2]float64{}
		}
		if diff := cmp.Diff(want, o.Settings.Line, cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) < 1e-9 })); diff != "" {
			t.Errorf("%s (- want, + opened):\n%s", text, diff)
		}
		a := answerTo(t, s, o.ID, o.Settings)
		if a.Error != "" || math.Abs(a.Pour.Line.AskedShare-map[bool]float64{true: 1 - 45.0/200, false: 0.5}[want.Kind == "stripe"]) > 1e-9 && want.Kind != "drawn" {
			t.Errorf("%s: %s, %+v", text, a.Error, a.Pour)
		}
		set := files.Set{"mold.yaml": post(t, s, "/api/work/"+o.ID+"/save/mold", o.Settings), "shop.yaml": shop.StarterShop()}
		if _, err := set.ReadMold("mold.yaml"); err != nil {
			t.Errorf("what was saved does not read: %v", err)
		}
	}
}
