package stream

import (
	"fmt"
	"math"
	"testing"

	"github.com/golang/geo/r2"
)

// The slit as a rectangle whose sides do not hold the plastic: to 1e-9 of the gap.
func TestSlitLine(t *testing.T) {
	t.Parallel()
	opts := Options{insulated: true, Tolerance: 1e-13, LineTolerance: 1e-12}
	for _, m := range []float64{1, 1.1, 2, 3, 5, 10, 20, 100} {
		for _, share := range []float64{.1, .25, .3, .4, .5, .6, .75, .9} {
			p, err := PartingAt(rectangle(2, 1), share, 1/m, opts)
			if err != nil {
				t.Fatal(err)
			}
			absolute(t, fmt.Sprintf("m %g, share %g", m, share), p.HeightMM+.5, slitHeight(share, m), 1e-9)
		}
	}
}

// The same layers worked out apart from this program (closed form and bisection,
// and for some a finite volume solution): share of the gap that the viscous layer
// takes, below.
func TestSlitHeights(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ m, share, height float64 }{
		{1.1, .5, .5039728431}, {1.25, .5, .5093179388}, {1.5, .5, .5170151437}, {2, .5, .5294714459}, {3, .5, .5480135316},
		{5, .5, .5734953337}, {10, .5, .6119627045}, {20, .5, .6537314384}, {100, .5, .7518636838}, {1000, .5, .8639295072},
	} {
		absolute(t, fmt.Sprintf("m %g", c.m), slitHeight(c.share, c.m), c.height, 1e-10)
	}
	shares := []float64{.1, .25, .3, .4, .6, .75, .9}
	for m, heights := range map[float64][]float64{
		1:  {.19580011, .32635182, .36325749, .43293108, .56706892, .67364818, .80419989},
		2:  {.23167022, .36174894, .39741708, .46451165, .59529521, .70179036, .83181696},
		5:  {.29185188, .42039311, .45363302, .51489897, .63307808, .73188295, .85727329},
		10: {.34597813, .47212989, .50322560, .55934306, .66494028, .75330784, .87035234},
	} {
		for i, want := range heights {
			absolute(t, fmt.Sprintf("m %g, share %g", m, shares[i]), slitHeight(shares[i], m), want, 1e-8)
		}
	}
	// Bird, Stewart and Lightfoot, eq. 2.5-20 and 21 (from memory): with the interface
	// in the middle the flows stand as (7m+1)/(m(m+7)).
	for _, m := range []float64{1, 2, 5, 10} {
		s := slitShare(.5, m)
		relative(t, fmt.Sprintf("middle, m %g", m), s/(1-s), (7*m+1)/(m*(m+7)), 1e-12)
	}
}

// halves are ducts symmetrical about the interface, with the flow of one fluid in
// the whole and in one half.
func halves() []halved {
	return []halved{
		{"circle", ellipse(1, 1), math.Pi / 8, math.Pi/8 - 1/math.Pi},
		{"square", rectangle(2, 2), rectangleFlow(2, 2), rectangleFlow(2, 1)},
	}
}

type halved struct {
	name        string
	s           Section
	whole, half float64
}

// Two fluids with the interface at mid-height: Q_i = Q_f/(mu1+mu2) + (1/mu_i -
// 2/(mu1+mu2)) Q_h (after Packham and Shail, Proc. Camb. Phil. Soc. 69 (1971) 443;
// derived again for this test: the mean of the two streams' speeds at mirrored
// places is the one fluid's at the mean viscosity, and their weighted difference
// solves the half duct). Each stream to 0.1 %.
func TestTwoFluidsAtMidHeight(t *testing.T) {
	t.Parallel()
	for _, d := range halves() {
		for _, m := range []float64{1, 2, 5, 10, 30, 100} {
			below, above := flowOf(t, d.s, 0, m, 1, Options{}).Streams()
			relative(t, fmt.Sprintf("%s, m %g, thick stream", d.name, m), below, d.whole/(m+1)+(1/m-2/(m+1))*d.half, 1e-3)
			relative(t, fmt.Sprintf("%s, m %g, thin stream", d.name, m), above, d.whole/(m+1)+(1-2/(m+1))*d.half, 1e-3)
		}
	}
}

// The share of the viscous stream as worked out apart from this program, where a
// polar finite volume solution for the circle agreed to 1e-4.
func TestSharesAtMidHeight(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ m, circle, square float64 }{
		{2, .43217556, .42743560}, {5, .32555554, .31588946}, {10, .23469769, .22401330},
	} {
		for i, want := range []float64{c.circle, c.square} {
			d := halves()[i]
			below, above := flowOf(t, d.s, 0, c.m, 1, Options{}).Streams()
			relative(t, fmt.Sprintf("%s, m %g", d.name, c.m), below/(below+above), want, 1e-3)
		}
	}
}

