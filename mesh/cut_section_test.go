package mesh

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh/internal/near"
	"bellyline/mesh/solids"
)

// cutBy cuts and demands success.
func cutBy(t testing.TB, m *Mesh, normal r3.Vector, height float64) *Cut {
	t.Helper()
	cut, err := m.Cut(Plane{Normal: normal, HeightMM: height})
	if err != nil {
		t.Fatal(err)
	}
	return cut
}

// Cuts of polyhedra whose numbers are elementary.
func TestCutOfPolyhedra(t *testing.T) {
	unitCube := New(solids.Box(r3.Vector{}, r3.Vector{X: 1, Y: 1, Z: 1}))
	diagonal := r3.Vector{X: 1, Y: 1, Z: 1}
	for _, c := range []struct {
		name                        string
		m                           *Mesh
		normal                      r3.Vector
		height                      float64
		below, above, area, outline float64
		outsideBelow                float64
		pieces, loops               int
	}{
		// Across the cube's diagonal a third of the way: an equilateral triangle of
		// side sqrt 2 and the corner tetrahedron 1/6.
		{name: "corner", m: unitCube, normal: diagonal, height: 1, below: 1.0 / 6, above: 5.0 / 6,
			area: math.Sqrt(3) / 2, outline: 3 * math.Sqrt2, outsideBelow: 1.5, pieces: 1, loops: 1},
		// Half way: a regular hexagon of side sqrt(1/2), area 3 sqrt 3 / 2 sides squared.
		{name: "hexagon", m: unitCube, normal: diagonal, height: 1.5, below: 0.5, above: 0.5,
			area: 3 * math.Sqrt(3) / 4, outline: 6 * math.Sqrt(0.5), outsideBelow: 3, pieces: 1, loops: 1},
		// Through two opposite edges: a rectangle 1 by sqrt 2.
		{name: "edges", m: unitCube, normal: r3.Vector{X: 1, Y: -1}, height: 0, below: 0.5, above: 0.5,
			area: math.Sqrt2, outline: 2 + 2*math.Sqrt2, outsideBelow: 3, pieces: 1, loops: 1},
		// In a face, from either side, and clear of the body: nothing is cut off.
		{name: "top face", m: unitCube, normal: r3.Vector{Z: 1}, height: 1, below: 1, outsideBelow: 6},
		{name: "top face seen from above", m: unitCube, normal: r3.Vector{Z: -1}, height: -1, above: 1},
		{name: "bottom face", m: unitCube, normal: r3.Vector{Z: 1}, height: 0, above: 1},
		{name: "one vertex", m: unitCube, normal: diagonal, height: 0, above: 1},
		{name: "one edge", m: unitCube, normal: r3.Vector{X: 1, Y: 1}, height: 0, above: 1},
		{name: "beside", m: unitCube, normal: r3.Vector{Z: 1}, height: 7, below: 1, outsideBelow: 6},
		// A step: base 3 x 1 x 1, tower 1 x 1 x 1 on its left third, as one shell. At
		// the height of the step the section is the tower's foot, and the step's
		// tread is skin of the part below: 14 - 1 of the base's 14 faces.
		{name: "step", m: New(stairs()), normal: r3.Vector{Z: 1}, height: 1, below: 3, above: 1,
			area: 1, outline: 4, outsideBelow: 13, pieces: 1, loops: 1},
		// The same from below: the overhang belongs to the wide part.
		{name: "overhang", m: New(stairs()), normal: r3.Vector{Z: -1}, height: -1, below: 1, above: 3,
			area: 1, outline: 4, outsideBelow: 5, pieces: 1, loops: 1},
		// Boxes that touch in an edge: two pieces, each a square.
		{name: "boxes at an edge", m: Bodies()["boxes at an edge"], normal: r3.Vector{Z: 1}, height: 1, below: 8, above: 8,
			area: 8, outline: 16, outsideBelow: 24, pieces: 2, loops: 2},
		// A void in the corner of a block, drawn as a shell of its own: where its sides
		// lie on the block's, both count as skin and as line, 24 = 16 + 8 and 44 of
		// 16 + 16 + 4 + 8, because that is what was drawn.
		{name: "void at the rim", m: Bodies()["void at the rim"], normal: r3.Vector{Z: 1}, height: 1, below: 12, above: 44,
			area: 12, outline: 24, outsideBelow: 44, pieces: 1, loops: 2},
		// Twice the same solid is twice everything.
		{name: "the same box twice", m: Bodies()["the same box twice"], normal: r3.Vector{Z: 1}, height: 1, below: 8, above: 8,
			area: 8, outline: 16, outsideBelow: 24, pieces: 2, loops: 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			cut := cutBy(t, c.m, c.normal, c.height)
			near.Number(t, "below", cut.Below.VolumeMM3, c.below, 1e-13)
			near.Number(t, "above", cut.Above.VolumeMM3, c.above, 1e-13)
			near.Number(t, "area", cut.SectionAreaMM2, c.area, 1e-13)
			near.Number(t, "outline", cut.OutlineMM, c.outline, 1e-13)
			near.Number(t, "outside", cut.Below.OutsideMM2, c.outsideBelow, 1e-13)
			if cut.Pieces != c.pieces || len(cut.Loops) != c.loops {
				t.Errorf("%d pieces in %d loops, want %d in %d", cut.Pieces, len(cut.Loops), c.pieces, c.loops)
			}
		})
	}
}

