package mend

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"

	"bellyline/mesh"
	"bellyline/mesh/internal/near"
	"bellyline/mesh/solids"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// What needs no mending comes back itself: sound bodies, and such as only look
// damaged.
func TestMendLeavesAlone(t *testing.T) {
	box := solids.Cube(0, 10)
	a, b, c := box[0], box[1], box[2]
	for name, corners := range map[string][]r3.Vector{
		"box":           box,
		"torus":         solids.Torus(20, 6, 40, 20),
		"capsule":       solids.Capsule(3, 20, 24),
		"void":          solids.Join(box, solids.Flip(solids.Cube(3, 2))),
		"sharing edge":  solids.Join(box, solids.Move(box, r3.Vector{X: 10, Y: 10})),
		"overlapping":   solids.Join(box, solids.Cube(5, 10)),
		"sliver bridge": solids.Join(box[3:], solids.Split(a, b, c), []r3.Vector{a, b, solids.Middle(a, b)}),
		// Every facet is a duplicate, but the shell closed by the copies fills what it
		// filled before.
		"drawn twice":      solids.Join(box, box),
		"a body in a void": solids.Join(box, solids.Flip(solids.Cube(1, 7)), solids.Cube(2, 2)),
	} {
		m := mesh.New(corners)
		for _, allow := range []bool{false, true} {
			got, mends, err := Surface(context.Background(), m, Options{Allow: allow})
			if got != m || len(mends) > 0 || err != nil {
				t.Errorf("%s: %v %v", name, kindsOf(mends), err)
			}
		}
	}
}

// What cannot be mended is refused with the reason and the place.
func TestMendRefuses(t *testing.T) {
	box := solids.Cube(0, 10)
	sphere := solids.Turn(solids.Sphere(10, 24), solids.RotationOf(5))
	bowl := facetsWhere(sphere, func(p r3.Vector) bool { return p.X+0.3*p.Z > 1 })
	cone := solids.Lathe(coneProfile(5, 10, 8), 24)
	upper := facetsWhere(cone, func(p r3.Vector) bool { return p.Z > 1 })
	for name, test := range map[string]struct {
		corners []r3.Vector
		want    string
	}{
		"Möbius band":            {solids.Moebius(), "with one side only"},
		"crooked hole":           {without(sphere, bowl...), "neither flat within"},
		"one facet":              {box[:3], "no facet is left"},
		"only a sheet":           {box[:6], "no facet is left"},
		"nothing but degenerate": {[]r3.Vector{box[0], box[0], box[1]}, "no facet is left"},
		// A flat cap would do, but the facets round it rise to a tip many times what is
		// there.
		"the foot of a cone": {without(cone, upper...), "what is missing could be worth"},
		"Klein bottle":       {kleinBottle(12, 8), "with one side only"},
	} {
		m := mesh.New(test.corners)
		got, mends, err := Surface(context.Background(), m, Options{Allow: true})
		if !errors.Is(err, ErrBeyond) || got != nil || mends != nil {
			t.Errorf("%s: %v, %v", name, kindsOf(mends), err)
		} else if !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: %v, want %q", name, err, test.want)
		}
	}
}

// kleinBottle is a closed surface with one side only, in the usual figure of 8
// immersion, of n by k cells.
func kleinBottle(n, k int) []r3.Vector {
	at := func(i, j int) r3.Vector {
		if i == n { // a half turn on
			i, j = 0, k-j
		}
		u, v := 2*math.Pi*float64(i)/float64(n), 2*math.Pi*float64(j%k)/float64(k)
		s := 4 + math.Cos(u/2)*math.Sin(v) - math.Sin(u/2)*math.Sin(2*v)
		return r3.Vector{X: s * math.Cos(u), Y: s * math.Sin(u), Z: math.Sin(u/2)*math.Sin(v) + math.Cos(u/2)*math.Sin(2*v)}
	}
	var c []r3.Vector
	for i := range n {
		for j := range k {
			c = append(c, at(i, j), at(i+1, j), at(i+1, j+1), at(i, j), at(i+1, j+1), at(i, j+1))
		}
	}
	return c
}

func TestMendOptionsThatAreNoLengths(t *testing.T) {
	m := mesh.New(solids.Cube(0, 10)[3:])
	for _, opts := range []Options{{ToleranceMM: -1}, {ToleranceMM: math.NaN()}, {HoleMM: math.Inf(1)}, {HoleMM: -1}} {
		if got, _, err := Surface(context.Background(), m, opts); err == nil || got != nil || errors.Is(err, ErrBeyond) {
			t.Errorf("%+v: %v", opts, err)
		}
	}
}

