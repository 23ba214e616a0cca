package cool

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"runtime"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"bellyline/mesh"
)

func newBody(t interface {
	Helper()
	Fatal(...any)
}, m *mesh.Mesh, overlaps bool) *Body {
	t.Helper()
	b, err := NewBody(context.Background(), m, overlaps)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func scaled(m *mesh.Mesh, by float64) *mesh.Mesh {
	out := &mesh.Mesh{Triangles: m.Triangles}
	for _, p := range m.Vertices {
		out.Vertices = append(out.Vertices, p.Mul(by))
	}
	return out
}

// A bait twice as large takes four times as long, and twice the diffusivity halves
// it. Powers of two scale every number of a grid to the last bit.
func TestTimeGoesWithTheSquareOfSize(t *testing.T) {
	t.Parallel()
	model := capsule(4, 12, 16)
	cells := map[float64]*cellSet{}
	for _, size := range []float64{0.25, 0.5, 1, 2, 8} {
		b := newBody(t, scaled(model, size), false)
		var err error
		if cells[size], err = b.layCells(context.Background(), size*4/4.5, b.middle); err != nil {
			t.Fatal(err)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.SampledFrom([]float64{0.25, 0.5, 2, 8}).Draw(t, "size")
		melt, mold := rapid.Float64Range(140, 200).Draw(t, "melt"), rapid.Float64Range(0, 40).Draw(t, "mold")
		diffusivity, contact := rapid.Float64Range(0.05, 0.5).Draw(t, "diffusivity"), rapid.Float64Range(0, 1).Draw(t, "contact")
		time := func(size, diffusivity float64) float64 {
			g := cells[size].grid(contact * size)
			s, err := g.coolShot(context.Background(), setting{meltC: melt, openC: 70, diffusivity: diffusivity}, newWall(mold, nil, g))
			if err != nil {
				t.Fatal(err)
			}
			return s.time
		}
		one, two, quick := time(1, diffusivity), time(size, diffusivity), time(size, 2*diffusivity)
		if want := one * size * size; math.Abs(two/want-1) > 1e-9 {
			t.Errorf("%g times as large: %g s, want %g s", size, two, want)
		}
		if math.Abs(quick*2/two-1) > 1e-9 {
			t.Errorf("twice the diffusivity: %g s, not half of %g s", quick, two)
		}
	})
}

// A grid of the default pitch is as much finer as a bait is smaller.
func TestDefaultGridGoesWithSize(t *testing.T) {
	t.Parallel()
	var times []float64
	for _, size := range []float64{0.5, 1} {
		r, err := newBody(t, scaled(capsule(4, 2, 16), size), false).Cool(context.Background(), Ask{MeltC: 170, MoldC: 30, OpenC: 60, ContactMM: 0.1 * size})
		if err != nil {
			t.Fatal(err)
		}
		times = append(times, *r.TimeS)
	}
	if math.Abs(times[1]/times[0]-4) > 1e-9 {
		t.Errorf("twice as large: %g s, want four times %g s", times[1], times[0])
	}
}

// Heat stays where no wall takes it, to rounding, whatever the temperatures.
func TestHeatIsConservedWithAnInsulatedWall(t *testing.T) {
	g, err := newBody(t, turned(capsule(3, 9, 24), 0.5), false).NewGrid(context.Background(), 0.3, math.Inf(1))
	if err != nil {
		t.Fatal(err)
	}
	f := newField(g, 170, 40)
	rng := rand.New(rand.NewPCG(1, 2))
	for u := range f.now {
		f.now[u] = 40 + 130*rng.Float64()
	}
	before := f.heat(0)
	for range 400 {
		f.advance(1, 40)
	}
	for _, steps := range []int{8, 45, 300} {
		f.advance(steps, 40)
	}
	if after := f.heat(0); math.Abs(after/before-1) > 1e-12 {
		t.Errorf("heat went from %.15g to %.15g", before, after)
	}
}

// No temperature leaves the range between melt and mold, and none ever rises.
func TestTemperaturesStayBetweenMeltAndMold(t *testing.T) {
	for _, contact := range []float64{0, 0.05, 3} {
		g, err := newBody(t, turned(box(3, 4, 9), 0.6), false).NewGrid(context.Background(), 0.31, contact)
		if err != nil {
			t.Fatal(err)
		}
		f := newField(g, 170, 40)
		for range 200 {
			f.advance(1, 40)
			for u, c := range f.now {
				if c < 40-1e-9 || c > 170+1e-9 || c > f.spare[0][u]+1e-9 {
					t.Fatalf("contact %g: a node went from %g to %g", contact, f.spare[0][u], c)
				}
			}
		}
	}
}

func TestResultDoesNotHangOnThreads(t *testing.T) {
	g, err := newBody(t, turned(capsule(5, 30, 24), 0.2), false).NewGrid(context.Background(), 0.4, 0.02)
	if err != nil {
		t.Fatal(err)
	}
	if len(g.plan.blocks) < 4 {
		t.Fatalf("%d cells are stepped on one thread anyway", g.Cells())
	}
	run := func(threads int) []float64 {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(threads))
		f := newField(g, 170, 40)
		for _, n := range []int{1, 3, 20, 8, 50} {
			f.advance(n, 40)
		}
		return append(f.now, f.heat(40))
	}
	one, three := run(1), run(3)
	if diff := cmp.Diff(one, three); diff != "" {
		t.Error(diff)
	}
}

