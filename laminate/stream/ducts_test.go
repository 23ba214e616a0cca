package stream

import (
	"fmt"
	"math"
	"testing"

	"github.com/golang/geo/r2"
)

// duct is a section with its flow of one fluid in closed form.
type duct struct {
	name string
	s    Section
	flow float64
}

// rectangleFlow is the series solution over a b^3, a >= b (White, Viscous Fluid
// Flow, eq. 3-48, from memory): the first forty terms, which is to the last digit.
func rectangleFlow(a, b float64) float64 {
	sum := 0.0
	for k := range 40 {
		n := float64(2*k + 1)
		sum += math.Tanh(n*math.Pi*a/(2*b)) / math.Pow(n, 5)
	}
	return a * b * b * b / 12 * (1 - 192/math.Pow(math.Pi, 5)*b/a*sum)
}

// Darcy's friction factor times Reynolds' number for a square is 56.91 as printed
// (White, Fluid Mechanics, Table 6.4, from memory): 2 d^2 A/(Q/G).
func TestRectangleSeriesGivesThePrintedFriction(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ ratio, printed float64 }{{1, 56.91}, {.5, 62.19}, {.25, 72.93}, {.125, 82.34}, {.1, 84.68}, {.05, 89.91}} {
		a, b := 1/c.ratio, 1.0
		hydraulic := 2 * a * b / (a + b)
		absolute(t, fmt.Sprint(c.ratio), 2*hydraulic*hydraulic*a*b/rectangleFlow(a, b), c.printed, 0.006)
	}
}

// closedForms are ducts with known flow (Shah and London, Laminar Flow Forced
// Convection in Ducts, 1978, from memory; semicircle: (pi/8-1/pi) R^4).
func closedForms() []duct {
	var list []duct
	for _, ratio := range []float64{1, .75, .5, .4, 1. / 3, .25, .2, 1. / 6, .125, .1, .05} {
		list = append(list, duct{fmt.Sprintf("rectangle %.3g", ratio), rectangle(1/ratio, 1), rectangleFlow(1/ratio, 1)})
	}
	for _, b := range []float64{1, .5, .25, .125} {
		a := 1 / b
		list = append(list, duct{fmt.Sprintf("ellipse %g", b), ellipse(a, 1), math.Pi / 4 * a * a * a / (a*a + 1)})
	}
	for _, k := range []float64{.1, .5, .9} {
		q := math.Pi / 8 * (1 - k*k*k*k - (1-k*k)*(1-k*k)/math.Log(1/k))
		list = append(list, duct{fmt.Sprintf("annulus %g", k), annulus(k), q})
	}
	return append(list,
		duct{"triangle", triangle(), math.Sqrt(3) / 320},
		duct{"semicircle", semicircle(), math.Pi/8 - 1/math.Pi},
	)
}

// One fluid, flow to 0.1 % on the default grid, whole and turned.
func TestOneFluid(t *testing.T) {
	t.Parallel()
	for i, d := range closedForms() {
		angles := []float64{17.3}
		if i%4 == 0 && !testing.Short() {
			angles = []float64{0, 17.3, 45, 73}
		}
		for _, degrees := range angles {
			relative(t, fmt.Sprintf("%s turned %g", d.name, degrees), total(t, turned(d.s, degrees), Options{}), d.flow, 1e-3)
		}
	}
}

// The largest circle in a section sets the size of the cells.
func TestInscribed(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		s    Section
		want float64
	}{
		{"square", rectangle(2, 2), 2}, {"slab", rectangle(20, 1), 1}, {"ellipse", ellipse(3, 1), 2}, {"annulus", annulus(.5), .5},
		{"triangle", triangle(), 1 / math.Sqrt(3)},
		{"semicircle", semicircle(), 1},
	} {
		for _, degrees := range []float64{0, 33} {
			// The search ends within half a percent, and never above the truth.
			got := turned(c.s, degrees).InscribedMM()
			if got > c.want*(1+1e-5) || got < c.want*(1-inscribedPrecision) {
				t.Errorf("%s turned %g: %g, want %g", c.name, degrees, got, c.want)
			}
		}
	}
}

// A sliver, where a plane grazes a skin, is found to be one without a long search.
func TestInscribedOfASliver(t *testing.T) {
	t.Parallel()
	for _, thick := range []float64{1e-4, 1e-7, 1e-12} {
		if d := turned(rectangle(30, thick), 30).InscribedMM(); d > thick*(1+1e-3) {
			t.Errorf("a circle of %g in a sliver of %g", d, thick)
		}
	}
	relative(t, "just thick enough", rectangle(30, 2e-3).InscribedMM(), 2e-3, finest/2e-3) // found to the last square
}

