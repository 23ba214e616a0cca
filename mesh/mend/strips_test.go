package mend

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"bellyline/mesh"
	"bellyline/mesh/solids"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// foldedRing is a ring of seven unit cubes, the last of which touches the first along
// an edge from (1, 2, 0) to (1, 2, 1), in facets halved so many times.
func foldedRing(halvings int) []r3.Vector {
	var all []r3.Vector
	for _, cell := range [][2]float64{{0, 1}, {0, 0}, {1, 0}, {2, 0}, {2, 1}, {2, 2}, {1, 2}} {
		at := r3.Vector{X: cell[0], Y: cell[1]}
		all = append(all, solids.Box(at, at.Add(r3.Vector{X: 1, Y: 1, Z: 1}))...)
	}
	for range halvings {
		all = solids.Subdivide(all)
	}
	// Walls between cubes are there twice, back to back: dropping those is exact.
	m, _, err := Surface(context.Background(), mesh.New(append(all, all[0], all[0], all[1])), Options{Allow: true})
	if err != nil {
		panic(err)
	}
	var skin []r3.Vector
	for f := range m.Triangles {
		a, b, c := m.Corners(f)
		skin = append(skin, a, b, c)
	}
	return skin
}

// atFold lists the facets of the ring beside the edge at which it touches itself that run
// it downward, one of each sheet, for the n-th piece of the edge from below.
func atFold(skin []r3.Vector, n, pieces int) []int {
	low, high := r3.Vector{X: 1, Y: 2, Z: float64(n) / float64(pieces)}, r3.Vector{X: 1, Y: 2, Z: float64(n+1) / float64(pieces)}
	var found []int
	for f := range len(skin) / 3 {
		for k := range 3 {
			if skin[3*f+k] == high && skin[3*f+(k+1)%3] == low {
				found = append(found, f)
			}
		}
	}
	return found
}

// A body that touches itself along an edge and lacks a facet of either sheet there has
// one side only: the way over that edge leads inside. Its volume, seven cubes, comes
// out within the bound, and by leave only.
func TestMendStripsWhereABodyFoldsBack(t *testing.T) {
	const halvings = 3
	skin := foldedRing(halvings)
	if v := mesh.New(skin).Moments().VolumeMM3; math.Abs(v-7) > 1e-12 {
		t.Fatalf("drawn wrong: %g mm3", v)
	}
	rapid.Check(t, func(t *rapid.T) {
		seed := rapid.Uint64().Draw(t, "seed")
		gone := atFold(skin, rapid.IntRange(0, 1<<halvings-1).Draw(t, "piece"), 1<<halvings)
		if len(gone) != 2 {
			t.Fatalf("drawn wrong: %d facets at the edge", len(gone))
		}
		corners := solids.Shuffle(solids.Turn(without(skin, gone...), solids.RotationOf(seed)), rand.New(rand.NewPCG(seed, 1)))
		m := mesh.New(corners)
		s := surveyOf(m)
		if _, strip := s.FindPatches(m.AreaOf); strip < 0 {
			t.Fatal("drawn wrong: it has two sides")
		}
		if _, _, err := Surface(context.Background(), m, Options{HoleMM: 0.6}); !errors.Is(err, ErrNeeded) {
			t.Fatalf("not allowed: %v", err)
		}
		got, mends, err := Surface(context.Background(), m, Options{Allow: true, HoleMM: 0.6})
		if err != nil {
			t.Fatal(err)
		}
		checkMended(t, m, got, mends)
		if kinds := kindsOf(mends); kinds != "one_sided_facet 2, hole 2" && kinds != "one_sided_facet 2, hole 1" {
			t.Fatal(kinds)
		}
		if off := math.Abs(got.Moments().VolumeMM3 - 7); off > openOf(mends) || openOf(mends) > 1 {
			t.Fatalf("off by %g, bound %g", off, openOf(mends))
		}
	})
}

// Bands beside a body go as a whole, and the body holds what it holds.
func TestMendBandsBesideABody(t *testing.T) {
	box := solids.Cube(0, 30)
	band := solids.Moebius()
	m := mesh.New(solids.Join(box, solids.Move(band, r3.Vector{X: 40}), solids.Move(band, r3.Vector{X: -40})))
	got, mends, err := Surface(context.Background(), m, Options{Allow: true})
	if err != nil {
		t.Fatal(err)
	}
	checkMended(t, m, got, mends)
	if len(mends) != 1 || mends[0].Kind != OneSidedFacet || mends[0].Count != 2*len(band)/3 {
		t.Errorf("%+v", mends)
	}
	if v := got.Moments().VolumeMM3; v != 27000 || openOf(mends) == 0 {
		t.Errorf("%g mm3 within %g, want 30^3", v, openOf(mends))
	}
	// A band so large beside the body that it might hold as much is no answer.
	m = mesh.New(solids.Join(solids.Cube(0, 5), solids.Scale(solids.Moebius(), 1.5, 1.5, 0.2)))
	if got, mends, err := Surface(context.Background(), m, Options{Allow: true}); !errors.Is(err, ErrBeyond) {
		t.Errorf("%v, %+v, %v", got != nil, kindsOf(mends), err)
	}
}
