package files

import (
	"testing"

	"github.com/golang/geo/r2"

	"bellyline/laminate"
)

// parsed is the top of a file's text.
func parsed(t *testing.T, file, text string) *section {
	t.Helper()
	r := &reading{}
	s := r.told(r.parse(file, []byte(text), nil))
	if err := r.err(); err != nil {
		t.Fatal(err)
	}
	return s
}

func linesFrom(t *testing.T, text string) []laminate.Line {
	t.Helper()
	lines, err := readLines(parsed(t, "line.yaml", text))
	if err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	return lines
}

// What is written of a line reads back as the same line, in a mold file and in a line
// file, for every kind.
func TestLineTextReadsBack(t *testing.T) {
	points := []r2.Point{{X: -40.125, Y: -1}, {X: 0, Y: 1.0 / 3}, {X: 12, Y: 0}}
	tried := map[laminate.Kind]bool{}
	for _, want := range []laminate.Line{
		{Share: 1.0 / 3},
		{Boundary: laminate.Level{HeightMM: -1.25}, ByPlace: true},
		{Boundary: laminate.Tilted{TiltDeg: -3.5, RollDeg: 0.25}, Share: 0.4},
		{Boundary: laminate.Tilted{TiltDeg: 12, HeightMM: 2}, ByPlace: true},
		{Boundary: laminate.Drawn{Points: points, Smooth: true}, Share: 0.6},
		{Boundary: laminate.Drawn{Points: points, RaiseMM: 0.5}, ByPlace: true},
		{Boundary: laminate.Crosswise{AlongMM: -17}, ByPlace: true},
		{Boundary: laminate.Stripe{WidthMM: 3, AcrossMM: -0.5, DraftDeg: 5}, Share: 0.8},
		{Boundary: laminate.Core{StepMM: 0.5}, Share: 0.3},
		{Boundary: laminate.Skin{ThicknessMM: 2}, ByPlace: true},
	} {
		s := parsed(t, "mold.yaml", "line: "+LineText(want)+"\n").takes(moldKeys)
		got := readLine(s.section("line"))
		if err := s.doc.err(); err != nil || !got.Same(want) {
			t.Errorf("%s reads as %+v (%v)", LineText(want), got, err)
		}
		tried[want.Kind()] = true
		if lines := linesFrom(t, LinesText([]laminate.Line{want})); len(lines) != 1 || !lines[0].Same(want) {
			t.Errorf("%s reads as %+v", LinesText([]laminate.Line{want}), lines)
		}
	}
	for _, k := range lineKinds {
		if !tried[k.kind] {
			t.Errorf("no %s line was written", k.kind)
		}
	}
	layers := []laminate.Line{{Boundary: laminate.Level{HeightMM: 1}, ByPlace: true}, {Share: 0.75}}
	if lines := linesFrom(t, LinesText(layers)); len(lines) != 2 || !lines[0].Same(layers[0]) || !lines[1].Same(layers[1]) {
		t.Errorf("%s reads as %+v", LinesText(layers), lines)
	}
}
