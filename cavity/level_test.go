package cavity

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh/solids"
)

// The box 80 x 12.5 x 10 at height 4: every figure is that of a box.
func TestLevelOfABox(t *testing.T) {
	c, err := Open(t.Context(), written(t, solids.Block(80, 12.5, 10)), Options{}, r3.Vector{Z: 1}, r3.Vector{X: 1})
	if err != nil {
		t.Fatal(err)
	}
	l, err := c.Level(t.Context(), 4)
	if err != nil {
		t.Fatal(err)
	}
	equal(t, "below", l.BelowMM3, 4000)
	equal(t, "above", l.AboveMM3, 6000)
	equal(t, "joined", l.AreaMM2, 80*12.5)
	equal(t, "line on the skin", l.OutlineMM, 2*(80+12.5))
	if l.Pieces != 1 {
		t.Errorf("%d pieces of section, want 1", l.Pieces)
	}
	if _, err := c.Level(t.Context(), math.NaN()); err == nil {
		t.Error("no height is a level")
	}
}

// A level says what a section says, also where two boxes overlap, along any back.
func TestLevelAgreesWithSection(t *testing.T) {
	apart := solids.Block(80, 12.5, 10)
	overlapping := append([]r3.Vector{}, apart...)
	for _, p := range solids.Block(20, 30, 7) {
		overlapping = append(overlapping, p.Add(r3.Vector{X: 10, Y: -5, Z: 2}))
	}
	for name, corners := range map[string][]r3.Vector{"one": apart, "overlapping": overlapping} {
		for _, back := range []r3.Vector{{Z: 1}, {X: 0.1, Y: -0.2, Z: 1}} {
			c, err := Open(t.Context(), written(t, corners), Options{}, back, r3.Vector{X: 1})
			if err != nil {
				t.Fatal(err)
			}
			low, high := c.Heights()
			for _, share := range []float64{0.11, 0.37, 0.62, 0.93} {
				h := low + share*(high-low)
				l, err := c.Level(t.Context(), h)
				if err != nil {
					t.Fatal(err)
				}
				s, err := c.Section(t.Context(), h)
				if err != nil {
					t.Fatal(err)
				}
				below, err := c.BelowMM3(t.Context(), h)
				if err != nil {
					t.Fatal(err)
				}
				equal(t, name+" below", l.BelowMM3, s.BelowMM3)
				equal(t, name+" volume below", below, s.BelowMM3)
				equal(t, name+" above", l.AboveMM3, s.AboveMM3)
				equal(t, name+" joined", l.AreaMM2, s.AreaMM2)
				equal(t, name+" line", l.OutlineMM, s.OutlineMM)
				if l.Pieces != s.Pieces {
					t.Errorf("%s: %d pieces, section %d", name, l.Pieces, s.Pieces)
				}
			}
		}
	}
}

// A box fills in even steps: the share below is the share of the height.
func TestCurveOfABox(t *testing.T) {
	c, err := Open(t.Context(), written(t, solids.Block(80, 12.5, 10)), Options{}, r3.Vector{Z: 1}, r3.Vector{X: 1})
	if err != nil {
		t.Fatal(err)
	}
	curve, err := c.Curve(t.Context(), 8)
	if err != nil {
		t.Fatal(err)
	}
	if len(curve) != 9 {
		t.Fatalf("%d points for 8 steps", len(curve))
	}
	for i, p := range curve {
		equal(t, "height", p.HeightMM, float64(i)*1.25)
		equal(t, "below", p.BelowMM3, float64(i)*1250)
		equal(t, "share", p.Share, float64(i)/8)
	}
}
