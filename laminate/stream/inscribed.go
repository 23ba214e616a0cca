package stream

import (
	"container/heap"
	"math"

	"github.com/golang/geo/r2"
)

// InscribedMM returns the diameter of the largest circle within a section, to one
// part in two hundred, or 0 where it is far below a thousandth of a millimetre.
// Squares are halved while their best possible circle is
// larger than the best one found (quadtree branch and bound). Sides that another
// shell covers are taken as walls, so where shells overlap the circle may be too
// small, never too large. Cost: a few hundred passes over the sides.
func (s Section) InscribedMM() float64 {
	edges := s.edges()
	if len(edges) == 0 {
		return 0
	}
	box := s.Bounds()
	wide, tall := box.X.Length(), box.Y.Length()
	if !(min(wide, tall) > 0) {
		return 0
	}
	size := max(min(wide, tall), max(wide, tall)/mostSquares) // of the first squares: slivers need not many
	best := 0.0
	queue := &squares{}
	push := func(at r2.Point, half float64) {
		d := signedDistance(edges, at)
		best = max(best, d)
		if reach := d + half*math.Sqrt2; half > finest && reach > best*(1+inscribedPrecision) {
			heap.Push(queue, square{at, half, reach})
		}
	}
	half := size / 2
	for x := box.X.Lo; x < box.X.Hi; x += size {
		for y := box.Y.Lo; y < box.Y.Hi; y += size {
			push(r2.Point{X: x + half, Y: y + half}, half)
		}
	}
	for queue.Len() > 0 {
		q := heap.Pop(queue).(square)
		if q.reach <= best*(1+inscribedPrecision) {
			break
		}
		h := q.half / 2
		for _, d := range [4]r2.Point{{X: -h, Y: -h}, {X: h, Y: -h}, {X: -h, Y: h}, {X: h, Y: h}} {
			push(q.at.Add(d), h)
		}
	}
	return 2 * best
}

const (
	inscribedPrecision = 0.005
	mostSquares        = 1000
	finest             = thinnest / 4 // mm: circles much smaller than thinnest are not looked for
)

// signedDistance is how far a point lies from the nearest side, negative outside.
func signedDistance(edges []edge, p r2.Point) float64 {
	nearest, wound := math.Inf(1), 0
	for _, e := range edges {
		d, v := e.b.Sub(e.a), p.Sub(e.a)
		t := max(0, min(1, v.Dot(d)/d.Dot(d)))
		foot := v.Sub(d.Mul(t))
		nearest = min(nearest, foot.Dot(foot))
		side := d.Cross(v)
		switch {
		case e.a.Y <= p.Y && e.b.Y > p.Y && side > 0:
			wound++
		case e.b.Y <= p.Y && e.a.Y > p.Y && side < 0:
			wound--
		}
	}
	if wound < 1 {
		return -math.Sqrt(nearest)
	}
	return math.Sqrt(nearest)
}

// square is a part of the plane and the radius of the largest circle that could
// have its centre there.
type square struct {
	at          r2.Point
	half, reach float64
}

type squares []square

func (q squares) Len() int           { return len(q) }
func (q squares) Less(i, j int) bool { return q[i].reach > q[j].reach }
func (q squares) Swap(i, j int)      { q[i], q[j] = q[j], q[i] }
func (q *squares) Push(x any)        { *q = append(*q, x.(square)) }
func (q *squares) Pop() any {
	old := *q
	last := old[len(old)-1]
	*q = old[:len(old)-1]
	return last
}
