package smooth

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"bellyline/mesh"
	"bellyline/mesh/internal/manifest"
	"bellyline/mesh/solids"
	"bellyline/mesh/stl"
)

// tessellated is a body with the volume of the smooth one, in closed form.
type tessellated struct {
	name    string
	corners []r3.Vector
	smooth  float64
}

const ball = 4 * math.Pi / 3

// smoothlyTessellated are what the estimate is made for: vertices on the surface, 1,000
// facets or about, no creases, no needles. Even ones, ones at random, and long
// facets beside fine roundings.
func smoothlyTessellated(rng *rand.Rand) []tessellated {
	var b []tessellated
	add := func(smooth float64, corners []r3.Vector, name string, args ...any) {
		b = append(b, tessellated{fmt.Sprintf(name, args...), corners, smooth})
	}
	add(ball*125, solids.Sphere(5, 34), "sphere")
	add(ball*125, solids.Icosphere(5, 3), "sphere of even facets")
	add(ball*240, solids.Ellipsoid(6, 4, 10, 34), "ellipsoid")
	add(ball*4, solids.Scale(solids.Icosphere(1, 3), 1, 1, 4), "long ellipsoid")
	add(2*math.Pi*math.Pi*90, solids.Torus(10, 3, 48, 16), "torus")
	add(2*math.Pi*math.Pi*640, solids.Torus(10, 8, 32, 32), "fat torus")
	for _, jitter := range []float64{.3, .45} {
		add(2*math.Pi*math.Pi*90, roughTorus(10, 3, 48, 16, jitter, rng), "torus, jitter %g", jitter)
	}
	for _, jitter := range []float64{-1, 0, .15, .3} {
		p := directions(800, jitter, rng)
		facets := hullOfDirections(p)
		scaled := func(x, y, z float64) func(r3.Vector) r3.Vector {
			return func(d r3.Vector) r3.Vector { return r3.Vector{X: d.X * x, Y: d.Y * y, Z: d.Z * z} }
		}
		add(ball*125, onBody(p, facets, scaled(5, 5, 5)), "sphere, jitter %g", jitter)
		add(ball*240, onBody(p, facets, scaled(6, 4, 10)), "ellipsoid, jitter %g", jitter)
		add(ball*18, onBody(p, facets, scaled(2, 3, 3)), "flat ellipsoid, jitter %g", jitter)
		half := r3.Vector{Z: 4}
		add(aroundVolume(half, 3), onBody(p, facets, around(half, 3)), "capsule, jitter %g", jitter)
		half = r3.Vector{X: 2, Y: 3, Z: 1.5}
		add(aroundVolume(half, 3), onBody(p, facets, around(half, 3)), "rounded box, jitter %g", jitter)
	}
	for _, length := range []float64{3, 10, 100} {
		half := r3.Vector{Z: length / 2}
		add(aroundVolume(half, 5), solids.Capsule(5, length, 40), "capsule with sides in one piece, %g long", length)
	}
	for _, pieces := range []int{1, 2, 5, 12} {
		half := r3.Vector{X: 10, Y: 7.5, Z: 5}
		add(aroundVolume(half, 2), roundedBox(half, 2, 5, pieces), "rounded box in %d pieces", pieces)
		half = r3.Vector{X: 50, Y: 10, Z: 2.5}
		add(aroundVolume(half, 1), roundedBox(half, 1, 5, pieces), "long rounded box in %d pieces", pieces)
		half = r3.Vector{X: 5, Y: 5, Z: 5}
		add(aroundVolume(half, 20), roundedBox(half, 20, 5, pieces), "nearly a ball in %d pieces", pieces)
	}
	return b
}

// missing returns what a tessellated body lacks of the smooth one, and the
// estimate of that.
func (b tessellated) missing() (truth, estimate float64) {
	m := mesh.New(b.corners)
	return b.smooth - m.Moments().VolumeMM3, Estimate(m)
}

// The estimate leaves a fifth of the error or less on every body that it is made
// for; the test also checks that the bodies are such.
func TestFacetEstimateIsFiveTimesCloser(t *testing.T) {
	for _, b := range smoothlyTessellated(rand.New(rand.NewPCG(5, 6))) {
		m := mesh.New(b.corners)
		sharpest, stretched := tessellation(m)
		if n := len(m.Triangles); n < 1000 || sharpest >= DefaultCreaseDegrees || stretched >= 10 {
			t.Errorf("%s: %d facets, edges of up to %.3g degrees, median stretch %.3g: not a body for this test",
				b.name, n, sharpest, stretched)
		}
		truth, estimate := b.missing()
		if math.Abs(estimate-truth) > math.Abs(truth)/5 {
			t.Errorf("%s: estimate %.6g, truth %.6g", b.name, estimate, truth)
		}
	}
}