// The middle of the thickest place is on the axis of the capsule, its ball the ball
// of its ends; corners stick out by 1/cos(pi/n) of the ball inside.
func TestThickest(t *testing.T) {
	m := capsule(5, 20, 32)
	inside := 10 * math.Cos(math.Pi/32)
	mm, at := newBody(t, turned(m, 1), false).Thickest()
	if mm < inside*(1-1e-3) || mm > 10 {
		t.Errorf("thickest %g mm, want %g to 10", mm, inside)
	}
	straight := turned(&mesh.Mesh{Triangles: m.Triangles, Vertices: []r3.Vector{at}}, -1).Vertices[0]
	if off := math.Hypot(straight.Y, straight.Z); off > 0.2 || straight.X < -1 || straight.X > 21 {
		t.Errorf("thickest place at %v, want on the x axis between 0 and 20", straight)
	}
}

// Solids drawn into each other cool like the one body that they make.
func TestOverlappingSolidsAreOneBody(t *testing.T) {
	t.Parallel()
	left, right := box(8, 6, 6), box(8, 6, 6)
	both := &mesh.Mesh{Triangles: append([][3]int32{}, left.Triangles...), Vertices: append([]r3.Vector{}, left.Vertices...)}
	for _, p := range right.Vertices {
		both.Vertices = append(both.Vertices, p.Add(r3.Vector{X: 5}))
	}
	for _, tri := range right.Triangles {
		n := int32(len(left.Vertices))
		both.Triangles = append(both.Triangles, [3]int32{tri[0] + n, tri[1] + n, tri[2] + n})
	}
	a := Ask{MeltC: 170, MoldC: 30, OpenC: 60, GridMM: 0.4}
	got, err := newBody(t, both, true).Cool(context.Background(), a)
	if err != nil {
		t.Fatal(err)
	}
	want, err := newBody(t, box(13, 6, 6), false).Cool(context.Background(), a)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(*got.TimeS / *want.TimeS - 1) > 0.01 {
		t.Errorf("%g s, one box %g s", *got.TimeS, *want.TimeS)
	}
}

func TestRefusals(t *testing.T) {
	b := newBody(t, box(8, 8, 8), false)
	good := Ask{MeltC: 170, MoldC: 40, OpenC: 60, GridMM: 0.6}
	if _, err := b.Cool(context.Background(), good); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		change func(*Ask)
		want   error
	}{
		"mold as hot as opened":   {func(a *Ask) { a.MoldC = 60 }, ErrNever},
		"opened hotter than melt": {func(a *Ask) { a.OpenC = 180 }, ErrTemperature},
		"no temperature":          {func(a *Ask) { a.MeltC = math.NaN() }, ErrTemperature},
		"negative diffusivity":    {func(a *Ask) { a.DiffusivityMM2S = -1 }, ErrBody},
		"endless diffusivity":     {func(a *Ask) { a.DiffusivityMM2S = math.Inf(1) }, ErrBody},
		"insulated":               {func(a *Ask) { a.ContactMM = math.Inf(1) }, ErrBody},
		"grid too coarse":         {func(a *Ask) { a.GridMM = 3 }, ErrBody},
		"grid far too fine":       {func(a *Ask) { a.GridMM = 1e-4 }, ErrBody},
		"block without mass":      {func(a *Ask) { a.Block = &Block{HeatJPerGC: 1, BaitML: 1, PlasticJMLC: 1, Baits: 1} }, ErrBody},
		"opened next to the mold": {func(a *Ask) { a.OpenC = 40 + 1e-6 }, ErrTemperature},
		"opened after no time":    {func(a *Ask) { a.OpensAfterS = -3 }, ErrBody},
		"opened at once":          {func(a *Ask) { a.OpensAfterS = 1e-6 }, ErrBody},
		"opened after years":      {func(a *Ask) { a.OpensAfterS = 1e8 }, ErrBody},
		"shots that never end":    {func(a *Ask) { a.Shots = 1 << 30 }, ErrBody},
	} {
		a := good
		c.change(&a)
		if _, err := b.Cool(context.Background(), a); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", name, err, c.want)
		}
	}
	if _, err := NewBody(context.Background(), &mesh.Mesh{}, false); !errors.Is(err, ErrBody) {
		t.Errorf("empty model: %v", err)
	}
}
