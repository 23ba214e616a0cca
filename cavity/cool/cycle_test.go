package cool

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// at works a cycle out for a plain number x in place of a short step.
func (c cycle) at(x float64) float64 {
	before, p := 1.0, 1.0
	for i := 1; i <= c.sweeps; i++ {
		s := c.sweepAt(i)
		before, p = p, s.stay*p+s.move*(x-1)*p-s.old*before
	}
	return 1 + c.part*(p-1)
}

// A cycle follows so many short steps to second order for what is smooth, x near 1,
// and lets nothing grow, wherever x is.
func TestCycleFollowsShortSteps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		steps := rapid.IntRange(singly+1, 3000).Draw(t, "steps")
		c, n := cycleOf(steps), float64(steps)
		if c.reach > 1 || c.sweeps >= steps || c.sweeps%2 == 0 {
			t.Fatalf("%d steps: %+v", steps, c)
		}
		if x := rapid.Float64Range(-1, 1).Draw(t, "x"); math.Abs(c.at(x)) > 1+1e-9 {
			t.Errorf("%d steps: %g becomes %g", steps, x, c.at(x))
		}
		// The third derivatives differ by less than n^3, so the rest is below y^3/6.
		y := rapid.Float64Range(0, 0.5).Draw(t, "n (1-x)")
		if got, want := c.at(1-y/n), math.Pow(1-y/n, n); math.Abs(got-want) > y*y*y/6+1e-12 {
			t.Errorf("%d steps: %g of 1 is left, want %g", steps, got, want)
		}
	})
}

func TestFullCycles(t *testing.T) {
	for most := range 2000 {
		n := fullCycle(most)
		if n < 1 || n > max(most, 1) {
			t.Fatalf("%d of at most %d", n, most)
		}
		if n > singly && cycleOf(n+1).sweeps == cycleOf(n).sweeps {
			t.Errorf("%d: one more takes no more sweeps", n)
		}
	}
}

// On the way that a bait is cooled, what is short steps and what is cycles differ by
// far less than the half percent that the grid is good for, everywhere, and no
// temperature leaves the range between melt and mold or rises.
func TestCyclesCoolLikeShortSteps(t *testing.T) {
	t.Parallel()
	for _, contact := range []float64{0, 0.2, 5} {
		g, err := newBody(t, turned(box(3, 4, 7), 0.6), false).NewGrid(context.Background(), 1.5/15.5, contact)
		if err != nil {
			t.Fatal(err)
		}
		slow, quick := newField(g, 1, 0), newField(g, 1, 0)
		sweeps, short := 0, 0
		last, fell := 1.0, 0.0
		for done := startShare / stepShare; done*stepShare*g.h*g.h < 0.35*1.5*1.5; {
			n := g.stepsToLook(done, fell)
			before := append([]float64{}, quick.now...)
			quick.advance(n, 0)
			for range n {
				slow.advance(1, 0)
			}
			now, _ := quick.hottest()
			last, fell = now, fall(last, now)/float64(n)
			done += float64(n)
			short += n
			if sweeps += n; n > singly {
				sweeps += cycleOf(n).sweeps - n
			}
			for u, v := range quick.now {
				if v < 0 || v > 1 || v > before[u]+1e-12 {
					t.Fatalf("contact %g, after %d short steps: a node went from %g to %g", contact, short, before[u], v)
				}
				if off := math.Abs(v - slow.now[u]); off > 5e-4 {
					t.Fatalf("contact %g, after %d short steps: %g, by short steps %g", contact, short, v, slow.now[u])
				}
			}
		}
		if sweeps*10 > short*7 {
			t.Errorf("%d short steps took %d sweeps", short, sweeps)
		}
	}
}

// Cells at the wall are of all sizes, so that the theory of equal ones says little of
// them: noise in them does not grow, however long the cycles are.
func TestNoiseDiesOutInCycles(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for _, contact := range []float64{0, 0.1, 2} {
		g, err := newBody(t, turned(box(3, 4, 7), 0.6), false).NewGrid(context.Background(), 0.31, contact)
		if err != nil {
			t.Fatal(err)
		}
		for _, steps := range []int{8, 33, 500} {
			f := newField(g, 1, 0)
			for u := range f.now {
				f.now[u] = 2*rng.Float64() - 1
			}
			for range 40 {
				f.advance(steps, 0)
				for u, v := range f.now {
					if !(math.Abs(v) < 1) {
						t.Fatalf("contact %g, %d short steps at once: node %d at %g", contact, steps, u, v)
					}
				}
			}
			for u, v := range f.now {
				if !(math.Abs(v) < 0.1) {
					t.Fatalf("contact %g, %d short steps at once: node %d still at %g", contact, steps, u, v)
				}
			}
		}
	}
}
