package files

import (
	"testing"

	"github.com/golang/geo/r2"

	"bellyline/laminate"
)

func linesFrom(t *testing.T, text string) []laminate.Line {
	t.Helper()
	s, err := parse("line.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	lines, err := readLines(s)
	if err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	return lines
}

// What is written of a line reads back as the same line, in a mold file and in a line
// file, for every kind.
func TestLineTextReadsBack(t *testing.T) {
	points := []r2.Point{{X: -40.125, Y: -1}, {X: 0, Y: 1.0 / 3}, {X: 12, Y: 0}}
	for _, want := range []laminate.Line{
		{BellyShare: 1.0 / 3},
		{ByHeight: true, HeightMM: -1.25},
		{Kind: laminate.Tilted, TiltDeg: -3.5, RollDeg: 0.25, BellyShare: 0.4},
		{Kind: laminate.Tilted, TiltDeg: 12, ByHeight: true, HeightMM: 2},
		{Kind: laminate.Drawn, Points: points, Smooth: true, BellyShare: 0.6},
		{Kind: laminate.Drawn, Points: points, ByHeight: true, HeightMM: 0.5},
		{Kind: laminate.Crosswise, ByHeight: true, HeightMM: -17},
		{Kind: laminate.Stripe, WidthMM: 3, AcrossMM: -0.5, DraftDeg: 5, BellyShare: 0.8},
		{Kind: laminate.Core, BellyShare: 0.3, StepMM: 0.5},
		{Kind: laminate.Skin, ByHeight: true, HeightMM: 2},
	} {
		s, err := parse("mold.yaml", []byte("line: "+LineText(want)+"\n"))
		if err != nil {
			t.Fatal(err)
		}
		got := readLine(s.section("line", true))
		s.done()
		if s.doc.err != nil || !got.Same(want) {
			t.Errorf("%s reads as %+v (%v)", LineText(want), got, s.doc.err)
		}
		if lines := linesFrom(t, LinesText([]laminate.Line{want})); len(lines) != 1 || !lines[0].Same(want) {
			t.Errorf("%s reads as %+v", LinesText([]laminate.Line{want}), lines)
		}
	}
	layers := []laminate.Line{{ByHeight: true, HeightMM: 1}, {BellyShare: 0.75}}
	if lines := linesFrom(t, LinesText(layers)); len(lines) != 2 || !lines[0].Same(layers[0]) || !lines[1].Same(layers[1]) {
		t.Errorf("%s reads as %+v", LinesText(layers), lines)
	}
}
