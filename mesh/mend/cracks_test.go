package mend

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"bellyline/mesh"
	"bellyline/mesh/solids"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// jittered moves the corners of the facets above z = 0 that lie on z = 0, each by
// up to reach along each axis: a seam that does not quite meet.
func jittered(corners []r3.Vector, reach float64, rng *rand.Rand) []r3.Vector {
	out := append([]r3.Vector(nil), corners...)
	moved := map[r3.Vector]r3.Vector{}
	for f := 0; f < len(corners); f += 3 {
		if corners[f].Z+corners[f+1].Z+corners[f+2].Z <= 1e-9 {
			continue
		}
		for k := range 3 {
			p := corners[f+k]
			if math.Abs(p.Z) > 1e-12 {
				continue
			}
			if _, seen := moved[p]; !seen {
				shift := func() float64 { return reach * (2*rng.Float64() - 1) }
				moved[p] = p.Add(r3.Vector{X: shift(), Y: shift(), Z: shift()})
			}
			out[f+k] = moved[p]
		}
	}
	return out
}

// A body open along its waist by less than the tolerance is welded there. Its
// volume is then within the stated bound of the undamaged body's.
func TestMendWeldsASeam(t *testing.T) {
	body := solids.Torus(20, 6, 40, 20) // a ring of vertices at z = 0 inside and outside
	want := mesh.New(body).Moments().VolumeMM3
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		reach := math.Pow(10, rapid.Float64Range(-9, -2).Draw(t, "log reach"))
		m := mesh.New(jittered(body, reach, rng))
		// The farthest two corners can be apart is sqrt(3) times the reach.
		tolerance := 2 * reach
		got, mends, err := Surface(context.Background(), m, Options{Allow: true, ToleranceMM: tolerance})
		if err != nil {
			t.Fatal(err)
		}
		if kindsOf(mends) != "crack 80" { // 40 corners on each of the two seams
			t.Fatal(kindsOf(mends))
		}
		off := math.Abs(got.Moments().VolumeMM3 - want)
		if off > openOf(mends) {
			t.Fatalf("off by %g, bound %g", off, openOf(mends))
		}
		// The bound is no wild guess: both seams' facets, 320 mm^2 or so each side of
		// the two seams, swept by the width.
		if limit := 4 * 2 * 400 * 2 * reach; openOf(mends) > limit {
			t.Fatalf("bound %g for a reach of %g, not even %g is possible", openOf(mends), reach, limit)
		}
	})
}

// What the file's own rounding can do is done without asking, more is not.
func TestMendAsksFromTheSizeOfRoundingOn(t *testing.T) {
	body := solids.Torus(20, 6, 40, 20)
	rng := rand.New(rand.NewPCG(1, 2))
	moments := mesh.New(body).Moments()
	for _, test := range []struct {
		reach float64
		asks  bool
	}{{2e-7, false}, {1e-4, true}} {
		m := mesh.New(jittered(body, test.reach, rng))
		_, mends, err := Surface(context.Background(), m, Options{})
		if errors.Is(err, ErrNeeded) != test.asks || err != nil && !test.asks {
			t.Errorf("reach %g: %v", test.reach, err)
		}
		if len(mends) != 1 || (mends[0].VolumeMM3 > moments.StepMM3) != test.asks || mends[0].MayChangeVolume != test.asks {
			t.Errorf("reach %g: %+v, a step is worth %g mm3", test.reach, mends, moments.StepMM3)
		}
	}
}

// A seam that gapes wider than the tolerance is no crack, and no hole either that
// a flat or a small cap would close.
func TestMendRefusesAWideSeam(t *testing.T) {
	body := solids.Torus(20, 6, 40, 20)
	m := mesh.New(jittered(body, 0.1, rand.New(rand.NewPCG(3, 4))))
	got, mends, err := Surface(context.Background(), m, Options{Allow: true})
	if !errors.Is(err, ErrBeyond) || got != nil || mends != nil || !strings.Contains(err.Error(), "neither flat within") {
		t.Errorf("%v, %v", kindsOf(mends), err)
	}
}

