package mesh

import (
	"errors"
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"bellyline/mesh/solids"
	"bellyline/mesh/vector"
)

// sideView is a fold in the x-z plane.
func sideView(t testing.TB, knots ...r2.Point) *Fold {
	t.Helper()
	f, err := NewFold(r3.Vector{X: 1}, r3.Vector{Z: 1}, knots)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func closeTo(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %.15g, want %.15g to %g", what, got, want, tolerance)
	}
}

// A roof over a box 10 x 4 x 6: the line rises from 1 at x = 2 to 4 at x = 5 and
// falls to 2 at x = 9. Under it lie trapezia: 2*1 + 3*(1+4)/2 + 4*(4+2)/2 + 1*2 =
// 23.5 mm2 times 4 mm. Its length is 2 + 3*sqrt(2) + 2*sqrt(5) + 1.
func TestFoldThroughABox(t *testing.T) {
	m := New(solids.Box(r3.Vector{}, r3.Vector{X: 10, Y: 4, Z: 6}))
	f := sideView(t, r2.Point{X: 2, Y: 1}, r2.Point{X: 5, Y: 4}, r2.Point{X: 9, Y: 2})
	length := 3 + 3*math.Sqrt2 + 2*math.Sqrt(5)
	cut, err := f.Flatten(m).Cut(0)
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "below", cut.BelowMM3, 94, 1e-12)
	closeTo(t, "above", cut.AboveMM3, 240-94, 1e-12)
	closeTo(t, "section", cut.SectionAreaMM2, 4*length, 1e-12)
	closeTo(t, "outline", cut.OutlineMM, 2*length+8, 1e-12)
	// Two sides of 23.5, floor, the end at x = 0 up to 1, that at x = 10 up to 2.
	closeTo(t, "outside below", cut.OutsideBelowMM2, 2*23.5+40+4*1+4*2, 1e-12)
	closeTo(t, "outside above", cut.OutsideAboveMM2, 2*(60-23.5)+40+4*5+4*4, 1e-12)
	if cut.Pieces != 1 {
		t.Errorf("%d pieces", cut.Pieces)
	}
	below, above, err := f.CutSolids(m, 0)
	if err != nil {
		t.Fatal(err)
	}
	for name, half := range map[string]struct {
		m            *Mesh
		volume, area float64
	}{
		"below": {below, 94, cut.OutsideBelowMM2 + cut.SectionAreaMM2},
		"above": {above, 146, cut.OutsideAboveMM2 + cut.SectionAreaMM2},
	} {
		if r := half.m.Check(); !r.Oriented {
			t.Errorf("%s: %+v", name, r.Problems)
		}
		moments := half.m.Moments()
		closeTo(t, name+" volume", moments.VolumeMM3, half.volume, 1e-12)
		closeTo(t, name+" area", moments.AreaMM2, half.area, 1e-12)
	}
}

// A fold of one tilted strip is a plane, for which Mesh.Cut is the second opinion;
// a level one moved up likewise.
func TestFoldOfOneStripIsAPlane(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := New(solids.Torus(10, 3, 24, 12))
		slope := rapid.Float64Range(-2, 2).Draw(t, "slope")
		h := rapid.Float64Range(-2.9, 2.9).Draw(t, "h")
		f, err := NewFold(r3.Vector{X: 1}, r3.Vector{Z: 1}, []r2.Point{{X: -20, Y: -20 * slope}, {X: 20, Y: 20 * slope}})
		if err != nil {
			t.Fatal(err)
		}
		got, err := f.Flatten(m).Cut(h)
		if err != nil {
			t.Fatal(err)
		}
		want, err := m.Cut(Plane{Normal: r3.Vector{X: -slope, Z: 1}, HeightMM: h})
		if err != nil {
			t.Fatal(err)
		}
		for what, pair := range map[string][2]float64{
			"below": {got.BelowMM3, want.Below.VolumeMM3}, "above": {got.AboveMM3, want.Above.VolumeMM3},
			"skin below": {got.OutsideBelowMM2, want.Below.OutsideMM2}, "skin above": {got.OutsideAboveMM2, want.Above.OutsideMM2},
			"section": {got.SectionAreaMM2, want.SectionAreaMM2}, "outline": {got.OutlineMM, want.OutlineMM},
		} {
			if !(math.Abs(pair[0]-pair[1]) <= 1e-9*max(1, math.Abs(pair[1]))) {
				t.Errorf("%s: %.15g, the plane says %.15g", what, pair[0], pair[1])
			}
		}
	})
}