// tessellation returns the sharpest edge in degrees, and the median over the
// facets of their longest edge squared over twice their area.
func tessellation(m *mesh.Mesh) (sharpest, stretched float64) {
	normals := map[[2]int32]r3.Vector{}
	var stretches []float64
	for i, t := range m.Triangles {
		p, q, r := m.Corners(i)
		n := q.Sub(p).Cross(r.Sub(p))
		longest := max(p.Sub(q).Norm2(), q.Sub(r).Norm2(), r.Sub(p).Norm2())
		stretches = append(stretches, longest/n.Norm())
		for j, v := range t {
			w := t[(j+1)%3]
			if other, ok := normals[[2]int32{w, v}]; ok {
				sharpest = max(sharpest, n.Angle(other).Degrees())
			}
			normals[[2]int32{v, w}] = n
		}
	}
	slices.Sort(stretches)
	return sharpest, stretches[len(stretches)/2]
}

// With twice the facets a side the error of the estimate falls faster than what
// the facets cut off, which is a quarter.
func TestFacetEstimateConverges(t *testing.T) {
	for name, draw := range map[string]func(n int) []r3.Vector{
		"ellipsoid": func(n int) []r3.Vector { return solids.Ellipsoid(6, 4, 10, n) },
		"torus":     func(n int) []r3.Vector { return solids.Torus(10, 3, 3*n, n) },
	} {
		smooth := map[string]float64{"ellipsoid": ball * 240, "torus": 2 * math.Pi * math.Pi * 90}[name]
		coarse, estimate := tessellated{name, draw(32), smooth}.missing()
		coarseError := math.Abs(estimate - coarse)
		fine, estimate := tessellated{name, draw(64), smooth}.missing()
		if got := math.Abs(estimate - fine); got > coarseError/8 {
			t.Errorf("%s: error %.3g, with half the facets a side %.3g", name, got, coarseError)
		}
	}
}

// Where facets are needles or a surface has a tip, the estimate is better than
// none.
func TestFacetEstimateIsNeverWorseThanNone(t *testing.T) {
	var bodies []tessellated
	add := func(smooth float64, corners []r3.Vector, name string, args ...any) {
		bodies = append(bodies, tessellated{fmt.Sprintf(name, args...), corners, smooth})
	}
	for _, n := range []int{12, 24, 96, 384} {
		add(math.Pi*500, solids.Prism(5, 20, n), "cylinder of %d", n)
		add(513.1268001, solids.Frustum(5, 3, 10, n), "frustum of %d", n) // pi·10(25+15+9)/3
		for _, height := range []float64{20, 5, 2, .7} {
			add(math.Pi*25*height/3, solids.Frustum(5, 0, height, n), "cone of %d, %g high", n, height)
			for _, bands := range []int{2, 5, 20} {
				add(math.Pi*50*height/3, solids.Lathe(doubleCone(5, height, bands), n),
					"double cone of %d, %g high, %d bands", n, height, bands)
			}
		}
	}
	for _, c := range [][2]int{{400, 10}, {12, 100}, {16, 200}} {
		add(ball*125, solids.Lathe(solids.SphereProfile(5, c[1]), c[0]), "sphere of needles %v", c)
		add(aroundVolume(r3.Vector{Z: 5}, 5), solids.Lathe(solids.CapsuleProfile(5, 10, c[1]/2), c[0]), "capsule of needles %v", c)
		add(2*math.Pi*math.Pi*90, solids.Torus(10, 3, c[0], c[1]), "torus of needles %v", c)
	}
	add(133.333333, solids.Hoof(5, 8, 40), "hoof")
	add(1021.017612, solids.TruncatedCylinder(5, 10, 16, 80), "truncated cylinder")
	add(math.Pi*125, solids.HalfCylinder(5, 10, 40), "half cylinder")
	for _, b := range bodies {
		if truth, estimate := b.missing(); math.Abs(estimate-truth) > math.Abs(truth) {
			t.Errorf("%s: estimate %.6g, truth %.6g", b.name, estimate, truth)
		}
	}
}

