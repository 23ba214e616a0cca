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
	"bellyline/mesh/union"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// tangle is boxes with corners at whole numbers, no two of which have a face in one
// plane, some of them facing inward.
type tangle struct {
	low, high [][3]int
	inward    []bool
}

// drawTangle draws boxes that lie anyhow.
func drawTangle(rng *rand.Rand, n int) tangle {
	tg := tangle{low: make([][3]int, n), high: make([][3]int, n), inward: make([]bool, n)}
	for axis := range 3 {
		at := rng.Perm(2 * n)
		for i := range n {
			tg.low[i][axis], tg.high[i][axis] = min(at[2*i], at[2*i+1]), max(at[2*i], at[2*i+1])
		}
	}
	for i := range tg.inward {
		tg.inward[i] = rng.IntN(2) == 0
	}
	return tg
}

func (tg tangle) corners() []r3.Vector {
	var all []r3.Vector
	at := func(p [3]int) r3.Vector {
		return r3.Vector{X: float64(p[0]), Y: float64(p[1]), Z: float64(p[2])}
	}
	for i := range tg.low {
		box := solids.Box(at(tg.low[i]), at(tg.high[i]))
		if tg.inward[i] {
			box = solids.Flip(box)
		}
		all = append(all, box...)
	}
	return all
}

// cells counts the unit cells of which a reading of the boxes that hold them is true.
func (tg tangle) cells(full func(in, out int) bool) float64 {
	count := 0
	tg.each(func(inside []int) {
		in, out := 0, 0
		for _, i := range inside {
			if tg.inward[i] {
				in++
			} else {
				out++
			}
		}
		if full(in, out) {
			count++
		}
	})
	return float64(count)
}

// each calls f for every unit cell with the boxes that hold it.
func (tg tangle) each(f func(inside []int)) {
	n := 2 * len(tg.low)
	for c := range n * n * n {
		p := [3]int{c % n, c / n % n, c / n / n}
		var inside []int
		for i := range tg.low {
			if p[0] >= tg.low[i][0] && p[0] < tg.high[i][0] && p[1] >= tg.low[i][1] && p[1] < tg.high[i][1] && p[2] >= tg.low[i][2] && p[2] < tg.high[i][2] {
				inside = append(inside, i)
			}
		}
		f(inside)
	}
}

// buried says whether all of a box lies in others, so that it may be a void.
func (tg tangle) buried() bool {
	bare := map[int]bool{}
	tg.each(func(inside []int) {
		if len(inside) == 1 {
			bare[inside[0]] = true
		}
	})
	return len(bare) < len(tg.low)
}

// connected says whether the boxes hang together: whether all are reached from the
// first.
func (tg tangle) connected() bool {
	reached := map[int]bool{0: true}
	for range tg.low {
		tg.each(func(inside []int) {
			for _, i := range inside {
				if reached[i] {
					for _, j := range inside {
						reached[j] = true
					}
				}
			}
		})
	}
	return len(reached) == len(tg.low)
}

// Readings of a tangle, counted in cells.
var (
	asBodies  = func(in, out int) bool { return in+out > 0 }
	inwardCut = func(in, out int) bool { return out > in }
	outCut    = func(in, out int) bool { return in > out }
	evenOdd   = func(in, out int) bool { return (in+out)%2 == 1 }
)

// Boxes sunk into each other, some of them inside out: what is given differs from each
// reading that may be meant by no more than the bound. Cells are counted one by one.
func TestMendTanglesWithinTheirBound(t *testing.T) {
	var answered, apart int
	rapid.Check(t, func(t *rapid.T) {
		seed := rapid.Uint64().Draw(t, "seed")
		rng := rand.New(rand.NewPCG(seed, 3))
		tg := drawTangle(rng, 2+rng.IntN(4))
		if tg.buried() || !tg.connected() {
			return
		}
		got, mends, err := Surface(context.Background(), mesh.New(tg.corners()), Options{Allow: true})
		if err != nil {
			t.Fatal(err)
		}
		solid, err := union.Of(context.Background(), got)
		if errors.Is(err, union.ErrInsideOut) {
			return // a refusal
		}
		if err != nil {
			t.Fatal(err)
		}
		answered++
		bound := openOf(mends) + solid.ErrorMM3
		in := tg.cells(func(in, _ int) bool { return in > 0 })
		out := tg.cells(func(_, out int) bool { return out > 0 })
		readings := map[string]func(in, out int) bool{"all bodies": asBodies}
		if in > 0 && out > 0 {
			apart++
			if in < clearSide*out {
				readings["inward ones cut"] = inwardCut
			}
			if out < clearSide*in {
				readings["outward ones cut"] = outCut
			}
			if len(readings) == 3 {
				readings["even-odd"] = evenOdd
			}
		}
		for name, full := range readings {
			if off := math.Abs(solid.VolumeMM3 - tg.cells(full)); off > bound {
				t.Fatalf("%s: off by %g, bound %g", name, off, bound)
			}
		}
	})
	t.Logf("%d answers, %d of boxes of both kinds", answered, apart)
	if answered == 0 || apart == 0 {
		t.Errorf("%d answers, %d of them of boxes of both kinds: nothing was tested", answered, apart)
	}
}

