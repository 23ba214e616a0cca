package outline

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
)

// square is one of side a with its lower left corner at x, y.
func square(x, y, a float64) []r2.Point {
	return []r2.Point{{X: x, Y: y}, {X: x + a, Y: y}, {X: x + a, Y: y + a}, {X: x, Y: y + a}}
}

func turned(loop []r2.Point) []r2.Point {
	var back []r2.Point
	for i := range loop {
		back = append(back, loop[len(loop)-1-i])
	}
	return back
}

// Lengths and areas of squares, by hand.
func TestSquares(t *testing.T) {
	for _, tt := range []struct {
		name           string
		loops          [][]r2.Point
		length, area   float64
		pieces, within int // winding number at (1.5, 1.5)
	}{
		{"one", [][]r2.Point{square(0, 0, 2)}, 8, 4, 1, 1},
		{"two apart", [][]r2.Point{square(0, 0, 2), square(5, 0, 1)}, 12, 5, 2, 1},
		{"two that overlap in a unit square", [][]r2.Point{square(0, 0, 2), square(1, 1, 2)}, 12, 8, 1, 2},
		{"one in another", [][]r2.Point{square(0, 0, 4), square(1, 1, 1)}, 16, 17, 1, 2},
		{"a hole", [][]r2.Point{square(0, 0, 4), turned(square(1, 1, 1))}, 20, 15, 1, 0},
	} {
		length, pieces := Joined(tt.loops)
		area, within := 0.0, 0
		for _, l := range tt.loops {
			area += Area(l)
			within += Winding(l, r2.Point{X: 1.5, Y: 1.5})
		}
		if math.Abs(length-tt.length) > 1e-12 || pieces != tt.pieces || math.Abs(area-tt.area) > 1e-12 || within != tt.within {
			t.Errorf("%s: length %g, pieces %d, area %g, winding %d; want %g, %d, %g, %d",
				tt.name, length, pieces, area, within, tt.length, tt.pieces, tt.area, tt.within)
		}
	}
	if got := Length(square(3, 3, 2)); got != 8 {
		t.Errorf("a square of side 2 has a length of %g round", got)
	}
}
