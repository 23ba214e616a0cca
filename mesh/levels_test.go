package mesh

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"reflect"
	"runtime"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"bellyline/mesh/solids"
)

// levelBodies are closed bodies of every sort that levels must cope with: edges
// and vertices in planes, several facets at one height, long needles, handles.
func levelBodies() map[string]*Mesh {
	lo, hi := r3.Vector{X: -1, Y: -2, Z: -3}, r3.Vector{X: 2, Y: 4, Z: 5}
	return map[string]*Mesh{
		"box":         New(solids.Box(lo, hi)),
		"tetrahedron": New(solids.CornerTetrahedron(5, 4, 3)),
		"icosahedron": New(solids.Icosahedron(6)),
		"sphere":      New(solids.Sphere(5, 24)),
		"icosphere":   New(solids.Icosphere(5, 2)),
		"torus":       New(solids.Torus(10, 3, 20, 10)),
		"capsule":     New(solids.Capsule(2, 30, 16)),
		"needles":     New(solids.Frustum(3, 2, 40, 80)),
		"hoof":        New(solids.Hoof(5, 8, 20)),
		"spool":       New(solids.Lathe(solids.SpoolProfile(), 17)),
	}
}

var levelDirections = []r3.Vector{
	{Z: 1}, {X: -1}, {X: 1, Y: 2, Z: -3}, {X: 0.6, Y: 0.8}, {X: 1e-9, Z: 1},
}

// wholes is what "of the whole" means for each result.
func wholes(m *Mesh) (volume, area, line float64) {
	size := m.Bounds().Diagonal()
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		area += b.Sub(a).Cross(c.Sub(a)).Norm() / 2
	}
	return area * size, area, size
}

// The oracle clips all facets in 300-bit arithmetic. Heights stand at shares of
// the range from 1e-3 on, where invariant 1 promises 1e-12 of the part.
func TestLevelsAgainstExactClipping(t *testing.T) {
	shares := []float64{0.001, 0.17, 0.4999, 0.999}
	for name, m := range levelBodies() {
		for _, dir := range levelDirections {
			l, err := m.Levels(dir)
			if err != nil {
				t.Fatal(err)
			}
			lowest, highest := l.Range()
			whole := measureExactly(m, l.dir, highest+1).below
			_, area, _ := wholes(m)
			for _, share := range shares {
				h := lowest + share*(highest-lowest)
				got, want := l.At(h), measureExactly(m, l.dir, h)
				where := fmt.Sprintf("%s along %v at share %g", name, dir, share)
				checkPart(t, where+", below", got.VolumeBelowMM3, want.below)
				checkPart(t, where+", above", got.VolumeAboveMM3, bigGap(whole, want.below))
				wantArea, _ := want.area.Float64()
				if math.Abs(got.SectionAreaMM2-wantArea) > 1e-12*area {
					t.Errorf("%s: area %.17g, exact %.17g", where, got.SectionAreaMM2, wantArea)
				}
				if math.Abs(got.LineMM-want.lineMM) > 1e-11*want.lineMM {
					t.Errorf("%s: line %.17g, exact %.17g", where, got.LineMM, want.lineMM)
				}
			}
		}
	}
}

// checkPart fails when a volume is further off than 1e-12 of itself.
func checkPart(t *testing.T, where string, got float64, want *big.Float) {
	t.Helper()
	off, _ := bigGap(wide(got), want).Float64()
	exact, _ := want.Float64()
	if math.Abs(off) > 1e-12*math.Abs(exact) {
		t.Errorf("%s: volume %.17g, exact %.17g, off by %.2g of it", where, got, exact, off/exact)
	}
}

