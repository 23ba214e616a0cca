package mesh

import (
	"math"
	"math/rand/v2"
	"runtime"
	"testing"

	"bellyline/mesh/solids"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

func polyhedra() map[string][]r3.Vector {
	return map[string][]r3.Vector{
		"box":         solids.Box(r3.Vector{X: -3, Y: -20, Z: -1}, r3.Vector{X: 4, Y: 18, Z: 0.5}),
		"tetrahedron": solids.Tetrahedron(6),
		"octahedron":  solids.Octahedron(6),
		"icosahedron": solids.Icosahedron(6),
		"prism":       solids.Prism(3, 25, 7),
	}
}

// The promise: 1e-12 of the exact volume and area of the very same float32
// coordinates, however the body is turned and wherever it sits.
func TestVolumeAndAreaOfTurnedAndMovedPolyhedra(t *testing.T) {
	rng := rand.New(rand.NewPCG(2026, 1))
	for name, corners := range polyhedra() {
		for range 60 {
			reach := math.Pow(10, 5*rng.Float64())
			at := r3.Vector{X: 2*rng.Float64() - 1, Y: 2*rng.Float64() - 1, Z: 2*rng.Float64() - 1}.Mul(reach)
			turned := solids.Turn(corners, solids.RandomRotation(rng))
			m := New(solids.Float32(solids.Move(turned, at)))
			got := m.Moments()
			volume, area := exactVolume(m), ratOf(exactArea(m))
			if d := off(got.VolumeMM3, volume); math.Abs(d) > 1e-12*float(volume) {
				t.Errorf("%s at %v: volume %.17g is off by %.2g", name, at, got.VolumeMM3, d)
			}
			if d := off(got.AreaMM2, area); math.Abs(d) > 1e-12*float(area) {
				t.Errorf("%s at %v: area %.17g is off by %.2g", name, at, got.AreaMM2, d)
			}
			checkRounding(t, name, m, got)
		}
	}
}

// checkRounding fails unless the exact volume is within the stated bound, and the
// bound below 1e-10 of the volume.
func checkRounding(t testing.TB, name string, m *Mesh, got Moments) {
	t.Helper()
	volume := exactVolume(m)
	if d := math.Abs(off(got.VolumeMM3, volume)); d > got.RoundingMM3 {
		t.Errorf("%s: off by %.3g, but the bound is %.3g", name, d, got.RoundingMM3)
	}
	if got.RoundingMM3 > 1e-10*math.Abs(float(volume)) {
		t.Errorf("%s: bound %.3g is loose for a volume of %.6g", name, got.RoundingMM3, float(volume))
	}
}

// Closed surfaces with vertices anywhere, crossing themselves and with volumes
// that nearly cancel, where rounding is at its worst.
func TestRoundingBoundHoldsForAnySurface(t *testing.T) {
	shapes := [][]r3.Vector{
		solids.Box(r3.Vector{}, r3.Vector{X: 1, Y: 1, Z: 1}), solids.Icosahedron(1),
		solids.Sphere(1, 12), solids.Torus(3, 1, 6, 5),
	}
	rapid.Check(t, func(t *rapid.T) {
		m := New(rapid.SampledFrom(shapes).Draw(t, "shape"))
		coordinate := rapid.Float64Range(-1, 1)
		reach := math.Pow(10, rapid.Float64Range(-3, 5).Draw(t, "reach"))
		at := rapid.Float64Range(-1e5, 1e5).Draw(t, "at")
		for i := range m.Vertices {
			m.Vertices[i] = r3.Vector{
				X: at + reach*coordinate.Draw(t, "x"),
				Y: reach * coordinate.Draw(t, "y"),
				Z: at - reach*coordinate.Draw(t, "z"),
			}
		}
		got := m.Moments()
		if d := math.Abs(off(got.VolumeMM3, exactVolume(m))); d > got.RoundingMM3 {
			t.Fatalf("volume %g is off by %g, but the bound is %g", got.VolumeMM3, d, got.RoundingMM3)
		}
	})
}

func TestRoundingBoundOfFineMeshes(t *testing.T) {
	for name, corners := range map[string][]r3.Vector{
		"sphere":  solids.Sphere(25, 64),
		"capsule": solids.Capsule(5, 100, 48),
		"sheet":   solids.Box(r3.Vector{}, r3.Vector{X: 100, Y: 60, Z: 0.2}),
	} {
		m := New(solids.Float32(solids.Move(corners, r3.Vector{X: 300, Y: -40, Z: 7})))
		checkRounding(t, name, m, m.Moments())
	}
}

// The formula of the field, area times half a step: between 64 and 128 mm float32
// numbers are 2^-17 mm apart.
func TestStep(t *testing.T) {
	m := New(solids.Box(r3.Vector{X: 90}, r3.Vector{X: 100, Y: 10, Z: 10}))
	if got, want := m.Moments().StepMM3, 600*math.Ldexp(1, -18); got != want {
		t.Errorf("step bound %g, want %g", got, want)
	}
	for _, x := range []float32{1, 1.5, 99.9, 1e-40, 1e5, 3e38} {
		want := float64(math.Nextafter32(x, float32(math.Inf(1)))) - float64(x)
		if got := (Box{Min: r3.Vector{Y: -float64(x)}}).Float32Step(); got != want {
			t.Errorf("step at %g: %g, want %g", x, got, want)
		}
	}
}

// Random errors of half a step in each coordinate stay within the step bound.
func TestStepBoundsRoundingToFloat32(t *testing.T) {
	rng := rand.New(rand.NewPCG(2026, 2))
	for name, corners := range polyhedra() {
		for range 20 {
			turned := solids.Move(solids.Turn(corners, solids.RandomRotation(rng)), r3.Vector{X: 1000})
			exact := New(turned).Moments().VolumeMM3
			got := New(solids.Float32(turned)).Moments()
			if d := math.Abs(got.VolumeMM3 - exact); d > got.StepMM3 {
				t.Errorf("%s: float32 moved the volume by %g, bound %g", name, d, got.StepMM3)
			}
		}
	}
}

func TestMomentsDoNotDependOnThreads(t *testing.T) {
	m := New(solids.Torus(20, 6, 96, 64))
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	want := m.Moments()
	for _, n := range []int{2, 3, 8} {
		runtime.GOMAXPROCS(n)
		if got := m.Moments(); got != want {
			t.Errorf("%d threads: %+v, want %+v", n, got, want)
		}
	}
}

func TestMomentsOfNothing(t *testing.T) {
	if got := new(Mesh).Moments(); got.VolumeMM3 != 0 || got.AreaMM2 != 0 || got.Centroid != (r3.Vector{}) {
		t.Errorf("empty mesh: %+v", got)
	}
	flat := &Mesh{Vertices: []r3.Vector{{X: 1}, {X: 5}}, Triangles: [][3]int32{{0, 0, 1}}}
	if got := flat.Moments(); got.VolumeMM3 != 0 || got.AreaMM2 != 0 || got.Centroid != (r3.Vector{X: 3}) {
		t.Errorf("one degenerate facet: %+v", got)
	}
}

// Three answers that programs of the field do give, beside the right one.
func TestClassicWrongVolumes(t *testing.T) {
	body := solids.Capsule(5, 60, 32)

	t.Run("the absolute value hides a surface that is inside out", func(t *testing.T) {
		right, wrong := New(body), New(solids.Flip(body))
		v, w := right.Moments().VolumeMM3, wrong.Moments().VolumeMM3
		if w != -v || math.Abs(w) != v {
			t.Errorf("volume %g, inside out %g", v, w)
		}
		if n := wrong.Check().Count(InsideOutShell); n != 1 {
			t.Errorf("inside-out shells: %d, want 1", n)
		}
	})

	t.Run("float32 sums about the origin go wrong far from it", func(t *testing.T) {
		m := New(solids.Float32(solids.Move(body, r3.Vector{X: 4096, Y: 2048, Z: 1024})))
		var naive float32
		for f := range m.Triangles {
			a, b, c := m.Corners(f)
			naive += float32(a.X)*(float32(b.Y)*float32(c.Z)-float32(b.Z)*float32(c.Y)) +
				float32(a.Y)*(float32(b.Z)*float32(c.X)-float32(b.X)*float32(c.Z)) +
				float32(a.Z)*(float32(b.X)*float32(c.Y)-float32(b.Y)*float32(c.X))
		}
		want := float(exactVolume(m))
		if d := math.Abs(float64(naive)/6 - want); d < 0.005*want {
			t.Errorf("the trap is not sprung: float32 sum is off by %g of %g only", d, want)
		}
		if d := math.Abs(m.Moments().VolumeMM3 - want); d > 1e-12*want {
			t.Errorf("volume is off by %g of %g", d, want)
		}
	})

	t.Run("an open surface has a number, but it depends on the origin", func(t *testing.T) {
		open := New(body[:len(body)-3*32]) // without the fan at its end
		inside, far := open.volumeAbout(r3.Vector{}), open.volumeAbout(r3.Vector{Z: 1000})
		if math.Abs(inside-far) < 0.1*math.Abs(inside) {
			t.Errorf("the trap is not sprung: %g and %g", inside, far)
		}
		if r := open.Check(); r.Closed || r.Oriented || r.Count(BoundaryEdge) != 32 {
			t.Errorf("report %+v, want open with 32 boundary edges", r)
		}
	})
}

// volumeAbout is the sum that many programs print, with an origin of choice.
func (m *Mesh) volumeAbout(origin r3.Vector) float64 {
	facets := make([]int32, len(m.Triangles))
	for i := range facets {
		facets[i] = int32(i)
	}
	return m.VolumeOf(facets, origin)
}
