package halfedge_test

import (
	"math/rand/v2"
	"sync"
	"testing"

	"bellyline/mesh/halfedge"
)

// Sets joined by eight goroutines at once are those of a plain walk over the same
// pairs, each named by its smallest member.
func TestSetsJoinedAtOnce(t *testing.T) {
	const n, pairs, workers = 5000, 4000, 8
	for seed := range uint64(10) {
		rng := rand.New(rand.NewPCG(seed, 2))
		joined := make([][2]int32, pairs)
		beside := make([][]int32, n)
		for i := range joined {
			a, b := rng.Int32N(n), rng.Int32N(n)
			joined[i] = [2]int32{a, b}
			beside[a], beside[b] = append(beside[a], b), append(beside[b], a)
		}
		sets := halfedge.NewSets(n)
		var wait sync.WaitGroup
		for w := range workers {
			wait.Go(func() {
				for _, p := range joined[w*pairs/workers : (w+1)*pairs/workers] {
					sets.Join(p[0], p[1])
				}
			})
		}
		wait.Wait()
		want := make([]int32, n)
		for i := range want {
			want[i] = -1
		}
		for first := range int32(n) {
			if want[first] >= 0 {
				continue
			}
			for reach := []int32{first}; len(reach) > 0; {
				f := reach[len(reach)-1]
				reach = reach[:len(reach)-1]
				if want[f] < 0 {
					want[f], reach = first, append(reach, beside[f]...)
				}
			}
		}
		for f := range int32(n) {
			if got := sets.Root(f); got != want[f] {
				t.Fatalf("seed %d: %d is in the set of %d, want %d", seed, f, got, want[f])
			}
		}
	}
}