// The same far from the origin, where a float64 height is coarser: there the
// volume must be that at the given height, not at one near it.
func TestLevelsFarFromTheOrigin(t *testing.T) {
	far := r3.Vector{X: 1e5, Y: -7e4, Z: 3e4}
	c := solids.Torus(10, 3, 24, 12)
	for i, p := range c {
		q := p.Add(far)
		c[i] = r3.Vector{X: float64(float32(q.X)), Y: float64(float32(q.Y)), Z: float64(float32(q.Z))}
	}
	m := New(c)
	for _, dir := range levelDirections {
		l, err := m.Levels(dir)
		if err != nil {
			t.Fatal(err)
		}
		lowest, highest := l.Range()
		for _, share := range []float64{0.01, 0.3, 0.7} {
			h := lowest + share*(highest-lowest)
			want := measureExactly(m, l.dir, h)
			checkPart(t, fmt.Sprintf("along %v at %g", dir, share), l.At(h).VolumeBelowMM3, want.below)
		}
	}
}

// Planes through vertices: exact clipping takes corners in the plane as they are.
// Far from a face in the plane the volume is as good as elsewhere.
func TestLevelsThroughVertices(t *testing.T) {
	for name, m := range levelBodies() {
		volume, area, _ := wholes(m)
		for _, dir := range levelDirections[:2] {
			l, err := m.Levels(dir)
			if err != nil {
				t.Fatal(err)
			}
			for v := 0; v < len(m.Vertices); v += 1 + len(m.Vertices)/12 {
				h := l.dir.Dot(m.Vertices[v])
				got, want := l.At(h), measureExactly(m, l.dir, h)
				below, _ := want.below.Float64()
				section, _ := want.area.Float64()
				if math.Abs(got.VolumeBelowMM3-below) > 1e-14*volume {
					t.Errorf("%s along %v through vertex %d: volume %.17g, exact %.17g", name, dir, v, got.VolumeBelowMM3, below)
				}
				if math.Abs(got.SectionAreaMM2-section) > 1e-13*area {
					t.Errorf("%s along %v through vertex %d: area %.17g, exact %.17g", name, dir, v, got.SectionAreaMM2, section)
				}
			}
		}
	}
}

// A plane in a face belongs to neither side's inside: the section is what the
// bodies right below and right above have in common. The spool's disc is the
// regular polygon of radius 3, its core that of radius 1.
func TestLevelsInFaces(t *testing.T) {
	const n = 17
	polygon := func(r float64) (area, perimeter float64) {
		return n * r * r * math.Sin(2*math.Pi/n) / 2, 2 * n * r * math.Sin(math.Pi/n)
	}
	disc, _ := polygon(3)
	core, coreLine := polygon(1)
	l, err := New(solids.Lathe(solids.SpoolProfile(), n)).Levels(r3.Vector{Z: 1})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ h, below, area, line float64 }{
		{0, 0, 0, 0},
		{1, disc, core, coreLine},
		{3, disc + 2*core, core, coreLine},
		{4, 2*disc + 2*core, 0, 0},
	} {
		got := l.At(c.h)
		want := Level{c.below, 2*disc + 2*core - c.below, c.area, c.line}
		for i, pair := range [4][2]float64{
			{got.VolumeBelowMM3, want.VolumeBelowMM3}, {got.VolumeAboveMM3, want.VolumeAboveMM3},
			{got.SectionAreaMM2, want.SectionAreaMM2}, {got.LineMM, want.LineMM},
		} {
			if math.Abs(pair[0]-pair[1]) > 1e-13*disc {
				t.Errorf("h %g, result %d: %.17g, want %.17g", c.h, i, pair[0], pair[1])
			}
		}
	}
}

// The length of the outline through rows of vertices, where no facet crosses
// the plane: the middle row of a sphere of n sectors is a regular n-gon.
func TestLevelsLineAlongEdges(t *testing.T) {
	const n = 24
	l, err := New(solids.Torus(10, 3, n, 12)).Levels(r3.Vector{Z: 1})
	if err != nil {
		t.Fatal(err)
	}
	// Bands of 30 degrees from the bottom: the fourth row is the equator, at
	// radii 13 and 7. Its height is the float64 that the profile got.
	m := l.mesh
	h := math.Inf(1)
	for _, p := range m.Vertices {
		if math.Abs(p.Z) < math.Abs(h) {
			h = p.Z
		}
	}
	var on int
	for _, p := range m.Vertices {
		if p.Z == h {
			on++
		}
	}
	want := 2 * n * 13 * math.Sin(math.Pi/n)
	if on > n {
		want += 2 * n * 7 * math.Sin(math.Pi/n)
		if got := l.At(h).LineMM; math.Abs(got-want) > 1e-12*want {
			t.Errorf("line %.17g, want %.17g", got, want)
		}
		return
	}
	// The inner row stands an ulp off; there facets cross as usual.
	want += 2 * n * 7 * math.Sin(math.Pi/n)
	if got := l.At(h).LineMM; math.Abs(got-want) > 1e-9*want {
		t.Errorf("line %.17g, want %.17g", got, want)
	}
}