// The largest hole that is closed though it is not flat is the caller's to say.
func TestMendHoleSize(t *testing.T) {
	torus := solids.Torus(20, 6, 96, 48)
	open := mesh.New(without(torus, 24*96, 24*96+1, 24*96+2, 24*96+3))
	across := open.Bounds() // only to have the size at hand
	for _, test := range []struct {
		hole float64
		ok   bool
	}{{0, true}, {0.1, false}, {across.Diagonal(), true}} {
		_, mends, err := Surface(context.Background(), open, Options{Allow: true, HoleMM: test.hole})
		if (err == nil) != test.ok || test.ok && kindsOf(mends) != "hole 1" {
			t.Errorf("%g mm: %s, %v", test.hole, kindsOf(mends), err)
		}
	}
}

func TestMendStopsWithItsContext(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	m := mesh.New(solids.Torus(20, 6, 60, 30)[3:])
	got, mends, err := Surface(ctx, m, Options{Allow: true})
	if !errors.Is(err, context.Canceled) || got != nil || mends != nil {
		t.Errorf("%v %v", mends, err)
	}
}

// Bodies that share an edge are turned each by itself.
func TestMendBodiesThatShareAnEdge(t *testing.T) {
	box := solids.Cube(0, 10)
	beside := solids.Move(box, r3.Vector{X: 10, Y: 10})
	for name, test := range map[string]struct {
		corners []r3.Vector
		want    string
	}{
		"a facet flipped":        {solids.Join(flipped(box, 3), beside), "flipped_facet 1"},
		"facets flipped in both": {solids.Join(flipped(box, 3, 4), flipped(beside, 0)), "flipped_facet 3"},
		"at the edge":            {solids.Join(flipped(box, 7, 10, 11), beside), "flipped_facet 3"},
		"one inside out, a facet of the other flipped": {solids.Join(solids.Flip(box), flipped(beside, 2)),
			"flipped_facet 1, inside_out_shell 1"},
		"a facet missing": {solids.Join(box[3:], beside), "hole 1"},
	} {
		m := mesh.New(test.corners)
		got, mends, err := Surface(context.Background(), m, Options{Allow: true})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if kindsOf(mends) != test.want {
			t.Errorf("%s: %s, want %s", name, kindsOf(mends), test.want)
		}
		checkMended(t, m, got, mends)
		if v := got.Moments().VolumeMM3; math.Abs(v-2000) > 1e-9 {
			t.Errorf("%s: volume %g", name, v)
		}
	}
}

// loftOf joins two closed chains of as many points by facets that face outward when
// the chains run counter-clockwise seen from the side of the second.
func loftOf(p, q []r3.Vector) []r3.Vector {
	var c []r3.Vector
	for i := range p {
		j := (i + 1) % len(p)
		c = append(c, p[i], p[j], q[j], p[i], q[j], q[i])
	}
	return c
}

func squareAt(x, z float64) []r3.Vector {
	return []r3.Vector{{X: -x, Y: -x, Z: z}, {X: x, Y: -x, Z: z}, {X: x, Y: x, Z: z}, {X: -x, Y: x, Z: z}}
}

// capOf is a square, facing up.
func capOf(q []r3.Vector) []r3.Vector {
	return []r3.Vector{q[0], q[1], q[2], q[0], q[2], q[3]}
}

