package bench

import (
	"encoding/json"
	"strings"
	"testing"
)

// The tables of a model and of a half say what their JSON says, in both systems.
func TestTablesSayWhatTheJSONSays(t *testing.T) {
	s := newBench(t, Options{File: example("shadmold", "plain-half.stl")})
	o := openFirst(t, s)
	o.Reading.Half = true
	half := decode[opened](t, post(t, s, "/api/work/"+o.ID+"/read", o.Reading))
	cells := 0
	for from, rows := range map[any][]row{any(o.Measured): o.ModelRows} {
		for _, r := range rows {
			if !strings.HasPrefix(r.Key, "closed") {
				checkCell(t, from, r)
				cells++
			}
		}
	}
	for _, h := range half.HollowRows {
		for _, r := range h.Cells {
			checkCell(t, half.Half, r)
			cells++
		}
	}
	if cells < 20 || len(half.HollowRows) != len(half.Half.Hollows) {
		t.Errorf("only %d numbers in %d rows were looked at", cells, len(half.HollowRows))
	}
}

func checkCell(t *testing.T, from any, r row) {
	t.Helper()
	text, err := json.Marshal(from)
	if err != nil {
		t.Fatal(err)
	}
	var v any
	if err := json.Unmarshal(text, &v); err != nil {
		t.Fatal(err)
	}
	want, ok := at(t, v, r.Key).(float64)
	if !ok {
		t.Errorf("%s is no number", r.Key)
		return
	}
	sameAsShown(t, r.Key, r.Metric, want, 1)
	if r.US == "" {
		return
	}
	unit := unitWord.FindString(r.US)
	// By the units' definitions, as for the sheet: 1 fl oz is 29573.5295625 mm3.
	factor := map[string]float64{"in": 1 / 25.4, "in²": 1 / 25.4 / 25.4, "fl oz": 1 / 29573.5295625}[unit]
	if factor == 0 {
		t.Errorf("%s: %q has no unit that is known", r.Key, r.US)
		return
	}
	sameAsShown(t, r.Key+" US", r.US, want, factor)
}