// oblique are sections in which the interface meets walls at all angles.
func oblique() []struct {
	name   string
	s      Section
	height float64
} {
	return []struct {
		name   string
		s      Section
		height float64
	}{
		{"circle high", ellipse(1, 1), .4}, {"circle low", ellipse(1, 1), -.7}, {"semicircle turned", turned(semicircle(), 20), .2},
		{"triangle turned", turned(triangle(), 13), .1}, {"rectangle turned", turned(rectangle(3, 1), 25), .1},
		{"ellipse turned", turned(ellipse(2, 1), 50), .3}, {"annulus", annulus(.4), .5},
	}
}

// Each stream within 0.3 % of the total flow against a grid four times finer.
func TestStreamsAgainstAFinerGrid(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("grids four times finer take seconds")
	}
	for _, c := range oblique() {
		for _, m := range []float64{.05, 20} {
			below, above := flowOf(t, c.s, c.height, m, 1, Options{}).Streams()
			fineBelow, fineAbove := flowOf(t, c.s, c.height, m, 1, Options{CellsAcross: 4 * defaultCells}).Streams()
			all := fineBelow + fineAbove
			what := fmt.Sprintf("%s, m %g", c.name, m)
			absolute(t, what+", below", below/all, fineBelow/all, 3e-3)
			absolute(t, what+", above", above/all, fineAbove/all, 3e-3)
		}
	}
}

// The line's height within 0.1 % of the section's against a grid four times finer:
// what the finer grid has for the share at that height, over how fast the share
// changes with height.
func TestLineAgainstAFinerGrid(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("grids four times finer take seconds")
	}
	share := func(s Section, h, m float64, cells int) float64 {
		below, above := flowOf(t, s, h, m, 1, Options{CellsAcross: cells}).Streams()
		return below / (below + above)
	}
	for _, c := range oblique() {
		tall := c.s.Bounds().Y.Length()
		for _, m := range []float64{1, 8} {
			const want = .35
			p, err := PartingAt(c.s, want, 1/m, Options{})
			if err != nil {
				t.Fatal(err)
			}
			step := tall / 50
			slope := (share(c.s, p.HeightMM+step, m, defaultCells) - share(c.s, p.HeightMM-step, m, defaultCells)) / (2 * step)
			off := (share(c.s, p.HeightMM, m, 4*defaultCells) - want) / slope
			absolute(t, fmt.Sprintf("%s, m %g: off by part of the height", c.name, m), off/tall, 0, 1e-3)
		}
	}
}

// A bowed interface converges: on the default grid within 0.3 % of the total.
func TestBowedInterface(t *testing.T) {
	t.Parallel()
	var q [2][2]float64
	for i, cells := range []int{defaultCells, 3 * defaultCells} {
		v, err := newSolver(ellipse(1, 1), Options{CellsAcross: cells})
		if err != nil {
			t.Fatal(err)
		}
		f, err := v.flow(Interface{HeightMM: .1, BowMM: .3, HalfMM: 1}, viscosities{5, 1})
		if err != nil {
			t.Fatal(err)
		}
		q[i][0], q[i][1] = f.Streams()
	}
	all := q[1][0] + q[1][1]
	absolute(t, "below", q[0][0]/all, q[1][0]/all, 3e-3)
	absolute(t, "above", q[0][1]/all, q[1][1]/all, 3e-3)
}

// Exchanging the colours mirrors the answer.
func TestExchangeMirrors(t *testing.T) {
	t.Parallel()
	for _, c := range oblique() {
		mirrored := Section{}
		for _, loop := range c.s.Loops {
			var back []r2.Point
			for i := range loop {
				p := loop[len(loop)-1-i]
				back = append(back, r2.Point{X: p.X, Y: -p.Y})
			}
			mirrored.Loops = append(mirrored.Loops, back)
		}
		for _, m := range []float64{1, 4} {
			p, err := PartingAt(c.s, .3, 1/m, Options{})
			if err != nil {
				t.Fatal(err)
			}
			q, err := PartingAt(mirrored, .7, m, Options{})
			if err != nil {
				t.Fatal(err)
			}
			absolute(t, fmt.Sprintf("%s, m %g", c.name, m), p.HeightMM, -q.HeightMM, 1e-6*c.s.Bounds().Y.Length())
		}
	}
}

// A stream thinner than four cells is said to be so.
func TestThinStreamIsSaid(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		share    float64
		resolved bool
	}{{.3, true}, {.003, false}} {
		p, err := PartingAt(rectangle(2, 1), c.share, 1, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if p.Resolved() != c.resolved {
			t.Errorf("share %g: a stream of %g mm, cells of %g mm: resolved %v", c.share, p.BelowMM, p.CellMM, p.Resolved())
		}
	}
}
