package radix

import (
	"cmp"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"
)

// keysOf are patterns of keys that a sort by digits could trip over.
func keysOf(rng *rand.Rand, bits int) map[string]func(i int) uint32 {
	top := uint32(1)<<bits - 1 // 2^32-1 at 32 bits, by wrapping round
	return map[string]func(i int) uint32{
		"all the same": func(int) uint32 { return top },
		"zeros":        func(int) uint32 { return 0 },
		"ends":         func(i int) uint32 { return uint32(i%2) * top },
		"falling":      func(i int) uint32 { return (top - uint32(i)) & top },
		"few":          func(int) uint32 { return rng.Uint32N(3) & top },
		"high bit":     func(int) uint32 { return rng.Uint32N(2) << (bits - 1) },
		"any":          func(int) uint32 { return rng.Uint32() & top },
	}
}

// Sorted by digits as slices.SortStableFunc sorts: for each number of bits, sizes
// around those from which work is shared out, whatever the number of processors.
func TestSortIsTheStableSort(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for _, processors := range []int{1, 2, 5} {
		runtime.GOMAXPROCS(processors)
		for bits := 1; bits <= 32; bits++ {
			for _, n := range []int{0, 1, 2, 3, 100, 8191, 8192, 12_301} {
				for name, key := range keysOf(rng, bits) {
					checkSort(t, name, bits, n, key)
				}
			}
		}
	}
}

func checkSort(t *testing.T, name string, bits, n int, key func(int) uint32) {
	t.Helper()
	values := make([]uint64, n)
	for i := range values {
		values[i] = Keyed(key(i), i)
	}
	want := slices.Clone(values)
	slices.SortStableFunc(want, func(a, b uint64) int { return cmp.Compare(a>>32, b>>32) })
	if got := Sort(values, bits); !slices.Equal(got, want) {
		t.Fatalf("%s, %d bits, %d values: not the stable order", name, bits, n)
	}
}

// What is packed comes out again, and orders by the key first.
func TestKeyed(t *testing.T) {
	for _, key := range []uint32{0, 1, 1 << 31, 1<<32 - 1} {
		for _, number := range []int{0, 1, 1<<31 - 1} {
			k := Keyed(key, number)
			if Item(k) != int32(number) || uint32(k>>32) != key {
				t.Errorf("%d, %d came out as %d, %d", key, number, k>>32, Item(k))
			}
		}
	}
	if Keyed(1, 0) <= Keyed(0, 1<<31-1) {
		t.Error("the number counts more than the key")
	}
}

// Stretches follow each other from 0 to n, no more than asked for, none much longer
// than another; each is worked on once.
func TestStretches(t *testing.T) {
	for _, n := range []int{0, 1, 4095, 4096, 8191, 8192, 100_001} {
		for _, parts := range []int{0, 1, 2, 7, 64} {
			s := SplitEvenly(n, parts)
			if len(s) < 1 || len(s) > max(1, parts) {
				t.Errorf("%d in %d: %d stretches", n, parts, len(s))
			}
			at, shortest, longest := 0, n, 0
			for _, p := range s {
				if p[0] != at {
					t.Errorf("%d in %d: a stretch starts at %d, not at %d", n, parts, p[0], at)
				}
				at = p[1]
				shortest, longest = min(shortest, p[1]-p[0]), max(longest, p[1]-p[0])
			}
			if at != n || longest-shortest > 1 {
				t.Errorf("%d in %d: ends at %d, from %d to %d long", n, parts, at, shortest, longest)
			}
			worked := make([][2]int, len(s))
			Each(s, func(w, from, to int) { worked[w] = [2]int{from, to} })
			if !slices.Equal(worked, s) {
				t.Errorf("%d in %d: worked on %v", n, parts, worked)
			}
		}
	}
}