// Two halves of a post meet along a square at which a collar ends too, so every edge
// of it has four facets and the halves share no edge of two. The collar balances
// there by itself, so the halves have to face one way.
func TestMendPatchesTiedAtEdgesOfFour(t *testing.T) {
	waist := squareAt(5, 0)
	lower := solids.Join(loftOf(squareAt(5, -10), waist), solids.Flip(capOf(squareAt(5, -10))))
	upper := solids.Join(loftOf(waist, squareAt(5, 12)), capOf(squareAt(5, 12)))
	collar := solids.Join(loftOf(waist, squareAt(8, -1)), loftOf(squareAt(8, -1), squareAt(8, 1)), loftOf(squareAt(8, 1), waist))
	post, ring := mesh.New(solids.Join(lower, upper)), mesh.New(collar)
	if !post.Check().Oriented || !ring.Check().Oriented || ring.Moments().VolumeMM3 < 0 || math.Abs(post.Moments().VolumeMM3-2200) > 1e-9 {
		t.Fatalf("drawn wrong: %s, %s", problemsOf(post.Check()), problemsOf(ring.Check()))
	}
	want := 2200 + ring.Moments().VolumeMM3
	for name, test := range map[string]struct {
		corners []r3.Vector
		mends   string
	}{
		"upper half turned": {solids.Join(lower, solids.Flip(upper), collar), "flipped_facet 10"},
		"lower half turned": {solids.Join(solids.Flip(lower), upper, collar), "flipped_facet 10"},
		"both, one mixed":   {solids.Join(solids.Flip(lower), flipped(upper, 0, 1), solids.Flip(collar)), "flipped_facet 12, inside_out_shell 1"},
	} {
		m := mesh.New(test.corners)
		got, mends, err := Surface(context.Background(), m, Options{Allow: true})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if kindsOf(mends) != test.mends {
			t.Errorf("%s: %s", name, kindsOf(mends))
		}
		checkMended(t, m, got, mends)
		near.Number(t, name, got.Moments().VolumeMM3, want, 1e-12)
	}
	// Without the rest of the collar its two skins end there as well, and three of
	// four patches run the edges one way: any of them might be the wrong one.
	lens := solids.Join(capOf(waist), solids.Flip(loftOf(waist, []r3.Vector{{Z: -1}, {Z: -1}, {Z: -1}, {Z: -1}})))
	m := mesh.New(solids.Join(lower, solids.Flip(upper), lens))
	if _, mends, err := Surface(context.Background(), m, Options{Allow: true}); !errors.Is(err, ErrBeyond) || !strings.Contains(err.Error(), "4 facets meet at the edge") {
		t.Errorf("%s, %v", kindsOf(mends), err)
	}
}

// Mends do not depend on the number of threads, nor on how the body lies.
func TestMendDoesNotDependOnThreads(t *testing.T) {
	body := solids.Torus(20, 6, 150, 60)
	broken := mesh.New(solids.Join(flipped(without(body, 100, 2000, 2001, 9000), 30, 31, 7000), body[300:330], body[:3], solids.Cube(40, 3)[3:]))
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	want, mends, err := Surface(context.Background(), broken, Options{Allow: true})
	if err != nil || len(mends) != 3 {
		t.Fatal(kindsOf(mends), err)
	}
	for _, n := range []int{2, 3, 8} {
		runtime.GOMAXPROCS(n)
		got, again, err := Surface(context.Background(), broken, Options{Allow: true})
		if err != nil || !reflect.DeepEqual(got, want) || !reflect.DeepEqual(again, mends) {
			t.Errorf("%d threads: %s, want %s (%v)", n, kindsOf(again), kindsOf(mends), err)
		}
	}
}

func TestMendTurnedAndShuffled(t *testing.T) {
	body := solids.Torus(20, 6, 30, 16)
	broken := solids.Join(flipped(without(body, 150, 400), 30, 31, 700), body[300:330], solids.Move(solids.Cube(0, 3), r3.Vector{X: 40})[3:])
	truth := mesh.New(solids.Join(body, solids.Move(solids.Cube(0, 3), r3.Vector{X: 40}))).Moments().VolumeMM3
	rapid.Check(t, func(t *rapid.T) {
		seed := rapid.Uint64().Draw(t, "seed")
		corners := solids.Shuffle(solids.Turn(broken, solids.RotationOf(seed)), rand.New(rand.NewPCG(seed, 1)))
		got, mends, err := Surface(context.Background(), mesh.New(corners), Options{Allow: true})
		if err != nil {
			t.Fatal(err)
		}
		if kindsOf(mends) != "duplicate_facet 10, hole 3, flipped_facet 3" {
			t.Fatal(kindsOf(mends))
		}
		if off := math.Abs(got.Moments().VolumeMM3 - truth); off > openOf(mends)+1e-10*truth {
			t.Fatalf("off by %g, bound %g", off, openOf(mends))
		}
	})
}

// Mending what was mended finds nothing more to do.
func TestMendTwiceIsOnce(t *testing.T) {
	for seed := range uint64(200) {
		rng := rand.New(rand.NewPCG(seed, 9))
		body := solids.Icosphere(5, 2)
		var gone, over []int
		for range 4 {
			gone, over = append(gone, rng.IntN(300)), append(over, rng.IntN(300))
		}
		slices.Sort(gone)
		m := mesh.New(without(flipped(body, slices.Compact(over)...), gone...))
		got, _, err := Surface(context.Background(), m, Options{Allow: true})
		if err != nil {
			continue
		}
		if again, mends, err := Surface(context.Background(), got, Options{}); again != got || len(mends) > 0 || err != nil {
			t.Fatalf("seed %d: %s %v", seed, kindsOf(mends), err)
		}
	}
}
