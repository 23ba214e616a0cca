package bvh

import (
	"math"

	"bellyline/mesh/internal/lattice"
	"bellyline/mesh/vector"

	"github.com/golang/geo/r3"
)

// AlongLine calls visit for the facets in all leaves that the line between two
// points of the lattice may meet, moves included, until it returns an error.
func (t *Tree) AlongLine(l lattice.Lattice, from, to r3.Vector, visit func(f int32) error) error {
	line := NewLineTest(from.Mul(l.StepMM), to.Mul(l.StepMM), 2*lattice.LongestMove*l.StepMM)
	return t.EachAlong(&line, visit)
}

// EachAlong calls visit for the facets in all leaves that a line may meet, until it
// returns an error.
func (t *Tree) EachAlong(line *lineTest, visit func(f int32) error) error {
	root, ok := t.Root()
	if !ok || !line.meets(&t.Levels[root.Level][root.Index]) {
		return nil
	}
	for stack := []Node{root}; len(stack) > 0; {
		n := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if n.Level == 0 {
			for _, f := range t.Leaf(int(n.Index)) {
				if err := visit(f); err != nil {
					return err
				}
			}
			continue
		}
		first, last := t.Children(n)
		for i := first; i < last; i++ {
			if line.meets(&t.Levels[n.Level-1][i]) {
				stack = append(stack, Node{n.Level - 1, i})
			}
		}
	}
	return nil
}

// lineTest asks which boxes a line meets.
type lineTest struct {
	from, inverse [3]float64 // one over each component of the line's vector
	slack         float64    // added to every box
}

// NewLineTest asks about the line between two points about the tree's centre, every box
// being larger by the slack all round.
func NewLineTest(from, to r3.Vector, slack float64) lineTest {
	d := to.Sub(from)
	return lineTest{
		from:    vector.XYZ(from),
		inverse: [3]float64{1 / d.X, 1 / d.Y, 1 / d.Z},
		slack:   slack,
	}
}

// meets says whether the line may meet a box. The slack has to be well over what
// rounding does, 2^-50 of the coordinates.
func (l *lineTest) meets(b *Box32) bool {
	enter, leave := 0.0, 1.0
	for k := range 3 {
		lo := (float64(b.Min[k]) - l.slack - l.from[k]) * l.inverse[k]
		hi := (float64(b.Max[k]) + l.slack - l.from[k]) * l.inverse[k]
		if lo > hi {
			lo, hi = hi, lo
		}
		// A line along the box's side gives 0 times infinity, which no comparison
		// holds for: it counts as meeting.
		if lo > enter {
			enter = lo
		}
		if hi < leave {
			leave = hi
		}
	}
	return enter <= leave*(1+0x1p-40) || math.IsNaN(enter)
}