// stairs is an L of volume 4: its outline in x and z drawn, then pushed along y.
func stairs() []r3.Vector {
	outline := []r3.Vector{{}, {X: 3}, {X: 3, Z: 1}, {X: 1, Z: 1}, {X: 1, Z: 2}, {Z: 2}, {Z: 1}}
	front := [][3]int{{0, 1, 3}, {1, 2, 3}, {0, 3, 6}, {6, 3, 4}, {6, 4, 5}}
	var c []r3.Vector
	back := func(p r3.Vector) r3.Vector { return p.Add(r3.Vector{Y: 1}) }
	for _, f := range front {
		p, q, r := outline[f[0]], outline[f[1]], outline[f[2]]
		c = append(c, p, q, r, back(p), back(r), back(q))
	}
	for i, p := range outline {
		q := outline[(i+1)%len(outline)]
		c = append(c, p, back(p), q, q, back(p), back(q))
	}
	return c
}

func TestHolesAndIslands(t *testing.T) {
	all := Bodies()
	up := r3.Vector{Z: 1}
	for _, c := range []struct {
		name          string
		normal        r3.Vector
		height        float64
		pieces, loops int
	}{
		{"hollow", up, 0.1, 1, 2},           // a ring
		{"hollow", up, 4, 1, 1},             // above the void
		{"nested", up, 0.3, 2, 4},           // a ring, and an island that is a ring
		{"nested", up, 2, 2, 3},             // above the innermost void
		{"inside out", up, 0.1, 1, 2},       // signs turned, the same ring
		{"torus", up, 0.1, 1, 2},            // a ring
		{"torus", r3.Vector{X: 1}, 0, 2, 2}, // two tubes
		{"comb", up, 2.5, 20, 20},           // the teeth
		{"comb", up, -4, 1, 1},              // the back
	} {
		cut := cutBy(t, all[c.name], c.normal, c.height)
		if cut.Pieces != c.pieces || len(cut.Loops) != c.loops {
			t.Errorf("%s at %v: %d pieces in %d loops, want %d in %d",
				c.name, c.height, cut.Pieces, len(cut.Loops), c.pieces, c.loops)
		}
	}
}