// The plain formula, whose normals are weighted with the area, is worse than
// nothing on long facets beside a curve, and leaves a third on facets of random
// size: the mending is needed.
func TestFacetEstimatePlainFormulaFails(t *testing.T) {
	half := r3.Vector{X: 50, Y: 10, Z: 2.5}
	box := tessellated{"box", roundedBox(half, 1, 5, 1), aroundVolume(half, 1)}
	rng := rand.New(rand.NewPCG(7, 8))
	p := directions(800, -1, rng)
	sphere := tessellated{"sphere", onBody(p, hullOfDirections(p), func(d r3.Vector) r3.Vector { return d }), ball}
	for _, c := range []struct {
		body  tessellated
		worse float64
	}{{box, 5}, {sphere, 0.3}} {
		truth, estimate := c.body.missing()
		plain := plainEstimate(mesh.New(c.body.corners))
		if math.Abs(plain-truth) < c.worse*math.Abs(truth) {
			t.Errorf("%s: the plain formula gives %.4g of %.4g", c.body.name, plain, truth)
		}
		if math.Abs(estimate-truth) > math.Abs(truth)/5 {
			t.Errorf("%s: estimate %.4g of %.4g", c.body.name, estimate, truth)
		}
	}
}

// plainEstimate is the formula of Estimate with normals weighted by area.
func plainEstimate(m *mesh.Mesh) float64 {
	normals := make([]r3.Vector, len(m.Vertices))
	for i, t := range m.Triangles {
		a, b, c := m.Corners(i)
		for _, v := range t {
			normals[v] = normals[v].Add(b.Sub(a).Cross(c.Sub(a)))
		}
	}
	total := 0.0
	for i, t := range m.Triangles {
		a, b, c := m.Corners(i)
		area := b.Sub(a).Cross(c.Sub(a)).Norm() / 2
		for j, v := range t {
			w := t[(j+1)%3]
			e := m.Vertices[w].Sub(m.Vertices[v])
			total += area / 24 * e.Dot(normals[w].Normalize().Sub(normals[v].Normalize()))
		}
	}
	return total
}

// Bodies with flat sides are what they are: 0 to the last bit, also turned and
// moved and rounded to float32, and cut into more facets.
func TestFacetEstimateOfFlatSidesIsZero(t *testing.T) {
	bodies := map[string][]r3.Vector{
		"cube":         solids.Box(r3.Vector{}, r3.Vector{X: 1, Y: 1, Z: 1}),
		"box":          solids.Box(r3.Vector{X: -1, Y: -2, Z: -3}, r3.Vector{X: 2, Y: 4, Z: 5}),
		"tetrahedron":  solids.Tetrahedron(5),
		"octahedron":   solids.Octahedron(5),
		"icosahedron":  solids.Icosahedron(5),
		"dodecahedron": solids.Dodecahedron(5),
		"spool":        solids.Lathe(solids.SpoolProfile(), 6),
	}
	for n := 3; n <= 8; n++ {
		bodies[fmt.Sprintf("prism of %d", n)] = solids.Prism(5, 10, n)
	}
	rng := rand.New(rand.NewPCG(9, 10))
	for name, c := range bodies {
		finer := solids.Subdivide(solids.Subdivide(c))
		turned := solids.Turn(finer, solids.RandomRotation(rng))
		for how, c := range map[string][]r3.Vector{
			"as it is": c, "finer": finer, "turned": turned, "in float32": solids.Float32(turned),
			"far away": solids.Float32(solids.Move(turned, r3.Vector{X: 3000, Y: -2000, Z: 500})),
		} {
			if got := Estimate(mesh.New(c)); got != 0 {
				t.Errorf("%s, %s: %g", name, how, got)
			}
		}
	}
}

// The sign: inside out everything is negative; a hollow lacks its own missing part.
func TestFacetEstimateSign(t *testing.T) {
	outer, inner := solids.Sphere(5, 34), solids.Sphere(3, 34)
	big, small := Estimate(mesh.New(outer)), Estimate(mesh.New(inner))
	if got := Estimate(mesh.New(solids.Flip(outer))); math.Abs(got+big) > 1e-9*big {
		t.Errorf("inside out %g, right way out %g", got, big)
	}
	hollow := Estimate(mesh.New(solids.Join(outer, solids.Flip(inner))))
	if math.Abs(hollow-(big-small)) > 1e-9*big {
		t.Errorf("hollow sphere %g, want %g-%g", hollow, big, small)
	}
}