func TestLevelsOutsideTheRange(t *testing.T) {
	m := New(solids.Box(r3.Vector{}, r3.Vector{X: 2, Y: 3, Z: 4}))
	l, err := m.Levels(r3.Vector{Z: 5})
	if err != nil {
		t.Fatal(err)
	}
	if lowest, highest := l.Range(); lowest != 0 || highest != 4 {
		t.Errorf("range %g to %g, want 0 to 4", lowest, highest)
	}
	for h, want := range map[float64]Level{
		-1:    {VolumeAboveMM3: 24},
		4.5:   {VolumeBelowMM3: 24},
		-1e99: {VolumeAboveMM3: 24},
		1e99:  {VolumeBelowMM3: 24},
		1:     {VolumeBelowMM3: 6, VolumeAboveMM3: 18, SectionAreaMM2: 6, LineMM: 10},
	} {
		if got := l.At(h); !closeLevels(got, want, 1e-14) {
			t.Errorf("at %g: %+v, want %+v", h, got, want)
		}
	}
	for _, h := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if got := l.At(h); !math.IsNaN(got.VolumeBelowMM3) || !math.IsNaN(got.SectionAreaMM2) {
			t.Errorf("at %g: %+v, want NaN", h, got)
		}
	}
}

// closeLevels compares all results at one relative tolerance.
func closeLevels(a, b Level, tolerance float64) bool {
	size := max(math.Abs(a.VolumeBelowMM3)+math.Abs(a.VolumeAboveMM3), math.SmallestNonzeroFloat64)
	near := func(x, y, scale float64) bool { return math.Abs(x-y) <= tolerance*scale }
	return near(a.VolumeBelowMM3, b.VolumeBelowMM3, size) &&
		near(a.VolumeAboveMM3, b.VolumeAboveMM3, size) &&
		near(a.SectionAreaMM2, b.SectionAreaMM2, max(math.Abs(a.SectionAreaMM2), math.Abs(b.SectionAreaMM2))) &&
		near(a.LineMM, b.LineMM, max(a.LineMM, b.LineMM))
}

func TestLevelsRefusals(t *testing.T) {
	box := solids.Box(r3.Vector{}, r3.Vector{X: 1, Y: 1, Z: 1})
	turned := append([]r3.Vector{}, box...)
	turned[0], turned[1] = turned[1], turned[0]
	for _, c := range []struct {
		name string
		m    *Mesh
		dir  r3.Vector
		want error
	}{
		{"open", New(box[3:]), r3.Vector{Z: 1}, ErrNotClosed},
		{"one facet turned over", New(turned), r3.Vector{Z: 1}, ErrNotClosed},
		{"a facet twice", New(append(box, box[:3]...)), r3.Vector{Z: 1}, ErrNotClosed},
		{"no direction", New(box), r3.Vector{}, ErrDirection},
		{"not a number", New(box), r3.Vector{X: math.NaN(), Z: 1}, ErrDirection},
		{"infinite", New(box), r3.Vector{X: math.Inf(1)}, ErrDirection},
	} {
		if _, err := c.m.Levels(c.dir); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", c.name, err, c.want)
		}
	}
}

func TestLevelsOfNothing(t *testing.T) {
	l, err := (&Mesh{}).Levels(r3.Vector{X: 1})
	if err != nil {
		t.Fatal(err)
	}
	if got := l.At(0); got != (Level{}) {
		t.Errorf("%+v of an empty mesh", got)
	}
	if h, err := l.HeightFor(0); h != 0 || err != nil {
		t.Errorf("height %g, %v of an empty mesh", h, err)
	}
}

