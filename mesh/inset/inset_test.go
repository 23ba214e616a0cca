package inset

import (
	"context"
	"errors"
	"math"
	"runtime"
	"slices"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/solids"
)

// measured measures a body without overlaps.
func measured(t *testing.T, m *mesh.Mesh, stepMM float64) *Depths {
	t.Helper()
	d, err := Measure(t.Context(), m, stepMM, false)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// A body of which the depth of every point is known.
type body struct {
	name    string
	mesh    *mesh.Mesh
	stepMM  float64
	offMM   float64 // how far the facets lie from the surface that depth is told of
	depth   func(p r3.Vector) float64
	deepest float64
	// volume and area of what lies at least t below the skin
	volume, area func(t float64) float64
	edges        func(t float64) float64 // how long its edges are, nil for a ball
}

// boxBody is a box about the origin. Depth in it is that below the nearest face, and
// what lies below a depth is a box again, smaller by it on each side.
func boxBody(name string, half r3.Vector, step float64) body {
	inner := func(t float64) r3.Vector {
		return r3.Vector{X: 2 * (half.X - t), Y: 2 * (half.Y - t), Z: 2 * (half.Z - t)}
	}
	return body{
		name: name, mesh: mesh.New(solids.Box(half.Mul(-1), half)), stepMM: step,
		depth: func(p r3.Vector) float64 {
			q := half.Sub(p.Abs())
			return min(q.X, q.Y, q.Z)
		},
		deepest: min(half.X, half.Y, half.Z),
		volume:  func(t float64) float64 { s := inner(t); return s.X * s.Y * s.Z },
		area:    func(t float64) float64 { s := inner(t); return 2 * (s.X*s.Y + s.Y*s.Z + s.Z*s.X) },
		edges:   func(t float64) float64 { s := inner(t); return 4 * (s.X + s.Y + s.Z) },
	}
}

// bodies are a box, a slab and a ball.
func bodies() []body {
	const radius = 10.0
	facets := solids.Icosphere(radius, 3)
	// A facet lies below the sphere by at most what its circumradius r leaves:
	// R - sqrt(R^2 - r^2).
	sag := 0.0
	for i := 0; i < len(facets); i += 3 {
		a, b, c := facets[i], facets[i+1], facets[i+2]
		n := b.Sub(a).Cross(c.Sub(a)).Normalize()
		sag = max(sag, radius-n.Dot(a))
	}
	return []body{
		boxBody("box", r3.Vector{X: 6, Y: 5, Z: 4}, 0.4),
		boxBody("slab", r3.Vector{X: 12, Y: 12, Z: 1.5}, 0.25),
		{
			name: "ball", mesh: mesh.New(facets), stepMM: 0.6, offMM: sag,
			depth:   func(p r3.Vector) float64 { return radius - p.Norm() },
			deepest: radius,
			volume:  func(t float64) float64 { return 4 * math.Pi / 3 * math.Pow(radius-t, 3) },
			area:    func(t float64) float64 { return 4 * math.Pi * math.Pow(radius-t, 2) },
		},
	}
}

// At each point of the lattice inside the depth is the closed form's, less what the
// facets of a ball lie below its sphere. Outside it is below 0, and a bound.
func TestDepthsAgainstClosedForms(t *testing.T) {
	for _, b := range bodies() {
		d := measured(t, b.mesh, b.stepMM)
		inside := 0
		for at, got := range d.depth {
			want := b.depth(d.point(at))
			switch slack := b.offMM + 1e-9; {
			case want > slack:
				inside++
				if got > want+1e-9 || got < want-slack {
					t.Fatalf("%s: %v lies %.9g mm deep, want %.9g", b.name, d.point(at), got, want)
				}
			case want < -1e-9 && got > 0:
				t.Fatalf("%s: %v lies outside, %.9g mm deep", b.name, d.point(at), got)
			}
		}
		// As many points as the body has room for, to a layer of half a step all round.
		share := float64(inside) * math.Pow(b.stepMM, 3)
		if layer := b.area(0) * b.stepMM / 2; math.Abs(share-b.volume(0)) > layer {
			t.Errorf("%s: %d points inside stand for %.4g mm3 of %.4g", b.name, inside, share, b.volume(0))
		}
		// The deepest point of the lattice is half a cell's diagonal from the deepest place.
		if got := d.DeepestMM(); got > b.deepest+1e-9 || got < b.deepest-b.offMM-math.Sqrt(3)/2*b.stepMM {
			t.Errorf("%s: %.6g mm at the deepest, want %.6g", b.name, got, b.deepest)
		}
		if d.StepMM() != b.stepMM {
			t.Errorf("%s: steps of %g mm, want %g", b.name, d.StepMM(), b.stepMM)
		}
	}
}

// latticeErrorMM3 bounds how much less volume lies below a depth when it is taken as
// linear in each tetrahedron. Depth in a convex body is concave, so linear steps only
// take away. With h the step and e its cell's diagonal, the longest edge of a tetrahedron:
//
//   - Below a flat face depth is linear, and right. At an edge it is the lesser of two
//     coordinates, x and y from the edge on. Tetrahedra that hold both cases lie in
//     |x-y| <= h, and linear steps miss at most h/2 there: h^2 for each mm of edge.
//   - At distance r from a ball's centre its second derivative is 1/r, and what a linear
//     step misses at most e^2/8r (Waldron, The error in linear interpolation at the
//     vertices of a simplex, SIAM J. Numer. Anal. 35 (1998) 1191; from memory).
//
// Vertices are kept nearPoint of an edge from the lattice.
func (b body) latticeErrorMM3(t float64) float64 {
	h := b.stepMM
	e := math.Sqrt(3) * h
	if b.edges == nil {
		return b.area(t) * (e*e/(8*(b.deepest-t-e)) + b.offMM + nearPoint*e)
	}
	return b.edges(t)*h*h + b.area(t)*nearPoint*e
}

// What lies below a depth is the parallel body of the closed form, within what the
// lattice can do; and it is a closed body that lies within its bound.
func TestInsetsAgainstOffsets(t *testing.T) {
	for _, b := range bodies() {
		d := measured(t, b.mesh, b.stepMM)
		for _, share := range []float64{0.05, 0.2, 0.5, 0.7} {
			depth := share * b.deepest
			in, err := d.Inset(depth)
			if err != nil {
				t.Fatal(err)
			}
			want := b.volume(depth)
			rounding := b.area(depth) * nearPoint * math.Sqrt(3) * b.stepMM
			if in.VolumeMM3 > want+rounding || in.VolumeMM3 < want-b.latticeErrorMM3(depth) {
				t.Errorf("%s, %.3g mm: %.6g mm3, want %.6g less %.2g at most", b.name, depth, in.VolumeMM3, want, b.latticeErrorMM3(depth))
			}
			if off, facets := math.Abs(in.VolumeMM3-want), b.area(depth)*b.offMM; off > in.ErrorMM3+facets {
				t.Errorf("%s, %.3g mm: off by %.3g mm3, beyond its own bound of %.3g and %.3g of the facets", b.name, depth, off, in.ErrorMM3, facets)
			}
			c := in.Body.Check()
			if !c.Closed || !c.Oriented || in.Pieces != 1 || in.DepthMM != depth {
				t.Errorf("%s, %.3g mm: %+v, %d pieces", b.name, depth, c, in.Pieces)
			}
			if m := in.Body.Moments(); m.VolumeMM3 != in.VolumeMM3 || m.AreaMM2 != in.AreaMM2 {
				t.Errorf("%s, %.3g mm: volume and area are not the body's", b.name, depth)
			}
			// Its corners lie at that depth, but for what linear steps make of it.
			for _, p := range in.Body.Vertices {
				if got := b.depth(p); math.Abs(got-depth) > b.offMM+math.Sqrt(3)*b.stepMM/2 {
					t.Fatalf("%s: a corner of the body %.3g mm deep lies %.3g mm deep", b.name, depth, got)
				}
			}
		}
	}
}

// The body as the lattice shows it lies about the body: an inset of depth 0.
func TestOutsideIsTheBody(t *testing.T) {
	for _, b := range bodies() {
		out := measured(t, b.mesh, b.stepMM).Outside()
		if c := out.Check(); !c.Closed || !c.Oriented || c.Shells != 1 {
			t.Errorf("%s: %+v", b.name, c)
		}
		// Outside of a convex body depth is concave no more, and off by up to e/2 at edges.
		allowed := b.latticeErrorMM3(0)
		if got := out.Moments().VolumeMM3; math.Abs(got-b.volume(0)) > allowed {
			t.Errorf("%s: %.6g mm3, want %.6g within %.2g", b.name, got, b.volume(0), allowed)
		}
	}
}

// DepthFor undoes Inset.
func TestDepthForUndoesInset(t *testing.T) {
	for _, b := range bodies() {
		d := measured(t, b.mesh, b.stepMM)
		for _, share := range []float64{0.05, 0.3, 0.8} {
			in, err := d.Inset(share * d.DeepestMM())
			if err != nil {
				t.Fatal(err)
			}
			depth, err := d.DepthFor(in.VolumeMM3)
			if err != nil {
				t.Fatal(err)
			}
			back, err := d.Inset(depth)
			if err != nil {
				t.Fatal(err)
			}
			if off := math.Abs(back.VolumeMM3 - in.VolumeMM3); off > 1e-8*in.VolumeMM3 {
				t.Errorf("%s: %.9g mm3 at %.9g mm, want %.9g at %.9g", b.name, back.VolumeMM3, depth, in.VolumeMM3, in.DepthMM)
			}
		}
		for _, none := range []float64{0, -1, 1.01 * b.volume(0), math.NaN(), math.Inf(1)} {
			if _, err := d.DepthFor(none); !errors.Is(err, ErrInset) {
				t.Errorf("%s: %g mm3: %v", b.name, none, err)
			}
		}
	}
}

// A bar between two blocks is as thick as 2 mm: below 1 mm the blocks are apart. Deeper
// insets lie within shallower ones and hold less.
func TestPiecesComeApart(t *testing.T) {
	m := dumbbell()
	if v := m.Moments().VolumeMM3; v != 2*512+2*2*6 {
		t.Fatalf("drawn with %g mm3", v)
	}
	d := measured(t, m, 0.3)
	before := math.Inf(1)
	for _, c := range []struct {
		depth  float64
		pieces int
	}{{0.2, 1}, {0.6, 1}, {1.3, 2}, {3, 2}} {
		in, err := d.Inset(c.depth)
		if err != nil {
			t.Fatal(err)
		}
		if in.Pieces != c.pieces || in.VolumeMM3 >= before {
			t.Errorf("%g mm deep: %d pieces of %g mm3, want %d", c.depth, in.Pieces, in.VolumeMM3, c.pieces)
		}
		before = in.VolumeMM3
	}
}

// dumbbell is two cubes of 8 mm with a bar of 2 x 2 x 6 mm between, one surface.
func dumbbell() *mesh.Mesh {
	return grown([3][]float64{{0, 8, 14, 22}, {-4, -1, 1, 4}, {-4, -1, 1, 4}}, func(i, j, k int) bool {
		return i == 0 || i == 2 || i == 1 && j == 1 && k == 1
	})
}

// grown draws the cells of a grid that are full, without the sides that two share.
func grown(at [3][]float64, full func(i, j, k int) bool) *mesh.Mesh {
	cell := func(c [3]int) bool {
		for axis := range 3 {
			if c[axis] < 0 || c[axis]+1 >= len(at[axis]) {
				return false
			}
		}
		return full(c[0], c[1], c[2])
	}
	var corners []r3.Vector
	for i := range len(at[0]) - 1 {
		for j := range len(at[1]) - 1 {
			for k := range len(at[2]) - 1 {
				if !cell([3]int{i, j, k}) {
					continue
				}
				// Facets of a box stand four by four: across z, across y, across x, the low
				// side first.
				box := solids.Box(r3.Vector{X: at[0][i], Y: at[1][j], Z: at[2][k]}, r3.Vector{X: at[0][i+1], Y: at[1][j+1], Z: at[2][k+1]})
				for side, beside := range [6][3]int{{i, j, k - 1}, {i, j, k + 1}, {i, j - 1, k}, {i, j + 1, k}, {i - 1, j, k}, {i + 1, j, k}} {
					if !cell(beside) {
						corners = append(corners, box[6*side:6*side+6]...)
					}
				}
			}
		}
	}
	return mesh.New(corners)
}

// A body with an inset taken out is a closed skin around a hollow.
func TestWithoutLeavesASkin(t *testing.T) {
	b := bodies()[0]
	in, err := measured(t, b.mesh, b.stepMM).Inset(1)
	if err != nil {
		t.Fatal(err)
	}
	skin := Without(b.mesh, in.Body)
	if c := skin.Check(); !c.Closed || !c.Oriented || c.Shells != 2 || c.Voids != 1 {
		t.Errorf("%+v", c)
	}
	if got, want := skin.Moments().VolumeMM3, b.volume(0)-in.VolumeMM3; math.Abs(got-want) > 1e-9*b.volume(0) {
		t.Errorf("%.9g mm3, want %.9g", got, want)
	}
	if len(b.mesh.Vertices) != 8 || len(b.mesh.Triangles) != 12 {
		t.Error("the body itself was changed")
	}
}

// The same depths, bit for bit, whatever the number of threads.
func TestDepthsOnAnyNumberOfThreads(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for _, b := range bodies() {
		runtime.GOMAXPROCS(1)
		one := measured(t, b.mesh, b.stepMM)
		runtime.GOMAXPROCS(7)
		if many := measured(t, b.mesh, b.stepMM); !slices.Equal(one.depth, many.depth) {
			t.Errorf("%s: other depths", b.name)
		}
	}
}

func TestNoDepthsAreRefused(t *testing.T) {
	box := mesh.New(solids.Block(1, 2, 3))
	for _, step := range []float64{0, -1, math.NaN(), 1e-4, math.Inf(-1)} {
		if _, err := Measure(t.Context(), box, step, false); !errors.Is(err, ErrInset) {
			t.Errorf("steps of %g mm: %v", step, err)
		}
	}
	if _, err := Measure(t.Context(), &mesh.Mesh{}, 1, false); !errors.Is(err, ErrInset) {
		t.Errorf("no body: %v", err)
	}
	d := measured(t, box, 0.1)
	for _, depth := range []float64{0, -1, 0.51, math.NaN(), math.Inf(1)} { // half of 1 mm at the deepest
		if in, err := d.Inset(depth); !errors.Is(err, ErrInset) {
			t.Errorf("%g mm deep: %v, %v", depth, in, err)
		}
	}
	ended, end := context.WithCancel(t.Context())
	end()
	if _, err := Measure(ended, box, 0.1, false); !errors.Is(err, context.Canceled) {
		t.Errorf("after the end: %v", err)
	}
}