// Cracks are closed along open edges only: in a closed body corners may be as near
// as they like, and of two bodies that nearly touch neither changes.
func TestMendLeavesCloseCornersElsewhere(t *testing.T) {
	near := solids.Move(solids.Cube(0, 10), r3.Vector{X: 10 + 1e-6})
	whole := mesh.New(solids.Join(solids.Cube(0, 10), near))
	if got, mends, err := Surface(context.Background(), whole, Options{Allow: true}); got != whole || len(mends) > 0 || err != nil {
		t.Errorf("closed: %v, %v", kindsOf(mends), err)
	}
	// One facet missing from each, on the sides that face each other: only two holes.
	open := mesh.New(solids.Join(without(solids.Cube(0, 10), 10), without(near, 8)))
	got, mends, err := Surface(context.Background(), open, Options{Allow: true})
	if err != nil {
		t.Fatal(err)
	}
	if kindsOf(mends) != "hole 2" || got.Check().Shells != 2 {
		t.Errorf("%s, %s", kindsOf(mends), problemsOf(got.Check()))
	}
}

// T-joints that do not lie quite on the edge: within the tolerance they are
// closed, and the volume is within the bound.
func TestMendTJointsOffTheEdge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		box := solids.Cube(0, 10)
		a, b, c := box[0], box[1], box[2]
		n := rapid.IntRange(2, 12).Draw(t, "parts")
		off := math.Pow(10, rapid.Float64Range(-9, -3).Draw(t, "log off"))
		parts := cutSide(a, b, c, n)
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		moved := map[r3.Vector]r3.Vector{a: a, b: b, c: c}
		for i, p := range parts {
			if _, seen := moved[p]; !seen {
				shift := func() float64 { return off * (2*rng.Float64() - 1) }
				moved[p] = p.Add(r3.Vector{X: shift(), Y: shift(), Z: shift()})
			}
			parts[i] = moved[p]
		}
		m := mesh.New(solids.Join(parts, box[3:]))
		got, mends, err := Surface(context.Background(), m, Options{Allow: true, ToleranceMM: 2 * off})
		if err != nil {
			t.Fatal(err)
		}
		if len(mends) != 1 || mends[0].Kind != TJoint || mends[0].Count != n-1 {
			t.Fatal(kindsOf(mends))
		}
		if d := math.Abs(got.Moments().VolumeMM3 - 1000); d > openOf(mends)+1e-12*1000 {
			t.Fatalf("off by %g, bound %g", d, openOf(mends))
		}
	})
}

// Two sides of a seam cut at different places: each side's corners are put into
// the other's edges.
func TestMendASeamCutDifferently(t *testing.T) {
	for _, n := range [][2]int{{3, 5}, {1, 9}, {7, 7}, {4, 6}, {12, 5}} {
		// A tetrahedron with the edge from a to b cut into n[0] and n[1] parts.
		a, b, c, d := r3.Vector{}, r3.Vector{X: 9}, r3.Vector{Y: 7}, r3.Vector{Z: 5}
		m := mesh.New(solids.Join(cutSide(b, a, c, n[0]), cutSide(a, b, d, n[1]), []r3.Vector{b, c, d, c, a, d}))
		got, mends, err := Surface(context.Background(), m, Options{})
		if err != nil {
			t.Fatalf("%v: %v", n, err)
		}
		if v := got.Moments().VolumeMM3; math.Abs(v-52.5) > 1e-12*52.5 { // 9 * 7 * 5 / 6
			t.Errorf("%v: volume %.15g", n, v)
		}
		for _, mend := range mends {
			if mend.Kind != TJoint && mend.Kind != Crack || mend.MayChangeVolume {
				t.Errorf("%v: %+v", n, mend)
			}
		}
	}
}

// A file keeps float32, so after a turn a corner that was drawn on an edge lies
// beside it, by a step or so. That is mended without asking: it is what rounding
// does. Turned, rounded bodies with seams cut differently on their two sides.
func TestMendTJointsRoundedToFloat32(t *testing.T) {
	a, b, c, d := r3.Vector{}, r3.Vector{X: 90}, r3.Vector{Y: 70}, r3.Vector{Z: 50}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.SliceOfN(rapid.IntRange(1, 9), 2, 2).Draw(t, "parts")
		seed := rapid.Uint64().Draw(t, "turn")
		corners := solids.Join(cutSide(b, a, c, n[0]), cutSide(a, b, d, n[1]), []r3.Vector{b, c, d, c, a, d})
		m := mesh.New(solids.Float32(solids.Turn(corners, solids.RotationOf(seed))))
		got, mends, err := Surface(context.Background(), m, Options{})
		if err != nil {
			t.Fatal(err)
		}
		checkMended(t, m, got, mends)
		// 90 * 70 * 50 / 6; every corner is off by half a step along each axis, and the
		// mends may do as much again.
		moments := got.Moments()
		if off := math.Abs(moments.VolumeMM3 - 52500); off > 2*math.Sqrt(3)*moments.StepMM3 {
			t.Fatalf("off by %g, a step is worth %g", off, moments.StepMM3)
		}
	})
}