// Where some shell had to be turned, one that lies in others facing inward may be a body
// as well as a void: both are within the bound.
func TestMendBuriedShellsWithinTheirBound(t *testing.T) {
	answered := 0
	for seed := range uint64(2000) {
		rng := rand.New(rand.NewPCG(seed, 3))
		tg := drawTangle(rng, 2+rng.IntN(4))
		if !tg.buried() {
			continue
		}
		got, mends, err := Surface(context.Background(), mesh.New(tg.corners()), Options{Allow: true})
		if err != nil {
			t.Fatal(err)
		}
		solid, err := union.Of(context.Background(), got)
		if err != nil || len(mends) == 0 {
			continue // refused, or as sound as drawn
		}
		answered++
		if off := math.Abs(solid.VolumeMM3 - tg.cells(asBodies)); off > openOf(mends)+solid.ErrorMM3 {
			t.Fatalf("seed %d: all bodies: off by %g, bound %g", seed, off, openOf(mends))
		}
	}
	if answered == 0 {
		t.Error("nothing was tested")
	}
}

// A body of twelve shells that reach into each other, every second one inside out:
// signed sum near zero, and twice as much by one reading as by another. The volumes of
// the readings are counted on the grid that the boxes are drawn on.
func TestMendATangleGivesBothReadings(t *testing.T) {
	var tg tangle
	for i := range 12 { // a row of boxes, each sunk into the next; faces lie in planes of their own
		tg.low = append(tg.low, [3]int{i, i, 11 - i})
		tg.high = append(tg.high, [3]int{12 + i, 12 + i, 23 - i})
		tg.inward = append(tg.inward, i%2 == 1)
	}
	bodies, cut := tg.cells(asBodies), tg.cells(inwardCut)
	m := mesh.New(tg.corners())
	if signed := m.Moments().VolumeMM3; math.Abs(signed) > 1e-9 || bodies < 2*cut {
		t.Fatalf("drawn wrong: signed sum %g, readings %g and %g", signed, bodies, cut)
	}
	if got, _, err := Surface(context.Background(), m, Options{}); !errors.Is(err, ErrNeeded) || got != nil || !strings.Contains(err.Error(), "mm3 as bodies, and down to") {
		t.Errorf("not allowed: %v", err)
	}
	got, mends, err := Surface(context.Background(), m, Options{Allow: true})
	if err != nil {
		t.Fatal(err)
	}
	solid, err := union.Of(context.Background(), got)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(solid.VolumeMM3-bodies) > 1e-6 || openOf(mends) < bodies-cut {
		t.Errorf("%g mm3 within %g; by other readings %g and %g", solid.VolumeMM3, openOf(mends), bodies, cut)
	}
	if len(mends) != 1 || mends[0].Count != 6 || !mends[0].MayChangeVolume || mends[0].Readings == "" {
		t.Errorf("%+v", mends)
	}
}

// A file that faces inward as a whole is turned without leave: one box, boxes beside
// each other, boxes sunk into each other. One that lies in another may be a void, so
// that takes leave.
func TestMendTurnsTheWhole(t *testing.T) {
	box := solids.Cube(0, 10)
	for name, c := range map[string]struct {
		corners []r3.Vector
		filled  float64
	}{
		"one":             {box, 1000},
		"two":             {solids.Join(box, solids.Move(box, r3.Vector{X: 20})), 2000},
		"sunk in":         {solids.Join(box, solids.Cube(5, 10)), 2000 - 125},
		"sharing an edge": {solids.Join(box, solids.Move(box, r3.Vector{X: 10, Y: 10})), 2000},
	} {
		got, mends, err := Surface(context.Background(), mesh.New(solids.Flip(c.corners)), Options{})
		if err != nil || len(mends) != 1 || mends[0].Kind != InsideOutShell || mends[0].VolumeMM3 != 0 || mends[0].MayChangeVolume {
			t.Errorf("%s: %v, %+v", name, err, mends)
			continue
		}
		if solid, err := union.Of(context.Background(), got); err != nil || math.Abs(solid.VolumeMM3-c.filled) > 1e-9 {
			t.Errorf("%s: %v, %g mm3, want %g", name, err, solid.VolumeMM3, c.filled)
		}
	}
	if _, _, err := Surface(context.Background(), mesh.New(solids.Flip(solids.Join(box, solids.Cube(2, 3)))), Options{}); !errors.Is(err, ErrNeeded) {
		t.Errorf("one in another: %v", err)
	}
}
