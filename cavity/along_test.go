package cavity

import (
	"errors"
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"bellyline/mesh"
)

// openCorners opens a body with its back up and its nose along x.
func openCorners(t *testing.T, corners []r3.Vector) *Cavity {
	t.Helper()
	c, err := Open(t.Context(), written(t, corners), Options{}, r3.Vector{Z: 1}, r3.Vector{X: 1})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-9*max(1, math.Abs(want)) {
		t.Errorf("%s: %.12g, want %.12g", what, got, want)
	}
}

// A roof over a box of 80 x 12 x 10: the line rises from 2 at the tail to 6 at 30 mm
// and falls to 4 at 50, level beyond. All figures by counting triangles and
// rectangles.
func TestRoofLineThroughABox(t *testing.T) {
	c := openCorners(t, boxCorners(80, 12, 10))
	roof, err := c.Along(Profile{{X: 0, Y: 2}, {X: 30, Y: 6}, {X: 50, Y: 4}})
	if err != nil {
		t.Fatal(err)
	}
	side := 30*4.0 + 20*5 + 30*4 // area under the line in side view
	long := math.Hypot(30, 4) + math.Hypot(20, 2) + 30
	s, err := roof.Section(t.Context(), 0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "below", s.BelowMM3, 12*side)
	near(t, "above", s.AboveMM3, 12*(800-side))
	near(t, "joined", s.AreaMM2, 12*long)
	near(t, "line on the skin", s.OutlineMM, 2*long+24)
	near(t, "skin below", s.OutsideBelowMM2, 80*12+2*side+12*(2+4))
	near(t, "skin above", s.OutsideAboveMM2, 80*12+2*(800-side)+12*(8+6))
	if s.Pieces != 1 {
		t.Errorf("%d pieces, want 1", s.Pieces)
	}
	// Moved up by 1 it has 80 x 12 more below; the height for that share is 1.
	h, err := roof.HeightFor(t.Context(), (12*side+960)/9600)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "height for a share", h, 1)
}

// Two boxes sunk into each other count once along a bent line as well: the second
// box of 4 mm stands 2 mm deep in the first. The line rises from 1 by 1 in 2 from
// x=0 to x=6, so at x it is at 1+x/2.
func TestBentLineThroughOverlappingBoxes(t *testing.T) {
	second := boxCorners(4, 4, 4)
	for i := range second {
		second[i] = second[i].Add(r3.Vector{X: 2})
	}
	c := openCorners(t, append(boxCorners(4, 4, 4), second...)) // together a box of 6 x 4 x 4
	if !c.overlaps {
		t.Fatal("the boxes do not overlap")
	}
	ramp, err := c.Along(Profile{{X: 0, Y: 1}, {X: 6, Y: 4}})
	if err != nil {
		t.Fatal(err)
	}
	s, err := ramp.Section(t.Context(), 0)
	if err != nil {
		t.Fatal(err)
	}
	long := math.Hypot(6, 3)
	near(t, "below", s.BelowMM3, 4*(6*1+6*3/2.0))
	near(t, "above", s.AboveMM3, 96-4*15)
	near(t, "joined", s.AreaMM2, 4*long)
	near(t, "skin below", s.OutsideBelowMM2, 6*4+2*15+4*1+4*4)
	near(t, "skin above", s.OutsideAboveMM2, 6*4+2*9+4*3)
	if math.Abs(s.OutlineMM-(2*long+8)) > 1e-5 || s.Pieces != 1 {
		t.Errorf("line of %g mm in %d pieces, want %g in 1", s.OutlineMM, s.Pieces, 2*long+8)
	}
}

// Both halves are closed and hold what the section says.
func TestHalvesOfABentLine(t *testing.T) {
	c, err := Open(t.Context(), "../examples/clawcraw/bait.stl", Options{}, r3.Vector{Z: 1}, r3.Vector{X: 1})
	if err != nil {
		t.Fatal(err)
	}
	low, high := c.Heights()
	line, err := Profile{{X: -20, Y: low + 0.3*(high-low)}, {X: 0, Y: low + 0.6*(high-low)}, {X: 20, Y: low + 0.45*(high-low)}}.Smooth()
	if err != nil {
		t.Fatal(err)
	}
	bent, err := c.Along(line)
	if err != nil {
		t.Fatal(err)
	}
	s, err := bent.Section(t.Context(), 0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "both sides", s.BelowMM3+s.AboveMM3, c.FillMM3)
	near(t, "both skins", s.OutsideBelowMM2+s.OutsideAboveMM2, c.Mesh.Moments().AreaMM2)
	below, above, err := bent.halves(0)
	if err != nil {
		t.Fatal(err)
	}
	for name, half := range map[string]struct {
		body   *mesh.Mesh
		volume float64
	}{"below": {below, s.BelowMM3}, "above": {above, s.AboveMM3}} {
		report, moments := half.body.Measure()
		if !report.Closed || !report.Oriented {
			t.Errorf("%s: closed %v, oriented %v", name, report.Closed, report.Oriented)
		}
		near(t, name, moments.VolumeMM3, half.volume)
	}
}

func TestProfiles(t *testing.T) {
	p := Profile{{X: 0, Y: 0}, {X: 3, Y: 4}, {X: 5, Y: 4}}
	for x, want := range map[float64][2]float64{-2: {0, -2}, 0: {0, 0}, 1.5: {2, 2.5}, 3: {4, 5}, 4: {4, 6}, 9: {4, 11}} {
		if got := [2]float64{p.At(x), p.along(x)}; got != want {
			t.Errorf("at %g: height and length %v, want %v", x, got, want)
		}
	}
	smooth, err := p.Smooth()
	if err != nil {
		t.Fatal(err)
	}
	for _, q := range p {
		if smooth.At(q.X) != q.Y {
			t.Errorf("the curve is at %g for x=%g, not at %g", smooth.At(q.X), q.X, q.Y)
		}
	}
	for i := 1; i < len(smooth); i++ {
		if smooth[i].Y < smooth[i-1].Y { // the points only rise
			t.Errorf("the curve falls from %v to %v", smooth[i-1], smooth[i])
		}
	}
	for _, bad := range []Profile{nil, {{X: 1}}, {{X: 1}, {X: 1, Y: 2}}, {{X: 2}, {X: 1}}, {{X: 0}, {X: math.NaN()}}, {{X: 0}, {X: math.Inf(1)}}, make([]r2.Point, mostPoints+1)} {
		if err := bad.Check(); !errors.Is(err, ErrProfile) {
			t.Errorf("%v is taken for a profile: %v", bad, err)
		}
	}
}

func TestUpwardTurnsHeights(t *testing.T) {
	c := openCorners(t, boxCorners(80, 12, 10))
	crosswise, err := c.Upward(r3.Vector{X: 1})
	if err != nil {
		t.Fatal(err)
	}
	s, err := crosswise.Section(t.Context(), 20)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "behind", s.BelowMM3, 20*120)
	near(t, "joined", s.AreaMM2, 120)
	if _, err := crosswise.Along(Profile{{X: 0}, {X: 1}}); !errors.Is(err, ErrProfile) {
		t.Errorf("a line in side view across the nose: %v", err)
	}
}