// Outer loops run counter-clockwise seen from above, holes clockwise, and on a
// plane across an axis every point has exactly the plane's height.
func TestLoopsRunTheRightWay(t *testing.T) {
	m := New(solids.Torus(10, 3, 40, 20))
	for _, height := range []float64{0, 0.1, -0.7, 1.3} {
		for _, sign := range []float64{1, -1} {
			cut := cutBy(t, m, r3.Vector{Z: sign}, sign*height)
			if len(cut.Loops) != 2 {
				t.Fatalf("%d loops, want the ring's two", len(cut.Loops))
			}
			for _, loop := range cut.Loops {
				turning := 0.0
				for i, p := range loop {
					turning += sign * p.Cross(loop[(i+1)%len(loop)]).Z
					if p.Z != height {
						t.Fatalf("point %v is not in the plane", p)
					}
				}
				radius := math.Hypot(loop[0].X, loop[0].Y)
				if outer := radius > 10; outer != (turning > 0) {
					t.Errorf("loop at radius %.1f turns %v", radius, turning)
				}
			}
		}
	}
	for i := range 20 {
		shifted := New(solids.Move(solids.Torus(10, 3, 40, 20), r3.Vector{Z: math.Sqrt(float64(i)) / 3}))
		for _, loop := range cutBy(t, shifted, r3.Vector{Z: 1}, 0).Loops {
			for _, p := range loop {
				if p.Z != 0 {
					t.Fatalf("point %v is not in the plane", p)
				}
			}
		}
	}
	for _, p := range cutBy(t, m, r3.Vector{X: -1}, -0.3).Loops[0] {
		if p.X != 0.3 {
			t.Fatalf("point %v is not in the plane", p)
		}
	}
	for _, p := range cutBy(t, m, r3.Vector{Y: 1}, 0.3).Loops[0] {
		if p.Y != 0.3 {
			t.Fatalf("point %v is not in the plane", p)
		}
	}
}

// wedge is an upright prism of unit height over a triangle: its tip is on the z
// axis, its other corners at two angles, a distance away.
func wedge(from, to, reach float64) []r3.Vector {
	corner := func(a float64) r3.Vector {
		sin, cos := math.Sincos(a)
		return r3.Vector{X: reach * cos, Y: reach * sin}
	}
	a, b, c := r3.Vector{}, corner(from), corner(to)
	up := func(p r3.Vector) r3.Vector { return p.Add(r3.Vector{Z: 1}) }
	w := []r3.Vector{a, c, b, up(a), up(b), up(c)}
	for _, e := range [][2]r3.Vector{{a, b}, {b, c}, {c, a}} {
		w = append(w, e[0], e[1], up(e[1]), e[0], up(e[1]), up(e[0]))
	}
	return w
}

// Several loops meet in one node where solids share an edge that the plane
// crosses. Beside each other, each keeps its own loop; one within the other too,
// because their ways nest; and a notch becomes part of the rim.
func TestLoopsThatMeetInANode(t *testing.T) {
	beside := solids.Join(wedge(0, 1, 1), wedge(2, 3, 1), wedge(4, 5, 1))
	within := solids.Join(wedge(-1, 1, 3), wedge(-0.5, 0.5, 1))
	notched := solids.Join(wedge(-1, 1, 3), solids.Flip(wedge(-0.5, 0.5, 1)))
	area := func(angle, reach float64) float64 { return reach * reach * math.Sin(angle) / 2 }
	for _, c := range []struct {
		name          string
		corners       []r3.Vector
		pieces, loops int
		area          float64
	}{
		{"beside", beside, 3, 3, 3 * area(1, 1)},
		{"within", within, 2, 2, area(2, 3) + area(1, 1)},
		{"notched", notched, 1, 1, area(2, 3) - area(1, 1)},
	} {
		m := New(c.corners)
		cut := cutBy(t, m, r3.Vector{Z: 1}, 0.5)
		near.Number(t, c.name, cut.SectionAreaMM2, c.area, 1e-14)
		if cut.Pieces != c.pieces || len(cut.Loops) != c.loops {
			t.Errorf("%s: %d pieces in %d loops, want %d in %d", c.name, cut.Pieces, len(cut.Loops), c.pieces, c.loops)
		}
		MustAddUp(t, m, Plane{Normal: r3.Vector{Z: 1}, HeightMM: 0.5})
	}
}

