package stream

import (
	"cmp"
	"math"
	"slices"
)

// span is plastic on a straight line, from wall to wall.
type span struct {
	lo, hi         float64
	loLean, hiLean float64 // how far each wall moves along the line when the line moves aside by 1
}

// lattice is a row of lines: line i lies at origin + (i+1/2)*step. Its numbers
// halve from one grid to the next coarser one, so that cells nest.
type lattice struct {
	origin, step float64
	first, count int // the first line and how many there are
}

func (l lattice) at(i int) float64 { return l.origin + (float64(i)+0.5)*l.step }

// newLattice lays lines over all of lo..hi.
func newLattice(origin, step, lo, hi float64) lattice {
	first := int(math.Floor((lo - origin) / step))
	last := int(math.Floor((hi - origin) / step))
	return lattice{origin: origin, step: step, first: first, count: last - first + 1}
}

// crossing is where a side of a section crosses a line; turn is what that adds to
// the winding number.
type crossing struct {
	at, lean float64
	turn     int8
}

// scanColumns returns the plastic on upright lines, scanRows on level ones.
func scanColumns(edges []edge, lines lattice) [][]span {
	return scan(edges, lines, func(e edge) (c0, t0, c1, t1 float64, turn int8) {
		return e.a.X, e.a.Y, e.b.X, e.b.Y, 1
	})
}

func scanRows(edges []edge, lines lattice) [][]span {
	return scan(edges, lines, func(e edge) (c0, t0, c1, t1 float64, turn int8) {
		return e.a.Y, e.a.X, e.b.Y, e.b.X, -1
	})
}

// scan walks along every side once. A side owns its line at its higher end, not
// that at its lower, so that a corner on a line is crossed once.
func scan(edges []edge, lines lattice, turned func(edge) (c0, t0, c1, t1 float64, turn int8)) [][]span {
	found := make([][]crossing, lines.count)
	for _, e := range edges {
		c0, t0, c1, t1, turn := turned(e)
		if c0 == c1 {
			continue
		}
		lo, hi := c0, c1
		if lo > hi {
			lo, hi, turn = hi, lo, -turn
		}
		slope := (t1 - t0) / (c1 - c0)
		i := max(lines.first, int(math.Floor((lo-lines.origin)/lines.step-0.5))-1)
		for lines.at(i) <= lo {
			i++
		}
		for ; i < lines.first+lines.count && lines.at(i) <= hi; i++ {
			found[i-lines.first] = append(found[i-lines.first], crossing{t0 + slope*(lines.at(i)-c0), math.Abs(slope), turn})
		}
	}
	all := make([][]span, lines.count)
	for i, f := range found {
		all[i] = spansOf(f)
	}
	return all
}

// scanLine returns the plastic on the upright line at x.
func scanLine(edges []edge, x float64) []span {
	return scanColumns(edges, lattice{origin: x - 0.5, step: 1, count: 1})[0]
}

// spansOf follows the winding number along one line. Of crossings at one place
// those into the plastic come first, so that shells that touch are joined.
func spansOf(found []crossing) []span {
	slices.SortFunc(found, func(a, b crossing) int { return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(b.turn, a.turn)) })
	var list []span
	wound := 0
	var start crossing
	for _, c := range found {
		before := wound
		wound += int(c.turn)
		switch {
		case before < 1 && wound >= 1:
			start = c
		case before >= 1 && wound < 1 && c.at > start.at:
			list = append(list, span{lo: start.at, hi: c.at, loLean: start.lean, hiLean: c.lean})
		}
	}
	return list
}