// Directions much shorter or longer than 1 mean the same.
func TestLevelsDirectionLength(t *testing.T) {
	m := New(solids.Icosphere(5, 2))
	want, err := m.Levels(r3.Vector{X: 1, Y: 2, Z: 3})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range []float64{0x1p-300, 0x1p300} {
		l, err := m.Levels(r3.Vector{X: 1 * f, Y: 2 * f, Z: 3 * f})
		if err != nil {
			t.Fatal(err)
		}
		if got, want := l.At(1.25), want.At(1.25); got != want {
			t.Errorf("times %g: %+v, want %+v", f, got, want)
		}
	}
}

func TestLevelsSameOnAnyNumberOfThreads(t *testing.T) {
	m := New(solids.Torus(10, 3, 300, 100))
	before := runtime.GOMAXPROCS(0)
	defer runtime.GOMAXPROCS(before)
	var want *Levels
	for _, threads := range []int{1, 2, 3, 8} {
		runtime.GOMAXPROCS(threads)
		l, err := m.Levels(r3.Vector{X: 1, Y: 2, Z: 3})
		if err != nil {
			t.Fatal(err)
		}
		if want == nil {
			want = l
		}
		if !reflect.DeepEqual(l, want) {
			t.Errorf("%d threads build other levels than one", threads)
		}
	}
}

// Turning a body over swaps below and above; turning body and direction
// together changes nothing; sections are never negative.
func TestLevelsProperties(t *testing.T) {
	bodies := levelBodies()
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom([]string{"box", "tetrahedron", "icosphere", "torus", "capsule", "hoof", "spool"}).Draw(t, "body")
		m := bodies[name]
		part := rapid.Float64Range(-1, 1)
		dir := r3.Vector{X: part.Draw(t, "x"), Y: part.Draw(t, "y"), Z: part.Draw(t, "z")}
		if dir.Norm() < 0.01 {
			t.Skip("no direction")
		}
		l, err := m.Levels(dir)
		if err != nil {
			t.Fatal(err)
		}
		over, err := m.Levels(dir.Mul(-1))
		if err != nil {
			t.Fatal(err)
		}
		lowest, highest := l.Range()
		h := lowest + rapid.Float64Range(0, 1).Draw(t, "share")*(highest-lowest)
		got, swapped := l.At(h), over.At(-h)
		whole := l.VolumeMM3()
		swapped.VolumeBelowMM3, swapped.VolumeAboveMM3 = swapped.VolumeAboveMM3, swapped.VolumeBelowMM3
		if math.Abs(got.VolumeBelowMM3-swapped.VolumeBelowMM3) > 1e-13*whole {
			t.Fatalf("%s at %g: %+v, turned over %+v", name, h, got, swapped)
		}
		if math.Abs(got.VolumeBelowMM3+got.VolumeAboveMM3-whole) > 1e-13*whole {
			t.Fatalf("%s at %g: %g and %g do not make %g", name, h, got.VolumeBelowMM3, got.VolumeAboveMM3, whole)
		}
		if got.SectionAreaMM2 < -1e-12*math.Pow(highest-lowest, 2) || got.LineMM < 0 {
			t.Fatalf("%s at %g: %+v", name, h, got)
		}
		next := h + 1e-3*(highest-lowest)
		if l.At(next).VolumeBelowMM3 < got.VolumeBelowMM3-1e-13*whole {
			t.Fatalf("%s: the volume below falls between %g and %g", name, h, next)
		}
	})
}

// Here the highest vertex and one next to it differ by 8e-15 mm, more than the
// doubt but as much as its bound after rounding. The line had a length of
// -2.8e-12 mm.
func TestLevelsNeighbourOfTheTop(t *testing.T) {
	l, err := levelBodies()["icosphere"].Levels(r3.Vector{X: 0.5, Y: 3.1086244689504383e-15, Z: 0.445404052734375})
	if err != nil {
		t.Fatal(err)
	}
	_, highest := l.Range()
	if got := l.At(highest); got.LineMM != 0 {
		t.Errorf("the line at the top is %g mm long, want 0", got.LineMM)
	}
}
