package mend

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"bellyline/mesh"
	"bellyline/mesh/solids"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// loosened moves each corner of each facet by up to reach, for itself: no two facets
// meet.
func loosened(corners []r3.Vector, reach float64, rng *rand.Rand) []r3.Vector {
	out := slices.Clone(corners)
	for i := range out {
		way := r3.Vector{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}.Normalize()
		out[i] = out[i].Add(way.Mul(reach * rng.Float64()))
	}
	return out
}

// A body whose facets miss each other is refused with the tolerance at which it closes:
// no more than twice the move. With that, given or found, the volume is right within
// the bound; the moves themselves are within the reach of the sets that are welded.
func TestMendFindsTheToleranceThatCloses(t *testing.T) {
	bodies := [][]r3.Vector{solids.Icosphere(10, 2), solids.Torus(20, 6, 20, 10), solids.Subdivide(solids.Cube(0, 10)), solids.Capsule(3, 20, 12)}
	var taken, tooMuch int
	rapid.Check(t, func(t *rapid.T) {
		body := bodies[rapid.IntRange(0, len(bodies)-1).Draw(t, "body")]
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 2))
		reach := math.Pow(10, rapid.Float64Range(-2.5, -1.15).Draw(t, "log reach"))
		m := mesh.New(loosened(body, reach, rng))
		_, _, err := Surface(context.Background(), m, Options{Allow: true})
		var open *NotClosedError
		if !errors.As(err, &open) {
			t.Fatalf("refused without a tolerance: %v", err)
		}
		// Two digits round up by a tenth at most, and the search ends a sixteenth above.
		if open.ToleranceMM > 2*reach*1.0625*1.1 {
			t.Fatalf("closes within %g, corners are at most %g apart", open.ToleranceMM, 2*reach)
		}
		want := mesh.New(body).Moments().VolumeMM3
		checkClosed := func(opts Options) {
			got, mends, err := Surface(context.Background(), m, opts)
			if err != nil {
				t.Fatalf("%+v: %v", opts, err)
			}
			checkMended(t, m, got, mends)
			if off := math.Abs(got.Moments().VolumeMM3 - want); off > openOf(mends) {
				t.Fatalf("off by %g, bound %g", off, openOf(mends))
			}
			if opts.FindTolerance && mends[0].WithinMM != open.ToleranceMM {
				t.Fatalf("found %g, told %g", mends[0].WithinMM, open.ToleranceMM)
			}
		}
		checkClosed(Options{Allow: true, ToleranceMM: open.ToleranceMM})
		if open.Share < closingShare {
			taken++
			checkClosed(Options{Allow: true, FindTolerance: true})
			return
		}
		tooMuch++
		if _, _, err := Surface(context.Background(), m, Options{Allow: true, FindTolerance: true}); !errors.As(err, &open) || !errors.Is(err, ErrBeyond) {
			t.Fatalf("takes %g, which may change the volume by %g: %v", open.ToleranceMM, open.Share, err)
		}
	})
	if taken == 0 || tooMuch == 0 {
		t.Errorf("%d taken, %d too much", taken, tooMuch)
	}
}

// A box open along a corner that is 0.02 off closes within just that. A box without a
// facet closes at no tolerance, so none is told, and looking for one changes nothing.
func TestMendToleranceByHand(t *testing.T) {
	box := solids.Cube(0, 30)
	off := slices.Clone(box)
	off[0] = off[0].Add(r3.Vector{X: 0.02})
	var open *NotClosedError
	if _, _, err := Surface(context.Background(), mesh.New(off), Options{}); !errors.As(err, &open) || open.ToleranceMM < 0.02 || open.ToleranceMM > 0.021 {
		t.Errorf("%v", err)
	}
	for _, find := range []bool{false, true} {
		if _, _, err := Surface(context.Background(), mesh.New(box[3:]), Options{FindTolerance: find}); !errors.Is(err, ErrNeeded) || errors.As(err, &open) {
			t.Errorf("a facet missing: %v", err)
		}
		if _, mends, err := Surface(context.Background(), mesh.New(box[3:]), Options{Allow: true, FindTolerance: find}); err != nil || kindsOf(mends) != "hole 1" {
			t.Errorf("a facet missing: %s, %v", kindsOf(mends), err)
		}
	}
}

func TestRoundedUp(t *testing.T) {
	for x, want := range map[float64]float64{0.0134: 0.014, 0.013: 0.013, 0.0999: 0.1, 1: 1, 1.01: 1.1, 0.00120001: 0.0013} {
		if got := roundedUp(x, 2); got != want {
			t.Errorf("%g: %g, want %g", x, got, want)
		}
	}
}
