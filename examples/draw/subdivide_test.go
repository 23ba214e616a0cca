package main

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// fork is a plan with two limbs, so with corners of two to five cells; its knots
// are moved about at random.
func fork(t *rapid.T) *plan {
	p := &plan{}
	shift := rapid.Float64Range(-0.2, 0.2)
	row := func(x float64) []int {
		var numbers []int
		for y := 2.0; y >= -2; y-- {
			k := knot{x + shift.Draw(t, "x"), y + shift.Draw(t, "y"), 2 + shift.Draw(t, "up"), 1 + shift.Draw(t, "down")}
			numbers = append(numbers, p.row(k)...)
		}
		return numbers
	}
	rows := [][]int{row(6), row(5), row(4), row(3)}
	for i := range len(rows) - 1 {
		p.join(rows[i], rows[i+1])
	}
	chains := []chain{
		{{5, 4, 0, 0}, {4.5, 4, 1, 1}, {4, 4, 0, 0}},
		{{5, 6, 0, 0}, {4.5, 6, 0, 0}, {4, 6, 0, 0}},
	}
	p.limb(true, []int{rows[1][0], rows[2][0], rows[3][0]}, chains)
	p.limb(false, []int{rows[1][4], rows[2][4], rows[3][4]}, chains)
	return p
}

// The limit of a corner does not change when the net is subdivided first: the
// two published rules (Catmull and Clark 1978; Halstead, Kass and DeRose 1993)
// must fit each other at corners of any number of cells.
func TestSubdivisionKeepsTheLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := fork(t).closed()
		fine := n.subdivide()
		if len(fine.cells) != 4*len(n.cells) {
			t.Fatalf("%d cells became %d", len(n.cells), len(fine.cells))
		}
		before, after := n.limit(), fine.limit()
		for v := range before {
			d := before[v].plus(after[v].times(-1))
			if math.Abs(d.x)+math.Abs(d.y)+math.Abs(d.up)+math.Abs(d.down) > 1e-13 {
				t.Errorf("corner %d moves from %+v to %+v", v, before[v], after[v])
			}
		}
	})
}

func TestPlansMakeClosedSkins(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := fork(t)
		m := p.draw(1).finish()
		if want := 2 * 2 * 4 * len(p.cells); len(m.Triangles) != want {
			t.Fatalf("%d facets, want %d", len(m.Triangles), want)
		}
		sides := map[[2]int32]int{}
		for _, f := range m.Triangles {
			for i := range f {
				sides[[2]int32{f[i], f[(i+1)%3]}]++
			}
		}
		for s, n := range sides {
			if n != 1 || sides[[2]int32{s[1], s[0]}] != 1 {
				t.Fatalf("the side from %d to %d is run %d times", s[0], s[1], n)
			}
		}
	})
}

// Above and below the outline the skin keeps to its own control heights: a plan
// drawn twice as high but no deeper moves only what lies above the parting
// plane, and the outline stays in that plane.
func TestHeightAndDepthAreApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := fork(t)
		before := p.draw(1).corners
		for i := range p.knots {
			p.knots[i].up *= 2
		}
		for i, after := range p.draw(1).corners {
			want := before[i]
			if want.Z > 0 {
				want.Z *= 2
			}
			if after.Sub(want).Norm() > 1e-13 {
				t.Errorf("corner %d moves from %v to %v", i, before[i], after)
			}
		}
	})
}

// Where a limb leaves a flat plan, the skin is as thick as the limb: without a
// height of its own the root would be pinched to the outline.
func TestLimbIsNotPinchedAtItsRoot(t *testing.T) {
	p := &plan{}
	rows := [][]int{}
	for x := 6.0; x >= 0; x-- {
		rows = append(rows, p.row(knot{x, 2, 0, 0}, knot{x, 1, 2, 2}, knot{x, 0, 2, 2}, knot{x, -1, 2, 2}, knot{x, -2, 0, 0}))
	}
	for i := range len(rows) - 1 {
		p.join(rows[i], rows[i+1])
	}
	p.limb(true, []int{rows[2][0], rows[3][0], rows[4][0]}, []chain{
		{{4, 3, 0, 0}, {3, 3, 2, 2}, {2, 3, 0, 0}},
		{{4, 4, 0, 0}, {3, 4, 2, 2}, {2, 4, 0, 0}},
		{{4, 5, 0, 0}, {3, 5, 0, 0}, {2, 5, 0, 0}},
	})
	// In a strip two cells wide with the height h along its middle the limit is
	// (16h + 4(h+h))/36 = 2h/3 there. Up to y = 3 the flat end has no part in it.
	const least = 2*2.0/3 - 1e-12
	for _, c := range p.draw(2).corners {
		if c.X == 3 && c.Y > 0 && c.Y <= 3 && c.Z >= 0 && c.Z < least {
			t.Errorf("at %v the limb is pinched", c)
		}
	}
}
