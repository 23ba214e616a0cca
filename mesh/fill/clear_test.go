package fill

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"bellyline/mesh"
	"bellyline/mesh/internal/lattice"
	"bellyline/mesh/solids"
)

// What the search by columns leaves out never crosses anything: looking at every
// facet finds the same.
func TestClearLeavesHideNoCrossing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		c := solids.Torus(10, 3, 36, 18)
		switch rapid.IntRange(0, 4).Draw(t, "kind") {
		case 0: // its own tube flattened until it nearly touches itself
			c = solids.Scale(c, 1, 1, math.Pow(10, -4*rng.Float64()))
		case 1: // two sheets close to each other
			c = solids.Join(c, solids.Flip(solids.Torus(10, 3-math.Pow(10, -3*rng.Float64()), 36, 18)))
		case 2: // dented, here and there through itself
			depth := 4 * rng.Float64()
			for i, p := range c {
				c[i].Z += depth * math.Sin(p.X*2) * math.Cos(p.Y*3)
				c[i].X += depth * math.Sin(p.Y*2+p.Z)
			}
		case 3:
			c = solids.Join(c, solids.Move(c, r3.Vector{X: 4 * rng.Float64(), Z: 0.01 * rng.Float64()}))
		case 4: // a fan whose tip is pulled aside or down, maybe through the base
			tip, to := r3.Vector{Z: 4}, r3.Vector{X: 8 * rng.Float64(), Y: rng.Float64(), Z: 8*rng.Float64() - 4}
			c = solids.Frustum(5, 0, 4, 150)
			for i, p := range c {
				if p == tip {
					c[i] = to
				}
			}
		}
		m := mesh.New(solids.Turn(c, solids.RandomRotation(rng)))
		l := lattice.New(m.Bounds(), 0)
		tree, doubt, err := doubtfulTree(context.Background(), m, l, m.Bounds())
		if err != nil {
			t.Fatal(err)
		}
		quick, err := findCrossings(context.Background(), tree, doubt, &welded{m, l})
		if err != nil {
			t.Fatal(err)
		}
		slow, err := findCrossings(context.Background(), tree, allDoubtful(tree), &welded{m, l})
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(quick.hits, slow.hits) || quick.folded != slow.folded {
			t.Fatalf("%d crossings found of %d", len(quick.hits), len(slow.hits))
		}
	})
}

// On a smooth closed body the columns leave little to be looked at.
func TestClearLeavesOfASmoothBody(t *testing.T) {
	m := mesh.New(solids.Torus(50, 10, 400, 120))
	_, doubt, err := doubtfulTree(context.Background(), m, lattice.New(m.Bounds(), 0), m.Bounds())
	if err != nil {
		t.Fatal(err)
	}
	left := 0
	for _, d := range doubt.flags[0] {
		if d {
			left++
		}
	}
	if 20*left > len(doubt.flags[0]) {
		t.Errorf("%d of %d leaves left", left, len(doubt.flags[0]))
	}
}
