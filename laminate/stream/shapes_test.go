package stream

import (
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
)

// corners stands for a smooth outline: what the chords cut off is far below what is tested.
const corners = 720

func polygon(points ...r2.Point) Section { return Section{Loops: [][]r2.Point{points}} }

// rectangle has its middle at the origin.
func rectangle(wide, tall float64) Section {
	x, y := wide/2, tall/2
	return polygon(r2.Point{X: -x, Y: -y}, r2.Point{X: x, Y: -y}, r2.Point{X: x, Y: y}, r2.Point{X: -x, Y: y})
}

// ellipseLoop has the area of the true ellipse.
func ellipseLoop(a, b float64) []r2.Point {
	angle := 2 * math.Pi / corners
	grow := math.Sqrt(angle / math.Sin(angle))
	var loop []r2.Point
	for i := range corners {
		sin, cos := math.Sincos(angle * (float64(i) + 0.5))
		loop = append(loop, r2.Point{X: grow * a * cos, Y: grow * b * sin})
	}
	return loop
}

func ellipse(a, b float64) Section { return polygon(ellipseLoop(a, b)...) }

func annulus(k float64) Section {
	inner := ellipseLoop(k, k)
	slices.Reverse(inner)
	return Section{Loops: [][]r2.Point{ellipseLoop(1, 1), inner}}
}

func semicircle() Section {
	var loop []r2.Point
	for i := range corners + 1 {
		sin, cos := math.Sincos(math.Pi * float64(i) / corners)
		loop = append(loop, r2.Point{X: cos, Y: sin})
	}
	return polygon(loop...)
}

func triangle() Section {
	return polygon(r2.Point{X: -.5}, r2.Point{X: .5}, r2.Point{Y: math.Sqrt(3) / 2})
}

// turned turns a section about the origin and moves it off the lattice.
func turned(s Section, degrees float64) Section {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	var out Section
	for _, loop := range s.Loops {
		var to []r2.Point
		for _, p := range loop {
			to = append(to, r2.Point{X: cos*p.X - sin*p.Y + 0.37, Y: sin*p.X + cos*p.Y - 0.21})
		}
		out.Loops = append(out.Loops, to)
	}
	return out
}

// flowOf solves for two streams.
func flowOf(t failer, s Section, height, below, above float64, opts Options) *Flow {
	t.Helper()
	v, err := newSolver(s, opts)
	if err != nil {
		t.Fatal(err)
	}
	f, err := v.flow(Interface{HeightMM: height}, viscosities{below, above})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// total is the flow of one fluid on the default grid, or another.
func total(t failer, s Section, opts Options) float64 {
	t.Helper()
	return flowOf(t, s, s.Bounds().Center().Y, 1, 1, opts).TotalMM4
}

func relative(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got/want-1) <= tolerance) {
		t.Errorf("%s: got %.10g, want %.10g: off by %.2g, allowed %.2g", what, got, want, got/want-1, tolerance)
	}
}

func absolute(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.12g, want %.12g: off by %.2g, allowed %.2g", what, got, want, got-want, tolerance)
	}
}

// failer is a test or a property.
type failer interface {
	Helper()
	Fatal(args ...any)
}
