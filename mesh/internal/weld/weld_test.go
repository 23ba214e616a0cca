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

func cornerOf(p r3.Vector) weld.Corner {
	bits := func(x float64) uint32 { return weld.PlusZero(math.Float32bits(float32(x))) }
	return weld.Corner{bits(p.X), bits(p.Y), bits(p.Z)}
}

// Bodies of known counts: corners numbered in the order in which they first come.
// Counts: a box has 8; each halving of an icosahedron's edges makes four facets of one,
// and half as many corners as facets, and 2 (Euler); the torus 24 by 8.
func TestCornersOfKnownBodies(t *testing.T) {
	for _, c := range []struct {
		name string
		body []r3.Vector
		want int
	}{
		{"box", solids.Block(1, 2, 3), 8},
		{"ball", solids.Icosphere(1, 3), 642},
		{"torus", solids.Torus(3, 1, 24, 8), 192},
		{"two boxes that share an edge", solids.Join(solids.Cube(0, 1), solids.Move(solids.Cube(0, 1), r3.Vector{X: 1, Y: 1})), 14},
	} {
		w := weld.NewWelder(0)
		var first []weld.Corner
		for _, p := range c.body {
			corner := cornerOf(p)
			if !slices.Contains(first, corner) {
				first = append(first, corner)
			}
			if n := w.Add(corner); first[n] != corner {
				t.Fatalf("%s: corner %v got the number of %v", c.name, corner, first[n])
			}
		}
		if len(w.Points) != c.want || !slices.Equal(w.Points, first) {
			t.Errorf("%s: %d corners, want %d", c.name, len(w.Points), c.want)
		}
		again := weld.NewWelder(len(w.Points))
		for i, p := range w.Points { // welding twice is the same
			if n := again.Add(p); int(n) != i {
				t.Fatalf("%s: welded again, point %d got number %d", c.name, i, n)
			}
		}
	}
}

// Minus zero is zero; nothing else changes, not the least number below zero.
func TestPlusZero(t *testing.T) {
	minus := float32(math.Copysign(0, -1))
	for _, c := range []struct{ from, want uint32 }{
		{math.Float32bits(minus), 0}, {0, 0},
		{math.Float32bits(-math.SmallestNonzeroFloat32), 1<<31 + 1},
		{math.Float32bits(-1), math.Float32bits(-1)}, {1<<32 - 1, 1<<32 - 1},
	} {
		if got := weld.PlusZero(c.from); got != c.want {
			t.Errorf("%08x became %08x, want %08x", c.from, got, c.want)
		}
	}
	w := weld.NewWelder(0)
	if a, b := w.Add(cornerOf(r3.Vector{X: -1e-60, Y: 1})), w.Add(cornerOf(r3.Vector{Y: 1, Z: math.Copysign(0, -1)})); a != b {
		t.Errorf("0 and -0 are points %d and %d", a, b)
	}
}

// Corners of one tag are told apart. Among n tags of 32 bits some n^2/2^33 pairs are
// alike if they fall evenly, 20 of these; a tag that scatters badly has far more.
func TestCornersOfOneTagAreApart(t *testing.T) {
	const side = 75 // 75^3 = 421,875 corners of a lattice
	w := weld.NewWelder(0)
	tags, alike := map[uint32]bool{}, 0
	for pass := range 2 {
		number := int32(0)
		for x := range side {
			for y := range side {
				for z := range side {
					c := cornerOf(r3.Vector{X: float64(x) / 4, Y: float64(y) / 4, Z: float64(z) / 4})
					if got := w.Add(c); got != number {
						t.Fatalf("pass %d: corner %v has number %d, want %d", pass, c, got, number)
					}
					number++
					tag := c.Tag()
					if tag != weld.TagOf(c[0], c[1], c[2]) || w.FindTagged(&c, tag) != number-1 {
						t.Fatalf("corner %v is not found by its tag", c)
					}
					if pass == 0 {
						if tags[tag] {
							alike++
						}
						tags[tag] = true
					}
				}
			}
		}
	}
	if alike == 0 || alike > 100 {
		t.Errorf("%d corners have another's tag, expected some 20", alike)
	}
	missing := cornerOf(r3.Vector{X: -1})
	if n := w.FindTagged(&missing, missing.Tag()); n != -1 {
		t.Errorf("a corner that never came has number %d", n)
	}
}

// Batches number corners as one by one, and both as a map does: few corners that come
// often, many that come once, tables that grow.
func TestBatchesAgainstAMap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		distinct := rapid.SampledFrom([]uint32{1, 3, 50, 1000, 1 << 30}).Draw(t, "coordinates")
		facets := rapid.IntRange(0, 2000).Draw(t, "facets")
		batched, single := weld.NewWelder(rapid.SampledFrom([]int{0, 5, 5000}).Draw(t, "room")), weld.NewWelder(0)
		known := map[weld.Corner]int32{}
		var batch weld.Batch
		for facets > 0 {
			n := min(facets, 1+rng.IntN(weld.BatchCorners/3))
			facets -= n
			triangles := make([][3]int32, n)
			for i := range 3 * n {
				c := weld.Corner{rng.Uint32N(distinct), 7, rng.Uint32N(2)}
				batch.Corners[i], batch.Tags[i] = c, c.Tag()
			}
			batch.Add(batched, triangles)
			for i := range 3 * n {
				c := batch.Corners[i]
				want, seen := known[c]
				if !seen {
					want = int32(len(known))
					known[c] = want
				}
				if got, one := triangles[i/3][i%3], single.Add(c); got != want || one != want {
					t.Fatalf("corner %v is %d in a batch, %d alone, want %d", c, got, one, want)
				}
			}
		}
		if !slices.Equal(batched.Points, single.Points) || len(single.Points) != len(known) {
			t.Fatalf("%d points in batches, %d alone, want %d", len(batched.Points), len(single.Points), len(known))
		}
	})
}