// A torus has circles in two more planes than one sees: the plane through its
// centre that touches the tube above and below cuts it in two circles with the
// ring's radius, 2r apart, which cross in the points of contact (Villarceau 1848,
// from memory). The section is what lies in one circle only: two crescents, each
// a disc less the lens 2 R² acos(r/R) - 2 r sqrt(R²-r²) (Zwillinger; from
// memory).
func TestVillarceauCircles(t *testing.T) {
	const ring, tube = 10.0, 3.0
	sin := tube / ring
	plane := r3.Vector{X: -sin, Z: math.Sqrt(1 - sin*sin)}
	lens := 2*ring*ring*math.Acos(sin) - 2*tube*math.Sqrt(ring*ring-tube*tube)
	area := 2 * (math.Pi*ring*ring - lens)
	var errors []float64
	for _, n := range []int{64, 128, 256} {
		cut := cutBy(t, New(solids.Torus(ring, tube, n, n)), plane, 0)
		errors = append(errors, cut.SectionAreaMM2-area)
		near.Number(t, "below", cut.Below.VolumeMM3, cut.Above.VolumeMM3, 1e-12)
		if cut.Pieces != 2 {
			t.Errorf("%d pieces, want two crescents", cut.Pieces)
		}
		// The facets leave the points of contact open, and each tip ends where the
		// crescent has the width of that gap: some tenths of a millimetre.
		near.Number(t, "outline", cut.OutlineMM, 4*math.Pi*ring, 0.005)
	}
	mustConverge(t, "section", errors, area)
}

// mustConverge demands errors that fall as the square of the facet size: four
// times with each doubling, to a thousandth of the value.
func mustConverge(t *testing.T, what string, errors []float64, value float64) {
	t.Helper()
	for i := 1; i < len(errors); i++ {
		order := math.Log2(math.Abs(errors[i-1] / errors[i]))
		if !(order > 1.8 && order < 2.2) {
			t.Errorf("%s: errors %v fall with order %.2f, want 2", what, errors, order)
		}
	}
	if last := math.Abs(errors[len(errors)-1] / value); !(last < 1e-3) {
		t.Errorf("%s: errors %v do not come near %v", what, errors, value)
	}
}

