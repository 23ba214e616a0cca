package bench

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"bellyline/cmd/bellyline/shop"
)

// three is the starter mold file and shop with three colours from three barrels.
func three() (mold, kit []byte) {
	text := string(shop.StarterMold())
	text = text[:strings.Index(text, "colours:")]
	text = strings.Replace(strings.Replace(text, "injector: twin", "injector: triple", 1), "line: {belly_share: 50/50}", "line: {shares: 20/50/30}", 1)
	text += "colours:\n  - {name: belly, material: soft, barrel: left, half: belly half}\n  - {name: flank, material: soft, barrel: middle}\n  - {name: back, material: soft, barrel: right, half: back half}\n"
	triple := "injectors:\n  triple:\n    drive: independent\n    barrels:\n      left: {bore: 1 in, holds: 4 fl oz, keeps: 3 mL}\n      middle: {bore: 1 in, holds: 4 fl oz, keeps: 3 mL}\n      right: {bore: 1 in, holds: 4 fl oz, keeps: 3 mL}\n"
	return []byte(text), []byte(strings.Replace(string(shop.StarterShop()), "injectors:\n", triple, 1))
}

// A mold file of three colours is opened and poured: its two lines lie where a block
// 10 mm tall has a fifth and seven tenths below them, and each row says its number.
func TestThreeColours(t *testing.T) {
	s := newBench(t, Options{})
	mold, kit := three()
	w := upload(t, s, file{"mold.yaml", mold}, file{"shop.yaml", kit}, file{"bait.stl", box(60, 20, 10)})
	if w.Code != 200 {
		t.Fatal(refusal(t, w))
	}
	o := decode[opened](t, w.Body.Bytes())
	a := answerTo(t, s, o.ID, o.Settings)
	if a.Error != "" || len(a.Line.Sheets) != 2 {
		t.Fatalf("%s, %+v", a.Error, a.Line)
	}
	for i, want := range []float64{2, 7} {
		if got := a.Line.Sheets[i].Knots[0][1]; math.Abs(got-want) > 1e-9 {
			t.Errorf("line %d is drawn at %g mm, want %g", i+1, got, want)
		}
	}
	text, err := json.Marshal(a.Pour)
	if err != nil {
		t.Fatal(err)
	}
	rows := 0
	for _, g := range a.Sheet {
		for _, r := range g.Rows {
			want, ok := at(t, decode[any](t, text), r.Key).(float64)
			switch {
			case !ok:
				t.Errorf("%s is no number", r.Key)
			case strings.HasSuffix(r.Key, "_share"):
			default:
				rows++
				sameAsShown(t, r.Key, r.Metric, want, 1)
			}
		}
	}
	if rows < 30 {
		t.Errorf("only %d rows", rows)
	}
	if card := string(post(t, s, "/api/work/"+o.ID+"/save/card", o.Settings)); !strings.Contains(card, `class="cross"`) {
		t.Error("the card does not draw the third colour")
	}
}
