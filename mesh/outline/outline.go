// Package outline measures what closed polygons of a plane enclose. Polygons may
// cross and lie in each other: outer ones run counter-clockwise, holes clockwise,
// and what is enclosed is where the winding number is 1 or more. Places are decided
// in float64.
package outline

import (
	"slices"

	"github.com/golang/geo/r2"
)

// Area returns the area within a loop, negative if it runs clockwise.
func Area(loop []r2.Point) float64 {
	area := 0.0
	for k := range loop {
		area += loop[k].Sub(loop[0]).Cross(loop[(k+1)%len(loop)].Sub(loop[0])) / 2
	}
	return area
}

// Length returns the length of a closed loop.
func Length(loop []r2.Point) float64 {
	length := 0.0
	for k, p := range loop {
		length += loop[(k+1)%len(loop)].Sub(p).Norm()
	}
	return length
}

// Winding counts how often a loop runs round a point, counter-clockwise positive:
// half-open rule on the ray to the east.
func Winding(loop []r2.Point, p r2.Point) int {
	w := 0
	for k := range loop {
		a, b := loop[k], loop[(k+1)%len(loop)]
		side := b.Sub(a).Cross(p.Sub(a))
		switch {
		case a.Y <= p.Y && b.Y > p.Y && side > 0:
			w++
		case b.Y <= p.Y && a.Y > p.Y && side < 0:
			w--
		}
	}
	return w
}

// Joined returns the length of the boundary of what loops enclose at least once, and
// in how many pieces that is. Where loops run along one another within rounding, the
// length is that of one or of both. The cost grows with the square of the number of
// points.
func Joined(loops [][]r2.Point) (length float64, pieces int) {
	piece := make([]int, len(loops)) // loops that cross have the same number
	for i := range piece {
		piece[i] = i
	}
	outer := make([]bool, len(loops)) // loops with a part that has nothing outside
	for i, loop := range loops {
		for k := range loop {
			a, b := loop[k], loop[(k+1)%len(loop)]
			cuts := []float64{0, 1}
			for j, other := range loops {
				for _, t := range crossingsAlong(a, b, other) {
					if j != i {
						join(piece, i, j)
					}
					cuts = append(cuts, t)
				}
			}
			slices.Sort(cuts)
			for c := range len(cuts) - 1 {
				mid := (cuts[c] + cuts[c+1]) / 2
				if outsideIsEmpty(loops, i, along(a, b, mid), b.Sub(a)) {
					length += (cuts[c+1] - cuts[c]) * b.Sub(a).Norm()
					outer[i] = outer[i] || Area(loop) > 0
				}
			}
		}
	}
	seen := map[int]bool{}
	for i := range loops {
		if outer[i] {
			seen[piece[i]] = true
		}
	}
	return length, len(seen)
}

// join gives all loops of two pieces the number of one.
func join(piece []int, i, j int) {
	from, to := piece[j], piece[i]
	for k := range piece {
		if piece[k] == from {
			piece[k] = to
		}
	}
}

// outsideIsEmpty says whether the winding number is 0 just to the right of a
// point of loop i that runs along dir, and above 0 to its left.
func outsideIsEmpty(loops [][]r2.Point, i int, at, dir r2.Point) bool {
	right := 0
	for j, loop := range loops {
		if j != i {
			right += Winding(loop, at)
			continue
		}
		// The loop itself: a point aside, nearer than its other parts are likely to be.
		const aside = 1e-7
		right += Winding(loop, at.Sub(dir.Ortho().Mul(aside)))
	}
	return right == 0
}

func along(a, b r2.Point, t float64) r2.Point { return a.Add(b.Sub(a).Mul(t)) }

// crossingsAlong returns where the sides of a loop cross the inside of a segment.
func crossingsAlong(a, b r2.Point, loop []r2.Point) []float64 {
	var ts []float64
	d := b.Sub(a)
	for k := range loop {
		c, e := loop[k], loop[(k+1)%len(loop)]
		sc, se := d.Cross(c.Sub(a)), d.Cross(e.Sub(a))
		if (sc > 0) == (se > 0) {
			continue
		}
		at := along(c, e, sc/(sc-se))
		if t := at.Sub(a).Dot(d) / d.Dot(d); t > 0 && t < 1 {
			ts = append(ts, t)
		}
	}
	return ts
}