// randomFold draws two to six knots about a body of the given half length.
func randomFold(t *rapid.T, along, up r3.Vector, half float64) *Fold {
	n := rapid.IntRange(2, 6).Draw(t, "knots")
	var knots []r2.Point
	x := -1.2 * half
	for range n {
		x += half * rapid.Float64Range(0.01, 0.8).Draw(t, "step")
		knots = append(knots, r2.Point{X: x, Y: rapid.Float64Range(-2, 2).Draw(t, "height")})
	}
	f, err := NewFold(along, up, knots)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Both parts add up to the whole, the solids are closed, hold what the numbers say
// and have a skin of what the numbers say, whatever the line and however it lies.
func TestFoldPartsAddUp(t *testing.T) {
	ring, egg := New(solids.Float32(solids.Torus(10, 3, 24, 12))), New(solids.Float32(solids.Ellipsoid(13, 6, 4, 20)))
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.SampledFrom([]*Mesh{ring, egg}).Draw(t, "body")
		frame := rapid.SampledFrom([][2]r3.Vector{{{X: 1}, {Z: 1}}, {{Y: -1}, {Z: 1}}, {{X: 1, Y: 2, Z: 0.5}, {X: -1, Z: 2}}}).Draw(t, "frame")
		f := randomFold(t, frame[0], frame[1], 13)
		h := rapid.Float64Range(-1, 1).Draw(t, "h")
		cut, err := f.Flatten(m).Cut(h)
		if err != nil {
			t.Fatal(err)
		}
		whole := m.Moments()
		if off := cut.BelowMM3 + cut.AboveMM3 - whole.VolumeMM3; !(math.Abs(off) <= 1e-12*whole.VolumeMM3) {
			t.Errorf("volumes are off by %g", off)
		}
		if off := cut.OutsideBelowMM2 + cut.OutsideAboveMM2 - whole.AreaMM2; !(math.Abs(off) <= 1e-11*whole.AreaMM2) {
			t.Errorf("skins are off by %g", off)
		}
		below, above, err := f.CutSolids(m, h)
		if err != nil {
			t.Fatal(err)
		}
		for i, half := range []*Mesh{below, above} {
			volume, skin := [2]float64{cut.BelowMM3, cut.AboveMM3}[i], [2]float64{cut.OutsideBelowMM2, cut.OutsideAboveMM2}[i]
			if r := half.Check(); !r.Oriented {
				t.Errorf("part %d is open: %+v", i, r.Problems)
			}
			got := half.Moments()
			if !(math.Abs(got.VolumeMM3-volume) <= 1e-10*whole.VolumeMM3) {
				t.Errorf("part %d holds %.15g, the numbers say %.15g", i, got.VolumeMM3, volume)
			}
			if want := skin + cut.SectionAreaMM2; !(math.Abs(got.AreaMM2-want) <= 1e-9*whole.AreaMM2) {
				t.Errorf("part %d has a skin of %.15g, the numbers say %.15g", i, got.AreaMM2, want)
			}
		}
	})
}

func TestFoldsThatAreNone(t *testing.T) {
	x, z := r3.Vector{X: 1}, r3.Vector{Z: 1}
	for name, c := range map[string]struct {
		along, up r3.Vector
		knots     []r2.Point
		want      error
	}{
		"no point":      {x, z, nil, ErrFold},
		"backwards":     {x, z, []r2.Point{{X: 1}, {X: 1}}, ErrFold},
		"not a number":  {x, z, []r2.Point{{X: math.NaN()}}, ErrFold},
		"one direction": {z, z, []r2.Point{{X: 1}}, ErrDirection},
		"no direction":  {x, r3.Vector{}, []r2.Point{{X: 1}}, ErrDirection},
	} {
		if _, err := NewFold(c.along, c.up, c.knots); !errors.Is(err, c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// HeightFor against Levels on turned bodies, tips and all.
func TestHeightForAgreesWithLevels(t *testing.T) {
	bodies := []*Mesh{New(solids.Torus(10, 3, 24, 12)), New(solids.Octahedron(6)), New(solids.Sphere(5, 32)),
		New(solids.Move(solids.Box(r3.Vector{}, r3.Vector{X: 1, Y: 2, Z: 3}), r3.Vector{X: 500, Y: -80}))}
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.SampledFrom(bodies).Draw(t, "body")
		dir, ok := vector.Unit(r3.Vector{X: rapid.Float64Range(-1, 1).Draw(t, "x"), Y: rapid.Float64Range(-1, 1).Draw(t, "y"), Z: 1})
		if !ok {
			t.Skip()
		}
		l, err := m.Levels(dir)
		if err != nil {
			t.Fatal(err)
		}
		volume := l.VolumeMM3() * rapid.Float64Range(0, 1).Draw(t, "share")
		h, err := m.HeightFor(dir, volume)
		if err != nil {
			t.Fatal(err)
		}
		if got := l.At(h).VolumeBelowMM3; !(math.Abs(got-volume) <= 1e-11*l.VolumeMM3()) {
			t.Errorf("%.15g mm3 below %.15g mm, want %.15g", got, h, volume)
		}
	})
	// A facet all but level, at a height where its share rounds to 0: an octahedron a
	// last bit off upright. That was NaN once, and half of the body for all of it.
	m := bodies[1]
	dir, _ := vector.Unit(r3.Vector{X: 0x1p-55, Y: 0x1p-54, Z: 1})
	if h, err := m.HeightFor(dir, m.Moments().VolumeMM3); err != nil || !(h > 4) {
		t.Errorf("all of an octahedron lies below %g mm (%v)", h, err)
	}
	for _, volume := range []float64{-1, 2 * m.Moments().VolumeMM3, math.NaN()} {
		if _, err := m.HeightFor(r3.Vector{Z: 1}, volume); !errors.Is(err, ErrNoSuchVolume) {
			t.Errorf("%g mm3: %v", volume, err)
		}
	}
}