// The table of curved bodies: closed forms of the solids that planes cut off
// (Zwillinger, CRC Standard Mathematical Tables; MathWorld SphericalCap,
// CylindricalWedge; from memory) at the check values of the project's sheet of
// formulas. Heights lie between rows of vertices or on them as n doubles.
func TestCutOfCurvedBodiesConverges(t *testing.T) {
	const r = 5.0
	hoof := func(b, h float64) (r3.Vector, float64) { // z = h (x-(r-b))/b, below it the hoof
		n := r3.Vector{X: -h / b, Z: 1}
		return n.Mul(1 / n.Norm()), -(r - b) * h / b / n.Norm()
	}
	hoof5, height5 := hoof(5, 8)
	hoof3, height3 := hoof(3, 8)
	hoof8, height8 := hoof(8, 8)
	segment := 19.81683563 // circle segment R5 h3; chord 9.16515139, arc 11.59279481
	type number struct {
		what string
		got  func(c *Cut) float64
		want float64
	}
	below := func(want float64) number {
		return number{"volume below", func(c *Cut) float64 { return c.Below.VolumeMM3 }, want}
	}
	above := func(want float64) number {
		return number{"volume above", func(c *Cut) float64 { return c.Above.VolumeMM3 }, want}
	}
	skin := func(want float64) number {
		return number{"skin above", func(c *Cut) float64 { return c.Above.OutsideMM2 }, want}
	}
	skinBelow := func(want float64) number {
		return number{"skin below", func(c *Cut) float64 { return c.Below.OutsideMM2 }, want}
	}
	area := func(want float64) number {
		return number{"section", func(c *Cut) float64 { return c.SectionAreaMM2 }, want}
	}
	outline := func(want float64) number {
		return number{"outline", func(c *Cut) float64 { return c.OutlineMM }, want}
	}
	for _, c := range []struct {
		name    string
		body    func(n int) []r3.Vector
		normal  r3.Vector
		height  float64
		numbers []number
	}{
		// Sphere cap R5 h3: V 113.0973355, A 94.2477796; its rim has a2 = h(2R-h) = 21.
		{"sphere cap", func(n int) []r3.Vector { return solids.Sphere(r, n) }, r3.Vector{Z: 1}, 2,
			[]number{above(113.0973355), skin(94.2477796), area(21 * math.Pi), outline(2 * math.Pi * math.Sqrt(21))}},
		{"sphere cap askew", func(n int) []r3.Vector { return solids.Sphere(r, n) }, r3.Vector{X: 0.48, Y: 0.6, Z: 0.64}, 2,
			[]number{above(113.0973355), skin(94.2477796), area(21 * math.Pi), outline(2 * math.Pi * math.Sqrt(21))}},
		// Ellipsoid 6, 4, 10, cap h4 along the long axis: 104.5522035 of 1005.309649. The
		// section is the ellipse at z = 6: semi-axes 0.8 of 6 and 4.
		{"ellipsoid cap", func(n int) []r3.Vector { return solids.Ellipsoid(6, 4, 10, n) }, r3.Vector{Z: 1}, 6,
			[]number{above(104.5522035), below(1005.309649 - 104.5522035), area(math.Pi * 4.8 * 3.2)}},
		// Horizontal cylinder R5, 20 long, filled 3 deep: segment times length; the level
		// is chord times length, the line its two ends and two sides.
		{"tank", func(n int) []r3.Vector { return solids.Prism(r, 20, n) }, r3.Vector{X: 1}, -2,
			[]number{below(segment * 20), area(9.16515139 * 20), outline(2 * (9.16515139 + 20)),
				skinBelow(2*segment + 11.59279481*20)}},
		// Torus 10, 3 across its axis at the middle: half of 1776.528792 and of
		// 1184.352528; the ring 4 pi R r; two circles of 13 and 7.
		{"torus across", func(n int) []r3.Vector { return solids.Torus(10, 3, n, n) }, r3.Vector{Z: 1}, 0,
			[]number{below(1776.528792 / 2), skinBelow(1184.352528 / 2), area(4 * math.Pi * 30), outline(2 * math.Pi * 20)}},
		// Along its axis: two discs of radius 3.
		{"torus along", func(n int) []r3.Vector { return solids.Torus(10, 3, n, n) }, r3.Vector{X: 1}, 0,
			[]number{above(1776.528792 / 2), area(2 * math.Pi * 9), outline(2 * math.Pi * 6)}},
		// Hoof through the diameter, r5 h8: 133.333333, lateral 80, and the half disc
		// below; its roof is half the ellipse with semi-axes 5 and sqrt(25+64).
		{"hoof", func(n int) []r3.Vector { return solids.Prism(r, 20, n) }, hoof5, height5,
			[]number{below(133.333333), skinBelow(80 + math.Pi*25/2), area(math.Pi * 5 * math.Sqrt(89) / 2),
				{"xc", func(c *Cut) float64 { return c.Below.Centroid.X }, 2.945243},
				{"zc", func(c *Cut) float64 { return c.Below.Centroid.Z }, 2.356194}}},
		// Chord at r-b: b3 65.39303593, b8 244.7389744.
		{"hoof b3", func(n int) []r3.Vector { return solids.Prism(r, 20, n) }, hoof3, height3, []number{below(65.39303593)}},
		{"hoof b8", func(n int) []r3.Vector { return solids.Prism(r, 20, n) }, hoof8, height8, []number{below(244.7389744)}},
		// Capsule r5 L100: 8377.580410, area 3455.751919, halved lengthwise: a section
		// 10 x 100 and a disc.
		{"capsule", func(n int) []r3.Vector { return solids.Capsule(r, 100, n) }, r3.Vector{Y: 1}, 0,
			[]number{below(8377.580410 / 2), skinBelow(3455.751919 / 2), area(1000 + 25*math.Pi)}},
	} {
		t.Run(c.name, func(t *testing.T) {
			errors := make([][]float64, len(c.numbers))
			for _, n := range []int{96, 192, 384} {
				cut := cutBy(t, New(c.body(n)), c.normal, c.height)
				for i, x := range c.numbers {
					errors[i] = append(errors[i], x.got(cut)-x.want)
				}
			}
			for i, x := range c.numbers {
				mustFall(t, x.what, errors[i], x.want)
			}
		})
	}
}