// Second order where the outline is smooth: from 12 to 48 cells the error falls by
// 16; as it also depends on how the outline lies on the grid, means over several
// turned and moved ellipses are compared.
func TestSecondOrder(t *testing.T) {
	t.Parallel()
	errorAt := func(cells int) float64 {
		sum := 0.0
		for _, degrees := range []float64{3, 11, 19, 27, 35, 43, 51, 59, 67, 75, 83} {
			got := total(t, turned(ellipse(1.7, 1), degrees), Options{CellsAcross: cells})
			sum += math.Abs(got/(math.Pi/4*1.7*1.7*1.7/(1.7*1.7+1)) - 1)
		}
		return sum / 11
	}
	coarse, fine := errorAt(12), errorAt(48)
	if order := math.Log(coarse/fine) / math.Log(4); order < 1.8 {
		t.Errorf("errors %.3g and %.3g: order %.2f", coarse, fine, order)
	}
}

// Plastic that two shells cover counts once: two rectangles that overlap make one.
func TestOverlappingShellsAreOneSection(t *testing.T) {
	t.Parallel()
	left := turned(polygon(r2.Point{X: -1, Y: -.5}, r2.Point{X: .3, Y: -.5}, r2.Point{X: .3, Y: .5}, r2.Point{X: -1, Y: .5}), 20)
	right := turned(polygon(r2.Point{X: -.2, Y: -.5}, r2.Point{X: 1, Y: -.5}, r2.Point{X: 1, Y: .5}, r2.Point{X: -.2, Y: .5}), 20)
	both := Section{Loops: [][]r2.Point{left.Loops[0], right.Loops[0]}}
	whole := turned(rectangle(2, 1), 20)
	relative(t, "area", both.AreaMM2(), 2, 1e-12)
	relative(t, "area below", both.AreaBelowMM2(-0.1), whole.AreaBelowMM2(-0.1), 1e-12)
	relative(t, "flow", total(t, both, Options{}), total(t, whole, Options{}), 1e-3)
	if n := len(both.pieces()); n != 1 {
		t.Errorf("%d pieces", n)
	}
}

// A hole belongs to what is around it, an island in it does not.
func TestPieces(t *testing.T) {
	t.Parallel()
	ring := annulus(.5)
	ring.Loops = append(ring.Loops, ellipseLoop(.3, .3), rectangle(1, 1).Loops[0])
	for i := range ring.Loops[3] {
		ring.Loops[3][i].X += 5
	}
	pieces := ring.pieces()
	if len(pieces) != 3 || len(pieces[0].Loops) != 2 {
		t.Fatalf("%d pieces", len(pieces))
	}
	relative(t, "ring", pieces[0].AreaMM2(), math.Pi*.75, 1e-9)
	relative(t, "all", ring.AreaMM2(), math.Pi*(.75+.09)+1, 1e-9)
}

// finned is a circle with a fin of the given thickness on its top, turned.
func finned(thick, degrees float64) Section {
	circle := ellipseLoop(1, 1)
	var loop []r2.Point
	inside := func(p r2.Point) bool { return p.Y > 0 && math.Abs(p.X) < thick/2 }
	for i, p := range circle {
		last := circle[(i+len(circle)-1)%len(circle)]
		switch {
		case inside(p):
		case p.Y > 0 && p.X < 0 && (inside(last) || last.X > 0):
			y := math.Sqrt(1 - thick*thick/4)
			loop = append(loop, r2.Point{X: thick / 2, Y: y}, r2.Point{X: thick / 2, Y: 1.8}, r2.Point{X: -thick / 2, Y: 1.8}, r2.Point{X: -thick / 2, Y: y}, p)
		default:
			loop = append(loop, p)
		}
	}
	return turned(polygon(loop...), degrees)
}

// A fin thinner than a cell does not spoil its section, wherever the lattice lies:
// it carries next to nothing (its thickness cubed), and the body's flow stays.
func TestFinThinnerThanACell(t *testing.T) {
	t.Parallel()
	for _, cells := range []float64{.05, .3, .7, 1.5} {
		thick := cells / 16 // the radius is 16 cells
		for _, degrees := range []float64{0, 3, 17, 45, 90, 118} {
			s := finned(thick, degrees)
			relative(t, "area", s.AreaMM2(), math.Pi+.8*thick, 2e-3)
			got := total(t, s, Options{})
			// A mouth as wide as thick in a wall of shear rate 1/2 adds at most the shear rate
			// squared times the width squared, by dimensions with a factor below 1.
			if got < math.Pi/8*(1-1e-3) || got > math.Pi/8*(1+1e-3)+thick*thick/4 {
				t.Errorf("fin of %g cells, turned %g: flow %g of the body's", cells, degrees, got/(math.Pi/8))
			}
		}
	}
}
