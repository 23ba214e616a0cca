package smooth

import (
	"math"

	"bellyline/mesh/exact"
	"bellyline/mesh/parallel"

	"github.com/golang/geo/r3"
)

// unequalEdges is from which ratio on edges of a vertex count as of very
// different lengths. Below that, what a normal between two curvatures adds to
// the facets on one side it takes from those on the other.
const unequalEdges = 2

// plainPart is what one block of facets gives. Plain sums do within a block: what
// they lose is far below what an estimate can tell.
type plainPart struct {
	estimate, area float64
	creased        []int32 // vertices that may have a crease
	uneven         []int32 // vertices that may be peaks
	thin           bool    // there are facets without direction
}

// plainEstimate sums the facets as if the body were smooth all over, and marks
// the vertices where it may not be. Where there are none, that is the estimate.
func (b *bending) plainEstimate() (estimate, area float64) {
	parts := make([]plainPart, parallel.Count(len(b.mesh.Triangles), bendBlock))
	parallel.Blocks(len(b.mesh.Triangles), bendBlock, func(block, from, to int) {
		p := &parts[block]
		for t := from; t < to; t++ {
			b.takePlain(p, &b.mesh.Triangles[t])
		}
	})
	var estimates, areas exact.Sum
	creased := false
	for i := range parts {
		p := &parts[i]
		estimates, areas = estimates.Plus(p.estimate), areas.Plus(p.area)
		b.thin = b.thin || p.thin
		creased = creased || len(p.creased) > 0
		for _, v := range p.creased {
			b.marks[v].special, b.marks[v].creased = true, true
		}
	}
	if creased {
		b.markBesideCreases(parts)
	}
	for i := range parts {
		for _, v := range parts[i].uneven {
			b.marks[v].special, b.marks[v].uneven = true, true
		}
	}
	return estimates.Value(), areas.Value()
}

// takePlain adds one facet to its block. It is written out edge by edge, as nearly
// all of the time for a large model goes here.
func (b *bending) takePlain(p *plainPart, t *[3]int32) {
	v0, v1, v2 := &b.mesh.Vertices[t[0]], &b.mesh.Vertices[t[1]], &b.mesh.Vertices[t[2]]
	e0, e1, e2 := v1.Sub(*v0), v2.Sub(*v1), v0.Sub(*v2)
	n := e0.Cross(e1)
	twice2 := n.Dot(n)
	if !(twice2 > b.thin2*longestOf(e0.Dot(e0), e1.Dot(e1), e2.Dot(e2))) {
		p.thin = true
		return
	}
	twice := math.Sqrt(twice2)
	n0, n1, n2 := &b.vertices[t[0]].normal, &b.vertices[t[1]].normal, &b.vertices[t[2]].normal
	if level := b.cosHalf * twice; n0.Dot(n) < level || n1.Dot(n) < level || n2.Dot(n) < level {
		b.takeCreased(p, t, n, level)
	}
	// Slopes times lengths, at the start and at the end of each edge.
	along0, against0 := -e0.Dot(*n0), e0.Dot(*n1)
	along1, against1 := -e1.Dot(*n1), e1.Dot(*n2)
	along2, against2 := -e2.Dot(*n2), e2.Dot(*n0)
	p.area += twice / 2
	p.estimate += twice / 48 * (along0 + against0 + along1 + against1 + along2 + against2)
	if isUneven(along0, against0) || isUneven(along1, against1) || isUneven(along2, against2) {
		takeUneven(p, t, [3]float64{e0.Norm(), e1.Norm(), e2.Norm()},
			[3]slopes{{along0, against0}, {along1, against1}, {along2, against2}})
	}
}

// takeCreased marks the corners whose normal is off the facet's by half the crease
// angle: the normal times the facet's vector is then below level.
func (b *bending) takeCreased(p *plainPart, t *[3]int32, vector r3.Vector, level float64) {
	for _, v := range t {
		if b.vertices[v].normal.Dot(vector) < level {
			p.creased = append(p.creased, v)
		}
	}
}

// isUneven says whether an edge bends far more at one end than at the other.
func isUneven(along, against float64) bool {
	return math.Abs(along-against) > peakShare*(math.Abs(along)+math.Abs(against))
}

// unevenRest is how far an edge's slopes must differ beyond peakShare, as a share
// of the slopes in its facet, for its ends to be looked at. A vertex is a peak
// when its edges' differences less peakShare of their slopes add up to more than
// 0; so with up to 64 edges one of them goes beyond by a 64th of what each of the
// others stays below.
const unevenRest = 1.0 / 64

// takeUneven marks the ends of edges that bend far more at one of them. The slopes
// are given times the lengths.
func takeUneven(p *plainPart, t *[3]int32, length [3]float64, edge [3]slopes) {
	var beyond [3]float64
	steepest := 0.0
	for i, e := range edge {
		total := (math.Abs(e.near) + math.Abs(e.far)) / length[i]
		beyond[i] = math.Abs(e.near-e.far)/length[i] - peakShare*total
		steepest = max(steepest, total)
	}
	for i, v := range t {
		if beyond[i] > unevenRest*steepest {
			p.uneven = append(p.uneven, v, t[(i+1)%3])
		}
	}
}

// markBesideCreases adds the vertices of all facets at a crease to those that may
// be peaks: the slopes there were taken with a normal that will change.
func (b *bending) markBesideCreases(parts []plainPart) {
	parallel.Blocks(len(b.mesh.Triangles), bendBlock, func(block, from, to int) {
		for _, t := range b.mesh.Triangles[from:to] {
			if b.marks[t[0]].creased || b.marks[t[1]].creased || b.marks[t[2]].creased {
				parts[block].uneven = append(parts[block].uneven, t[0], t[1], t[2])
			}
		}
	})
}
