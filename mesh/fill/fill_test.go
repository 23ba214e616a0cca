package fill

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"runtime"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"bellyline/mesh"
	"bellyline/mesh/internal/near"
	"bellyline/mesh/solids"
)

func fillOf(t testing.TB, corners []r3.Vector) Fill {
	t.Helper()
	f, err := Volume(context.Background(), mesh.New(corners))
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Two spheres of radius r at distance d share a lens of pi (4r+d)(2r-d)^2/12
// (Weisstein, MathWorld, Sphere-Sphere Intersection, equal radii; from memory). Facets cut off a
// share of it that falls as the square of their size: by 4 each time they are
// halved.
func TestFillOfTwoSpheresApproachesTheLens(t *testing.T) {
	const r, d = 5.0, 6.0
	lens := math.Pi * (4*r + d) * (2*r - d) * (2*r - d) / 12
	fillWant := 2*4*math.Pi/3*r*r*r - lens
	aside := r3.Vector{X: 3, Y: -1, Z: 2}.Normalize().Mul(d)
	var errors, overErrors []float64
	for halvings := 2; halvings <= 5; halvings++ {
		ball := solids.Icosphere(r, halvings)
		f := fillOf(t, solids.Join(ball, solids.Move(ball, aside)))
		errors = append(errors, f.VolumeMM3/fillWant-1)
		overErrors = append(overErrors, f.OverlapMM3/lens-1)
		if f.Crossings == 0 || len(f.Overlaps) != 1 {
			t.Errorf("%d crossings, overlap in %d places", f.Crossings, len(f.Overlaps))
		}
	}
	for i := 1; i < len(errors); i++ {
		for _, e := range [][]float64{errors, overErrors} {
			if order := math.Log2(e[i-1] / e[i]); order < 1.8 || order > 2.2 {
				t.Errorf("errors %v fall with order %.3f, want 2", e, order)
			}
		}
	}
}

// prismAlong returns a regular prism of n sides about an axis, from -length/2 to length/2.
func prismAlong(axis r3.Axis, radius, length float64, n int) []r3.Vector {
	c := solids.Move(solids.Prism(radius, length, n), r3.Vector{Z: -length / 2})
	for i, p := range c {
		switch axis {
		case r3.XAxis:
			c[i] = r3.Vector{X: p.Z, Y: p.X, Z: p.Y}
		case r3.YAxis:
			c[i] = r3.Vector{X: p.X, Y: -p.Z, Z: p.Y}
		}
	}
	return c
}

// Two prisms crossing at right angles share, at each height, a square as wide as
// their section there: the integral of the square of a width that is linear between
// corners. It is Steinmetz's bicylinder for a polygon, and full of corners that
// meet corners and edges that meet edges.
func TestFillOfCrossedPrismsIsExact(t *testing.T) {
	for _, n := range []int{4, 5, 8, 16, 63, 64} {
		a, b := prismAlong(r3.XAxis, 5, 30, n), prismAlong(r3.YAxis, 5, 30, n)
		var section []r2.Point // of either, width direction and height
		for i := range n {
			angle := 2 * math.Pi * float64(i) / float64(n)
			section = append(section, r2.Point{X: 5 * math.Cos(angle), Y: 5 * math.Sin(angle)})
		}
		shared := integralOfSquaredWidth(section)
		f := fillOf(t, solids.Join(a, b))
		near.Number(t, "overlap", f.OverlapMM3, shared, 1e-9)
		near.Number(t, "fill", f.VolumeMM3, 2*30*polygonArea(section)-shared, 1e-9)
	}
}

func polygonArea(p []r2.Point) float64 {
	twice := 0.0
	for i := range p {
		twice += p[i].Cross(p[(i+1)%len(p)])
	}
	return twice / 2
}

// integralOfSquaredWidth returns the integral over y of the square of a convex
// polygon's width along x, by Simpson's rule between corners, where it is exact.
func integralOfSquaredWidth(p []r2.Point) float64 {
	width := func(y float64) float64 {
		lo, hi := math.Inf(1), math.Inf(-1)
		for i := range p {
			a, b := p[i], p[(i+1)%len(p)]
			if (a.Y-y)*(b.Y-y) > 0 || a.Y == b.Y {
				continue
			}
			x := a.X + (b.X-a.X)*(y-a.Y)/(b.Y-a.Y)
			lo, hi = min(lo, x), max(hi, x)
		}
		return max(0, hi-lo)
	}
	var heights []float64
	for _, q := range p {
		heights = append(heights, q.Y)
	}
	total := 0.0
	for _, step := range stepsBetween(heights) {
		// Just inside the ends, where rounding may put a corner on the wrong side.
		const in = 1e-12
		lo, hi := step[0]+in*(step[1]-step[0]), step[1]-in*(step[1]-step[0])
		a, m, b := width(lo), width((lo+hi)/2), width(hi)
		total += (step[1] - step[0]) / 6 * (a*a + 4*m*m + b*b)
	}
	return total
}

// stepsBetween returns the intervals between sorted values, leaving out those that
// are only rounding.
func stepsBetween(values []float64) [][2]float64 {
	sorted := append([]float64(nil), values...)
	for i := range sorted {
		for j := i; j > 0 && sorted[j] < sorted[j-1]; j-- {
			sorted[j], sorted[j-1] = sorted[j-1], sorted[j]
		}
	}
	var steps [][2]float64
	at := sorted[0]
	for _, v := range sorted[1:] {
		if v-at > 1e-9 {
			steps = append(steps, [2]float64{at, v})
			at = v
		}
	}
	return steps
}

// Bodies that are drawn twice or three times fill once.
func TestFillOfCopies(t *testing.T) {
	one := solids.Float32(solids.Torus(10, 3, 40, 24))
	alone := fillOf(t, one)
	for copies := 2; copies <= 3; copies++ {
		var all []r3.Vector
		for range copies {
			all = append(all, one...)
		}
		f := fillOf(t, all)
		near.Number(t, "fill", f.VolumeMM3, alone.VolumeMM3, 1e-9)
		near.Number(t, "signed", f.SignedMM3, float64(copies)*alone.VolumeMM3, 1e-12)
		near.Number(t, "overlap", f.OverlapMM3, float64(copies-1)*alone.VolumeMM3, 1e-9)
	}
}

// Boxes that only touch overlap nowhere.
func TestFillOfTouchingBoxes(t *testing.T) {
	box := solids.Box(r3.Vector{}, r3.Vector{X: 1, Y: 1, Z: 1})
	for name, by := range map[string]r3.Vector{
		"whole face": {X: 1}, "part of a face": {X: 1, Y: 0.5}, "smaller part": {X: 1, Y: 0.25, Z: 0.5},
		"edge": {X: 1, Y: 1}, "part of an edge": {X: 1, Y: 1, Z: 0.5}, "corner": {X: 1, Y: 1, Z: 1},
	} {
		f := fillOf(t, solids.Join(box, solids.Move(box, by)))
		near.Number(t, name, f.VolumeMM3, 2, 1e-9)
		if f.OverlapMM3 != 0 || f.NegativeMM3 != 0 || f.Crossings != 0 || len(f.Overlaps) != 0 {
			t.Errorf("%s: %+v", name, f)
		}
	}
}

// A shell that faces inward is a void where it lies inside another one.
func TestFillOfVoids(t *testing.T) {
	cube := func(half float64) []r3.Vector {
		h := r3.Vector{X: half, Y: half, Z: half}
		return solids.Box(h.Mul(-1), h)
	}
	for _, c := range []struct {
		name string
		c    []r3.Vector
		fill float64 // by hand: whole-number boxes
	}{
		{"void", solids.Join(cube(3), solids.Flip(cube(2))), 216 - 64},
		{"body in a void", solids.Join(cube(3), solids.Flip(cube(2)), cube(1)), 216 - 64 + 8},
		{"void in a body in a void", solids.Join(cube(4), solids.Flip(cube(3)), cube(2), solids.Flip(cube(1))), 512 - 216 + 64 - 8},
		{"body in a body", solids.Join(cube(3), cube(2)), 216},
		{"void where two bodies are", solids.Join(cube(3), cube(2), solids.Flip(cube(1))), 216},
		{"void against the skin", solids.Join(cube(3), solids.Flip(solids.Move(cube(2), r3.Vector{X: 1}))), 216 - 64},
		{"void as large as its body", solids.Join(cube(3), solids.Flip(cube(3))), 0},
		{"fin across the skin of a void", solids.Join(cube(3), solids.Flip(cube(2)), solids.Move(cube(1), r3.Vector{X: 2})), 216 - 64 + 4},
	} {
		f := fillOf(t, c.c)
		if math.Abs(f.VolumeMM3-c.fill) > 1e-9*216 {
			t.Errorf("%s: fill %.12g, want %g", c.name, f.VolumeMM3, c.fill)
		}
	}
}

// Where no number is right none is given.
func TestFillRefuses(t *testing.T) {
	ball := solids.Icosphere(5, 2)
	for _, c := range []struct {
		name string
		c    []r3.Vector
		want error
	}{
		{"open", ball[3:], mesh.ErrNotClosed},
		{"one facet flipped", append(solids.Flip(ball[:3]), ball[3:]...), mesh.ErrNotClosed},
		{"inside out", solids.Flip(ball), ErrInsideOut},
		{"one of two inside out", solids.Join(ball, solids.Flip(solids.Move(ball, r3.Vector{X: 20}))), ErrInsideOut},
		{"void that breaks the skin", solids.Join(ball, solids.Flip(solids.Move(ball, r3.Vector{X: 4}))), ErrInsideOut},
		{"speck inside out", solids.Join(ball, solids.Flip(solids.Move(solids.Icosphere(0.1, 0), r3.Vector{X: 9}))), ErrInsideOut},
		{"void drawn twice", solids.Join(solids.Icosphere(9, 2), solids.Flip(ball), solids.Flip(ball)), ErrInsideOut},
	} {
		f, err := Volume(context.Background(), mesh.New(c.c))
		if !errors.Is(err, c.want) || f.VolumeMM3 != 0 {
			t.Errorf("%s: %v, error %v, want %v", c.name, f.VolumeMM3, err, c.want)
		}
	}
	if f, err := Volume(context.Background(), new(mesh.Mesh)); err != nil || f.VolumeMM3 != 0 {
		t.Errorf("nothing: %+v, %v", f, err)
	}
	ended, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Volume(ended, mesh.New(ball)); !errors.Is(err, context.Canceled) {
		t.Errorf("ended context: %v", err)
	}
}

// A rough scan has folds in which the surface is inside out. What they hold is
// doubtful, and in the error; the rest is filled.
func TestFillOfARoughScan(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	c := solids.Torus(20, 5, 120, 60)
	moved := map[r3.Vector]r3.Vector{}
	for i, p := range c {
		if _, ok := moved[p]; !ok {
			moved[p] = p.Add(r3.Vector{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}.Mul(0.17))
		}
		c[i] = moved[p]
	}
	f := fillOf(t, c)
	if f.NegativeMM3 <= 0 || f.OverlapMM3 <= 0 || f.ErrorMM3 < f.NegativeMM3 || f.ErrorMM3 > 1e-4*f.VolumeMM3 {
		t.Errorf("%+v", f)
	}
	near.Number(t, "fill", f.VolumeMM3, f.SignedMM3-f.OverlapMM3+f.NegativeMM3, 1e-12)
	// The roughness averages out over 7,200 corners.
	near.Number(t, "fill", f.VolumeMM3, 2*math.Pi*math.Pi*20*25, 0.01)
}

// Moving, turning, reordering and splitting facets leave the fill as it is, to
// within the bounds that are given with it.
func TestFillDoesNotDependOnTheDrawing(t *testing.T) {
	body := solids.Ellipsoid(40, 9, 12, 24)
	fin := solids.Move(solids.Ellipsoid(8, 1.5, 6, 16), r3.Vector{X: 5, Z: 11})
	eye := solids.Move(solids.Icosphere(1.5, 2), r3.Vector{X: -30, Y: 5})
	bait := solids.Join(body, fin, eye)
	first := fillOf(t, bait)
	if first.OverlapMM3 < 1 || len(first.Overlaps) != 2 {
		t.Fatalf("the fin and the eye are not sunk into the body: %+v", first)
	}
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		c := solids.Turn(bait, solids.RandomRotation(rng))
		if rapid.Bool().Draw(t, "split") {
			c = solids.Subdivide(c)
		}
		c = solids.Shuffle(c, rng)
		c = solids.Move(c, r3.Vector{X: rapid.Float64Range(-100, 100).Draw(t, "x"), Y: rapid.Float64Range(-100, 100).Draw(t, "y")})
		f, err := Volume(context.Background(), mesh.New(c))
		if err != nil {
			t.Fatal(err)
		}
		// Turning rounds coordinates up to 200 to 2^-46 at a time.
		allowed := f.ErrorMM3 + first.ErrorMM3 + 0x1p-44*10000
		if d := math.Abs(f.VolumeMM3 - first.VolumeMM3); d > allowed {
			t.Fatalf("fill %.15g, was %.15g; differs by %g, allowed %g", f.VolumeMM3, first.VolumeMM3, d, allowed)
		}
		if len(f.Overlaps) != 2 || f.Crossings < 10 {
			t.Fatalf("%d overlaps, %d crossings", len(f.Overlaps), f.Crossings)
		}
	})
}

// The result is the same bit for bit on any number of threads.
func TestFillOnManyThreads(t *testing.T) {
	body := solids.Icosphere(5, 5)
	m := mesh.New(solids.Join(body, solids.Move(body, r3.Vector{X: 4, Y: 1}), solids.Move(body, r3.Vector{X: 2, Y: 5})))
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	one, err := Volume(context.Background(), m)
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range []int{2, 5} {
		runtime.GOMAXPROCS(n)
		if many, err := Volume(context.Background(), m); err != nil || !reflect.DeepEqual(one, many) {
			t.Errorf("%d threads: %+v, %v; one: %+v", n, many, err, one)
		}
	}
}