// The crease angle: the sides of an octagonal prism meet at 45 degrees. From 50
// degrees on it is a cylinder.
func TestFacetEstimateCreaseAngle(t *testing.T) {
	m := mesh.New(solids.Prism(5, 10, 8))
	if got := EstimateWithCrease(m, 44); got != 0 {
		t.Errorf("creases from 44 degrees: %g", got)
	}
	truth := math.Pi*250 - m.Moments().VolumeMM3
	if got := EstimateWithCrease(m, 50); math.Abs(got-truth) > 0.15*truth {
		t.Errorf("creases from 50 degrees: %g, cylinder less prism %g", got, truth)
	}
}

// A flat end beside a curved side: the rim is a crease, the side is still curved.
// In a cylinder of n sectors the side lacks pi-n·sin(2pi/n)/2 of r² of its length.
func TestFacetEstimateBesideCrease(t *testing.T) {
	const n = 48
	m := mesh.New(solids.Prism(5, 10, n))
	truth := 250 * (math.Pi - n*math.Sin(2*math.Pi/n)/2)
	if got := Estimate(m); math.Abs(got-truth) > 0.01*truth {
		t.Errorf("cylinder: %g, want %g", got, truth)
	}
}

// Facets without area, of two equal corners or on a line, have no say.
func TestFacetEstimateIgnoresFlatFacets(t *testing.T) {
	c := solids.Torus(10, 3, 48, 16)
	want := Estimate(mesh.New(c))
	a, b := c[0], c[1]
	c = append(c, a, a, b, a, b, b, a, b, a.Add(b).Mul(.5), a, a.Add(b).Mul(.5), b)
	if got := Estimate(mesh.New(c)); got != want {
		t.Errorf("%.17g with flat facets, %.17g without", got, want)
	}
	if got := Estimate((&mesh.Mesh{})); got != 0 {
		t.Errorf("%g of an empty mesh", got)
	}
}

func TestFacetEstimateSameOnAnyNumberOfThreads(t *testing.T) {
	before := runtime.GOMAXPROCS(0)
	defer runtime.GOMAXPROCS(before)
	half := r3.Vector{X: 10, Y: 7.5, Z: 5}
	for name, c := range map[string][]r3.Vector{
		"torus": solids.Torus(10, 3, 90, 60), "box": roundedBox(half, 2, 12, 3), "capsule": solids.Capsule(5, 20, 100),
	} {
		m := mesh.New(c)
		runtime.GOMAXPROCS(1)
		want := Estimate(m)
		for _, threads := range []int{2, 3, 8} {
			runtime.GOMAXPROCS(threads)
			if got := Estimate(m); got != want {
				t.Errorf("%s: %.17g on %d threads, %.17g on one", name, got, threads, want)
			}
		}
	}
}

// Turning, moving, reordering and scaling a body turn the estimate into what they
// should.
func TestFacetEstimateProperties(t *testing.T) {
	profile := []r2.Point{{}, {X: 3}, {X: 4, Y: 1}, {X: 4.2, Y: 2}, {X: 4, Y: 3}, {X: 1, Y: 6}, {Y: 6.2}}
	bodies := [][]r3.Vector{
		solids.Ellipsoid(6, 4, 10, 20),
		solids.Lathe(profile, 30),
		roundedBox(r3.Vector{X: 10, Y: 7.5, Z: 5}, 2, 3, 2),
	}
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom(bodies).Draw(t, "body")
		want := Estimate(mesh.New(c))
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		scale := rapid.Float64Range(0.01, 100).Draw(t, "scale")
		d := r3.Vector{X: rng.Float64(), Y: rng.Float64(), Z: rng.Float64()}
		moved := solids.Move(solids.Turn(solids.Shuffle(c, rng), solids.RandomRotation(rng)), d)
		got := Estimate(mesh.New(solids.Scale(moved, scale, scale, scale)))
		if off := got/(want*scale*scale*scale) - 1; math.Abs(off) > 1e-6 {
			t.Fatalf("estimate off by %g", off)
		}
	})
}

// Real models with flat sides only: a block with a square hole, and blocks with
// pockets in the shape of a letter M.
func TestFacetEstimateOfFlatSidedModels(t *testing.T) {
	found := 0
	for _, line := range manifest.Models(t) {
		switch line["file"] {
		case "npm_stl_cube_with_hole.stl", "openscad_M_pocket_block.stl", "openscad_two_M_blocks.stl":
			found++
			model, err := stl.ReadFile(context.Background(), line.Path(t), stl.ReadOptions{})
			if err != nil {
				t.Fatal(err)
			}
			if got := Estimate(model.Mesh); got != 0 {
				t.Errorf("%s: %g", line["file"], got)
			}
		}
	}
	if found != 3 {
		t.Errorf("%d of 3 models found", found)
	}
}
