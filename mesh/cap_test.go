package mesh

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// flatRing is a ring over points numbered from 0, seen along z.
func flatRing(points []r3.Vector) ring {
	nodes, flat := make([]int32, len(points)), make([]r2.Point, len(points))
	for i, p := range points {
		nodes[i], flat[i] = int32(i), r2.Point{X: p.X, Y: p.Y}
	}
	return newRing(nodes, flat)
}

// perforated is a square plate with n by n holes of k corners each.
func perforated(n, k int) (outer ring, holes []ring) {
	side := float64(n)
	outer = flatRing([]r3.Vector{{}, {X: side}, {X: side, Y: side}, {Y: side}})
	next := int32(len(outer.nodes))
	for i := range n {
		for j := range n {
			hole := make([]r3.Vector, k)
			for c := range hole {
				a := -2 * math.Pi * float64(c) / float64(k) // clockwise
				hole[c] = r3.Vector{X: float64(i) + 0.5 + 0.3*math.Cos(a), Y: float64(j) + 0.5 + 0.3*math.Sin(a)}
			}
			r := flatRing(hole)
			for c := range r.nodes {
				r.nodes[c] += next
			}
			next += int32(k)
			holes = append(holes, r)
		}
	}
	return outer, holes
}
