package laminate

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"bellyline/mesh/outline"
)

// A block of 80 x 12.5 x 10 mm: from the side it reaches from 0 to 10 mm all along,
// across it is 12.5 x 10 mm. What is drawn below a line takes, of side and sections,
// the share that follows by hand.
func TestViewsOfABlock(t *testing.T) {
	c := openBox(t, 80, 12.5, 10)
	for name, l := range map[string]struct {
		line     Line
		side     float64 // of 800 mm2 from the side
		sections [3]float64
	}{
		"level":     {Line{Boundary: Level{HeightMM: 4}, ByPlace: true}, 0.4, [3]float64{0.4, 0.4, 0.4}},
		"crosswise": {Line{Boundary: Crosswise{AlongMM: 20}, ByPlace: true}, 0.25, [3]float64{1, 0, 0}},
		// 0 to 8 mm along the bait, at 15, 45 and 75 of 100 of the way.
		"drawn": {Line{Boundary: Drawn{Points: []r2.Point{{X: 0, Y: 0.001}, {X: 80, Y: 8}}}, ByPlace: true}, 0.4, [3]float64{0.12, 0.36, 0.6}},
	} {
		j := Job{Cavity: c}
		split, err := SplitBy(t.Context(), c, []Line{l.line}, 0)
		if err != nil {
			t.Fatal(err)
		}
		v, err := j.views(t.Context(), &Pour{Line: &LineResult{Course: Course{Sheet: &split.Sheets()[0]}, Needs: "a second shot"}})
		if err != nil || len(v.Side) < 2 || len(v.Sections) != 3 || len(v.Lines) != 1 {
			t.Fatalf("%s: %v, %+v", name, err, v)
		}
		for _, s := range v.Side {
			if math.Abs(s.LowMM) > 1e-9 || math.Abs(s.HighMM-10) > 1e-9 {
				t.Errorf("%s: at %g mm it reaches from %g to %g", name, s.AlongMM, s.LowMM, s.HighMM)
			}
		}
		if got := partOfBox(v.Lines[0].Side, 0, 80); math.Abs(got-l.side) > 0.003 { // of 0.1 x 0.1 mm places
			t.Errorf("%s: from the side %.4f lies below, want %.4f", name, got, l.side)
		}
		for i, s := range v.Sections {
			if got := math.Abs(outline.Area(points(s.Loops[0]))); math.Abs(got-125) > 1e-9 {
				t.Errorf("%s: section %d has %g mm2", name, i+1, got)
			}
			f, _ := c.Frame()
			left, _ := c.Mesh.Span(f.Left)
			if got := partOfBox(v.Lines[0].Sections[i], left, left+12.5); math.Abs(got-l.sections[i]) > 0.006 {
				t.Errorf("%s: of section %d %.4f lies below, want %.4f", name, i+1, got, l.sections[i])
			}
		}
	}
}

func points(loop [][2]float64) []r2.Point {
	var list []r2.Point
	for _, p := range loop {
		list = append(list, r2.Point{X: p[0], Y: p[1]})
	}
	return list
}

// partOfBox is how much of a box from..to by 0..10 mm lies in a polygon, place by place.
func partOfBox(polygon [][2]float64, from, to float64) float64 {
	in, all := 0, 0
	for x := from + 0.05; x < to; x += 0.1 {
		for y := 0.05; y < 10; y += 0.1 {
			all++
			if outline.Winding(points(polygon), r2.Point{X: x, Y: y}) != 0 {
				in++
			}
		}
	}
	return float64(in) / float64(all)
}