// mustFall demands errors that fall about as the square of the facet size. Where
// the plane lies among vertices changes with n, so the order is asked for over
// both doublings: sixteen times at best, at least nine.
func mustFall(t *testing.T, what string, errors []float64, value float64) {
	t.Helper()
	first, last := math.Abs(errors[0]), math.Abs(errors[len(errors)-1])
	const digits = 1e-8 // of the check values
	if !(last <= first/9 || last <= digits*math.Abs(value)) || !(last <= 1e-3*math.Abs(value)) {
		t.Errorf("%s: errors %v do not fall towards %v", what, errors, value)
	}
}

// Lying cylinders to a share of their depth, at the exact n-gon: strapping
// fractions of the table (h/D to share of the volume, eight digits, from the
// segment formula; its half-full value is exact).
func TestStrappingTable(t *testing.T) {
	const n = 4096 // the inscribed polygon is 4e-7 smaller
	tank := New(solids.Prism(1, 1, n))
	whole := tank.Moments().VolumeMM3
	for _, row := range [][2]float64{{.05, .01869304}, {.10, .05204402}, {.15, .09406020}, {.20, .14237849},
		{.25, .19550111}, {.30, .25231579}, {.35, .31191883}, {.40, .37353004}, {.45, .43644429}, {.50, .5}} {
		cut := cutBy(t, tank, r3.Vector{X: 1}, 2*row[0]-1)
		if got := cut.Below.VolumeMM3 / whole; !(math.Abs(got-row[1]) <= 1e-6) {
			t.Errorf("filled to %v: share %.8f, want %.8f", row[0], got, row[1])
		}
	}
}

// Between two neighbouring heights of vertices the section's area is a quadratic
// in the height, so the volume between two planes there is exactly that of the
// prismatoid formula h (A0 + 4 Am + A1) / 6 (Simpson): the area is the derivative
// of the volume, without any small step.
func TestSectionIsTheDerivativeOfVolume(t *testing.T) {
	for name, m := range Bodies() {
		t.Run(name, func(t *testing.T) { CheckSlopes(t, m, rand.New(rand.NewPCG(7, 8))) })
	}
}

func CheckSlopes(t *testing.T, m *Mesh, rng *rand.Rand) {
	normal := r3.Vector{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}.Normalize()
	var heights []float64
	for _, v := range m.Vertices {
		heights = append(heights, normal.Dot(v))
	}
	slices.Sort(heights)
	size := heights[len(heights)-1] - heights[0]
	tried := 0
	for range 60 {
		i := rng.IntN(len(heights) - 1)
		gap := heights[i+1] - heights[i]
		if gap < 1e-4*size {
			continue // too near for a difference of volumes
		}
		tried++
		lo, hi := heights[i]+0.1*gap, heights[i+1]-0.1*gap
		a, b, c := cutBy(t, m, normal, lo), cutBy(t, m, normal, (lo+hi)/2), cutBy(t, m, normal, hi)
		got := (c.Below.VolumeMM3 - a.Below.VolumeMM3) / (hi - lo)
		want := (a.SectionAreaMM2 + 4*b.SectionAreaMM2 + c.SectionAreaMM2) / 6
		// A volume of 1e-14 of the whole's rounding over the step.
		allowed := 1e-13 * math.Abs(m.Moments().VolumeMM3) / (hi - lo)
		if !(math.Abs(got-want) <= allowed+1e-12*math.Abs(want)) {
			t.Errorf("along %v from %v to %v: %v mm³ a mm, area %v", normal, lo, hi, got, want)
		}
	}
	if tried == 0 {
		t.Error("no two heights far enough apart")
	}
}
