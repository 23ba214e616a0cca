package cavity

import (
	"errors"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/solids"
)

// Whatever length directions have, and however the nose leans to the back, the frame is
// that of the axes.
func TestFrameIsSquareAndOfLengthOne(t *testing.T) {
	for _, nose := range []r3.Vector{{X: 1}, {X: 2}, {X: 1e-200}, {X: 1e200}, {X: 3, Z: 4}, {X: 1, Z: -1}} {
		for _, back := range []r3.Vector{{Z: 1}, {Z: 1e-3}, {Z: 70}} {
			got, err := NewFrame(back, nose)
			if want := (Frame{Nose: r3.Vector{X: 1}, Back: r3.Vector{Z: 1}, Left: r3.Vector{Y: 1}}); err != nil || got != want {
				t.Errorf("back %v, nose %v: %v, %v", back, nose, got, err)
			}
		}
	}
}

// What has no direction makes no cavity; directions along one line make one that has
// heights but no frame.
func TestFramesThatAreNone(t *testing.T) {
	block := mesh.New(solids.Block(80, 12.5, 10))
	for _, d := range [][2]r3.Vector{{{}, {X: 1}}, {{Z: 1}, {}}} {
		if _, err := OfMesh(t.Context(), "block", block, d[0], d[1]); !errors.Is(err, mesh.ErrDirection) {
			t.Errorf("%v: %v", d, err)
		}
	}
	c, err := OfMesh(t.Context(), "block", block, r3.Vector{Z: 2}, r3.Vector{X: 0.2, Z: 1})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := c.Frame(); !errors.Is(err, ErrFrame) {
		t.Errorf("a nose 11 degrees from the back: %v", err)
	}
	if low, high := c.Heights(); low != 0 || high != 10 {
		t.Errorf("heights %g to %g mm", low, high)
	}
}
