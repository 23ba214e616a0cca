package mesh

import (
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// joinedOutline returns the length of the boundary of what loops enclose at least
// once, and in how many pieces that is. Loops of different shells may cross and
// lie in each other. Places are decided in float64: where loops run along one
// another within rounding, the length is that of one or of both.
func joinedOutline(p Plane, loops [][]r3.Vector) (lengthMM float64, pieces int) {
	flat := flatten(p, loops)
	sets := newFacetSets(len(flat))
	outer := make([]bool, len(flat)) // loops with a part that has nothing outside
	for i, loop := range flat {
		for k := range loop {
			a, b := loop[k], loop[(k+1)%len(loop)]
			cuts := []float64{0, 1}
			for j, other := range flat {
				for _, t := range crossingsAlong(a, b, other) {
					if j != i {
						sets.join(int32(i), int32(j))
					}
					cuts = append(cuts, t)
				}
			}
			slices.Sort(cuts)
			for c := range len(cuts) - 1 {
				mid := (cuts[c] + cuts[c+1]) / 2
				if outsideIsEmpty(flat, i, along(a, b, mid), b.Sub(a)) {
					lengthMM += (cuts[c+1] - cuts[c]) * b.Sub(a).Norm()
					outer[i] = outer[i] || signedArea(loop) > 0
				}
			}
		}
	}
	roots := map[int32]bool{}
	for i := range flat {
		if outer[i] {
			roots[sets.root(int32(i))] = true
		}
	}
	return lengthMM, len(roots)
}

// outsideIsEmpty says whether the winding number is 0 just to the right of a
// point of loop i that runs along dir, and above 0 to its left.
func outsideIsEmpty(loops [][]r2.Point, i int, at, dir r2.Point) bool {
	right := 0
	for j, loop := range loops {
		if j != i {
			right += windingInPlane(loop, at)
			continue
		}
		// The loop itself: a point aside, nearer than its other parts are likely to be.
		const aside = 1e-7
		right += windingInPlane(loop, at.Sub(dir.Ortho().Mul(aside)))
	}
	return right == 0
}

// flatten gives loops places in the plane: right-handed seen from above.
func flatten(p Plane, loops [][]r3.Vector) [][]r2.Point {
	n := p.Normal.Normalize()
	east := n.Ortho()
	north := n.Cross(east)
	flat := make([][]r2.Point, len(loops))
	for i, loop := range loops {
		for _, v := range loop {
			flat[i] = append(flat[i], r2.Point{X: east.Dot(v), Y: north.Dot(v)})
		}
	}
	return flat
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

// windingInPlane counts how often a loop runs round a point, counter-clockwise
// positive: half-open rule on the ray to the east.
func windingInPlane(loop []r2.Point, p r2.Point) int {
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

func signedArea(loop []r2.Point) float64 {
	area := 0.0
	for k := range loop {
		area += loop[k].Sub(loop[0]).Cross(loop[(k+1)%len(loop)].Sub(loop[0])) / 2
	}
	return area
}
