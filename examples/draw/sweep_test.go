package main

import (
	"math"
	"testing"
)

// A bar of elliptic sections with n corners holds n sin(2 pi/n)/(2 pi) of what
// the ellipse holds, as an inscribed polygon does. The two bars are equal but
// for one control span in the middle, so the ends cancel.
func TestSweptBarHoldsItsPolygon(t *testing.T) {
	const around, half, up, down = 24, 5.0, 4.0, 2.0
	bar := func(spans int) float64 {
		rows := []row{{section{x: 0, power: 2}, 2}}
		for i := range spans + 1 {
			rows = append(rows, row{section{x: float64(i + 1), half: half, up: up, down: down, power: 2}, 3})
		}
		rows = append(rows, row{section{x: float64(spans + 2), power: 2}, 0})
		m := sweep(rows, around).finish()
		wantClosed(t, m)
		if want := 2 * around * (len(stations(rows)) - 2); len(m.Triangles) != want {
			t.Errorf("%d facets, want %d", len(m.Triangles), want)
		}
		return volume(m)
	}
	ellipse := math.Pi * half * (up + down) / 2
	want := ellipse * around * math.Sin(2*math.Pi/around) / (2 * math.Pi)
	// Corners are off by half a grid step, a share of grid/half of each radius.
	if got := bar(7) - bar(6); math.Abs(got-want) > want*grid/half {
		t.Errorf("1 mm of the bar holds %g mm3, want %g", got, want)
	}
}
