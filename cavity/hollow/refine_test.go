package hollow

import (
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
)

// refined parts every facet in four, and shuffled changes the order of the facets.
func refined(c []r3.Vector) []r3.Vector {
	out := make([]r3.Vector, 0, 4*len(c))
	for i := 0; i < len(c); i += 3 {
		a, b, d := c[i], c[i+1], c[i+2]
		middle := func(p, q r3.Vector) r3.Vector { return p.Add(q).Mul(0.5) }
		ab, bd, da := middle(a, b), middle(b, d), middle(d, a)
		out = append(out, a, ab, da, ab, b, bd, da, bd, d, ab, bd, da)
	}
	return out
}

func shuffled(c []r3.Vector, rng *rand.Rand) []r3.Vector {
	out := make([]r3.Vector, 0, len(c))
	for _, t := range rng.Perm(len(c) / 3) {
		k := rng.IntN(3) // any corner may come first
		for i := range 3 {
			out = append(out, c[3*t+(i+k)%3])
		}
	}
	return out
}

// How finely a half is drawn and in which order its facets come changes nothing:
// not what is found, not where, not how much it holds.
func TestRefinedAndShuffledHalvesAreTheSame(t *testing.T) {
	c, _, _, _ := fourAndRunner()
	corners := c.less(box{10, 60, -6, 30, 76, 0}).corners()
	want := find(t, mesh.New(corners), Options{})
	rng := rand.New(rand.NewPCG(7, 7))
	for round := range 4 {
		corners = shuffled(corners, rng)
		got := find(t, mesh.New(corners), Options{})
		if len(got.Hollows) != len(want.Hollows) {
			t.Fatalf("round %d: %s, want %s", round, briefly(got.Hollows), briefly(want.Hollows))
		}
		near(t, "in all", got.Connected[0].VolumeMM3, want.Connected[0].VolumeMM3, 1e-9*want.Connected[0].VolumeMM3)
		for i, o := range got.Hollows {
			w := want.Hollows[i]
			if o.Kind != w.Kind || len(o.Gates) != len(w.Gates) {
				t.Errorf("round %d: hollow %d is a %s, want a %s", round, o.ID, o.Kind, w.Kind)
			}
			// A gate is cut where the steps of a search end: within some micrometres.
			near(t, "volume", o.VolumeMM3, w.VolumeMM3, 0.02)
			near(t, "opening", o.OpeningMM2, w.OpeningMM2, 0.02)
		}
		if round%2 == 1 {
			corners = refined(corners)
		}
	}
}
