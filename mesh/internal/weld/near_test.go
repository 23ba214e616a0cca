package weld_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"bellyline/mesh/internal/weld"
	"bellyline/mesh/solids"
)

func numbers(n int) []int32 {
	all := make([]int32, n)
	for i := range all {
		all[i] = int32(i)
	}
	return all
}

// apart are n facets of three corners of their own.
func apart(n int) [][3]int32 {
	facets := make([][3]int32, n)
	for i := range facets {
		facets[i] = [3]int32{int32(3 * i), int32(3*i + 1), int32(3*i + 2)}
	}
	return facets
}

// A box of 12 facets whose 36 corners miss each other by less than the distance
// becomes one of 8 corners, each where the first of them was.
func TestNearCornersCloseABox(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	drawn := solids.Block(10, 20, 30)
	off := func() float64 { return 0.01 * (rng.Float64() - 0.5) } // two are at most 0.01 sqrt(3) apart
	body := make([]r3.Vector, len(drawn))
	for i, p := range drawn {
		body[i] = p.Add(r3.Vector{X: off(), Y: off(), Z: off()})
	}
	into, welded := weld.NearCorners(body, apart(12), numbers(36), 0.02)
	if welded != 28 {
		t.Fatalf("%d corners welded, want 36 less 8", welded)
	}
	for i, p := range drawn {
		if first := slices.Index(drawn, p); int(into[i]) != first {
			t.Errorf("corner %d became %d, want %d", i, into[i], first)
		}
	}
	closed := apart(12)
	for f := range closed {
		for k, v := range closed[f] {
			closed[f][k] = into[v]
		}
	}
	vertices, facets := weld.Compact(body, closed, into)
	if len(vertices) != 8 {
		t.Fatalf("%d vertices, want 8", len(vertices))
	}
	for f, tri := range facets {
		for k, v := range tri {
			if vertices[v] != body[into[3*f+k]] {
				t.Errorf("corner %d of facet %d moved to %v", k, f, vertices[v])
			}
		}
	}
	// Welding twice is the same.
	if _, again := weld.NearCorners(vertices, facets, numbers(8), 0.02); again != 0 {
		t.Errorf("%d more welded the second time", again)
	}
}

// Up to the distance, itself included, and no further, and only to corners that stay:
// a row is not drawn together.
func TestNearCornersByHand(t *testing.T) {
	quarter := 0.25
	beyond := math.Nextafter(quarter, 1)
	for _, c := range []struct {
		name string
		x    []float64
		want []int32
	}{
		{"at the distance", []float64{0, quarter}, []int32{0, 0}},
		{"a last place beyond", []float64{0, beyond}, []int32{0, 1}},
		{"a row", []float64{0, 0.2, 0.4, 0.6}, []int32{0, 0, 2, 2}},
		{"the first of two, not the nearest", []float64{0, 0.26, 0.24}, []int32{0, 1, 0}},
		{"0 and -0", []float64{0, math.Copysign(0, -1)}, []int32{0, 0}},
		{"equal", []float64{5, 5, 5}, []int32{0, 0, 0}},
		{"below the first", []float64{0, -quarter, -1}, []int32{0, 0, 2}},
	} {
		var row []r3.Vector
		for _, x := range c.x {
			row = append(row, r3.Vector{X: x})
		}
		if into, _ := weld.NearCorners(row, nil, numbers(len(row)), quarter); !slices.Equal(into, c.want) {
			t.Errorf("%s: %v, want %v", c.name, into, c.want)
		}
	}
}

// Corners that are not listed stay and take none.
func TestNearCornersLeavesOthersAlone(t *testing.T) {
	into, welded := weld.NearCorners(make([]r3.Vector, 5), nil, []int32{1, 3}, 1)
	if want := []int32{0, 1, 2, 1, 4}; welded != 1 || !slices.Equal(into, want) {
		t.Errorf("%v, %d welded, want %v", into, welded, want)
	}
}

// A facet does not collapse: of a set that has two of its corners nothing is welded.
func TestNearCornersKeepFacets(t *testing.T) {
	places := []r3.Vector{{}, {X: 0.1}, {Y: 5}, {X: 0.05}, {X: 9}, {X: 9.1}}
	into, welded := weld.NearCorners(places, [][3]int32{{0, 1, 2}}, numbers(6), 0.2)
	if want := []int32{0, 1, 2, 3, 4, 4}; welded != 1 || !slices.Equal(into, want) {
		t.Errorf("%v, %d welded, want %v", into, welded, want)
	}
}

// No distance, nothing welded. A place that is no number is near nothing, itself
// included, and does not keep others from being welded.
func TestNearCornersOfNoNumber(t *testing.T) {
	for _, d := range []float64{0, -1, math.NaN(), math.Inf(-1)} {
		if into, welded := weld.NearCorners(make([]r3.Vector, 2), nil, numbers(2), d); welded != 0 || !slices.Equal(into, numbers(2)) {
			t.Errorf("within %g: %v, %d welded", d, into, welded)
		}
	}
	nan := math.NaN()
	places := []r3.Vector{{X: 1}, {X: nan}, {X: nan}, {X: 1.1}, {X: 1, Y: nan}}
	into, welded := weld.NearCorners(places, nil, numbers(5), 0.5)
	if want := []int32{0, 1, 2, 0, 4}; welded != 1 || !slices.Equal(into, want) {
		t.Errorf("%v, %d welded, want %v", into, welded, want)
	}
}

// As asking every corner that was kept so far, whatever the places; and what is left is
// further apart than the distance, so that a second time welds nothing.
func TestNearCornersAgainstAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coordinate := rapid.Float64Range(-1, 1)
		places := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) r3.Vector {
			return r3.Vector{X: coordinate.Draw(t, "x"), Y: coordinate.Draw(t, "y"), Z: coordinate.Draw(t, "z") / 8}
		}), 1, 80).Draw(t, "places")
		distance := rapid.Float64Range(1e-3, 1).Draw(t, "distance")
		var kept []int32
		want := numbers(len(places))
		for v := range want {
			near := slices.IndexFunc(kept, func(u int32) bool { return places[u].Sub(places[v]).Norm() <= distance })
			if near >= 0 {
				want[v] = kept[near]
			} else {
				kept = append(kept, int32(v))
			}
		}
		into, welded := weld.NearCorners(places, nil, numbers(len(places)), distance)
		if !slices.Equal(into, want) || welded != len(places)-len(kept) {
			t.Fatalf("%v, %d welded, want %v", into, welded, want)
		}
		left, _ := weld.Compact(places, nil, into)
		for i, v := range kept { // the rest, in their order
			if left[i] != places[v] {
				t.Fatalf("vertex %d is %v, want %v", i, left[i], places[v])
			}
		}
		if _, again := weld.NearCorners(left, nil, numbers(len(left)), distance); again != 0 {
			t.Fatalf("%d more welded the second time", again)
		}
	})
}
