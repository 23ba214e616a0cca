package main

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
)

func TestRibs(t *testing.T) {
	carve := ribs(10, 30, 5, 0.2)
	for _, c := range []struct{ x, factor float64 }{
		{5, 1}, {10, 1}, {12.5, 0.8}, {15, 1}, {27.5, 0.8}, {30, 1}, {31, 1}, // ribs each 5 mm, grooves of a fifth between
	} {
		got := carve(r3.Vector{X: c.x, Y: 3, Z: -4})
		want := r3.Vector{X: c.x, Y: 3 * c.factor, Z: -4 * c.factor}
		if got.Sub(want).Norm() > 1e-14 {
			t.Errorf("at x = %g: %v, want %v", c.x, got, want)
		}
	}
}

// A socket moves points straight down, on both sides alike, by its depth in the
// middle, and none outside of it or below the parting plane.
func TestSocket(t *testing.T) {
	carve := socket(r3.Vector{X: 50, Y: 4, Z: 3}, 2, 1.5)
	for _, c := range []struct {
		p    r3.Vector
		sink float64
	}{
		{r3.Vector{X: 50, Y: 4, Z: 3}, 1.5},
		{r3.Vector{X: 50, Y: -4, Z: 3}, 1.5},
		{r3.Vector{X: 52, Y: 4, Z: 3}, 0},
		{r3.Vector{X: 47, Y: 4, Z: 3}, 0},
		{r3.Vector{X: 50, Y: 4, Z: -3}, 0},
	} {
		if got := c.p.Sub(carve(c.p)); got.Sub(r3.Vector{Z: c.sink}).Norm() > 1e-14 {
			t.Errorf("%v moves by %v, want %g down", c.p, got, c.sink)
		}
	}
}

func TestGillEdgeIsBowed(t *testing.T) {
	carve := gill(70, 0.1, 2, 0.05)
	swelling := func(x, z float64) float64 { return carve(r3.Vector{X: x, Y: 1, Z: z}).Y - 1 }
	for _, c := range []struct{ x, z, want float64 }{
		{70, 0, 0}, {72, 0, 0.05}, {71, 0, 0.025}, // in the parting plane it sets in from 70 to 72
		{72, 10, 0}, {82, 10, 0.05}, {80, -10, 0}, // 10 mm off it bows by 0.1 * 10^2 = 10
	} {
		if got := swelling(c.x, c.z); math.Abs(got-c.want) > 1e-14 {
			t.Errorf("at x = %g, z = %g it swells by %g, want %g", c.x, c.z, got, c.want)
		}
	}
}
