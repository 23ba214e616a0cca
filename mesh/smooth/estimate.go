// Package smooth estimates what the facets of a tessellated surface cut off of the
// smooth body that was meant.
package smooth

import (
	"math"

	"bellyline/mesh"
	"bellyline/mesh/internal/hugepages"

	"github.com/golang/geo/r3"
)

// DefaultCreaseDegrees is the angle between facets from which Estimate takes
// their edge for a crease of the body instead of a step of its smooth surface.
const DefaultCreaseDegrees = 40

// Estimate returns an estimate of what the facets cut off: the volume of
// the smooth body that was tessellated, less the volume of the facets, in mm3 and
// with its sign (positive where convex parts prevail). It is no bound, and
// nothing to add to a volume.
//
// It assumes that the vertices lie on the true surface, which holds for models
// exported from CAD and for sampled shapes, not for decimated, voxel or smoothed
// ones; and that edges of less than DefaultCreaseDegrees are not edges of the
// true body. Where that holds, facets are no needles and there are 1,000 of
// them or more, what is left of the error is a fifth or less; on cones and
// needles the estimate is better than none. Of flat-sided bodies it is 0.
//
// The surface should be closed and oriented. Cost: two passes over the facets on
// all processors, twice that where nearly all vertices join edges of very
// different length, five times where they are at creases; memory 43 bytes a vertex,
// 24 more with such edges and 200 more beside creases. The result does not depend
// on the number of threads.
func Estimate(m *mesh.Mesh) float64 {
	return EstimateWithCrease(m, DefaultCreaseDegrees)
}

// EstimateWithCrease is Estimate with creases from another angle on,
// between 0 and 90 degrees.
//
// # How it works
//
// Over one facet of area A let the true surface stand at a height w, zero in
// the corners and, as the facet is small, a quadratic function: w = sum over
// edges of c(e)·la·lb with the barycentric coordinates la, lb of the ends. As the
// integral of la·lb is A/12, the volume under it is A/12 times the sum of c(e).
// Along the edge e from a to b, w = c·t(1-t): the slope against the edge is c at
// both ends, which the normals show as -e·na and +e·nb. Hence c is half their sum,
// and
//
//	V(smooth) - V(facets) = sum over facets of A/24 · sum over edges of e·(nb-na).
//
// All depends on the normals. Those of Max (1999, "Weights for computing vertex
// normals from facet normals", J. Graphics Tools 4(2); from memory), each facet
// weighted with sin(angle)/(|e1||e2|), are exact on a sphere whatever the facets.
// A normal is off wherever the curvature jumps, though, and a slope is
// multiplied by the length of the edge: long facets beside a fine rounding would
// drown all the rest. So four things are done, in this order:
//
//  1. Around a vertex, facets are told apart into groups between creases, and each
//     group has its own normal. A facet 30 degrees or more off the normal of its
//     group (at the tip of a cone) uses its own.
//  2. Where all edges of a vertex bend more at it than at their far ends (a tip, a
//     blunt ridge), the surface is not smooth there: each edge counts with the
//     slope of the end that bends less (see isPeak).
//  3. Where edges of very different length meet and the short ones bend far more
//     sharply, the long ones lead into another, flatter piece of the body: they
//     count as straight (see fanEdge).
//  4. A result smaller than a sixteenth of what float32 steps can do to the volume
//     (Moments.StepMM3) is noise of the coordinates, and 0 is returned.
func EstimateWithCrease(m *mesh.Mesh, degrees float64) float64 {
	if len(m.Triangles) == 0 {
		return 0
	}
	step := m.VertexBox().Float32Step()
	b := newBending(m, degrees, 2*step)
	b.findRanges()
	b.findNormals()
	estimate, area := b.plainEstimate()
	b.gatherFans()
	if b.dropPlainFans(); len(b.fans.vertex) > 0 {
		b.splitFans()
		b.judgeFans()
		estimate += b.mending()
	}
	if math.Abs(estimate) <= area*step/2/16 {
		return 0
	}
	return estimate
}

// bending is what is known of how a surface bends between its facets.
type bending struct {
	mesh      *mesh.Mesh
	cosCrease float64
	cosHalf   float64 // of half the crease angle
	thin2     float64 // squared height up to which a facet has no direction
	thin      bool    // there are such facets
	vertices  []bentVertex
	marks     []vertexMarks // by vertex
	ranges    []vertexRange // by block of facets
	fans      fans
}

// bentVertex is what the facets around a vertex tell of it.
type bentVertex struct {
	normal   r3.Vector // of length 1, or 0 when no facet has a direction
	shortest float32   // squared length of the shortest edge
	longest  float32   // squared length of the longest edge
	corners  int32     // of facets that have a direction
	fan      int32     // the number of its fan, where it is special
}

// vertexMarks says why a vertex cannot do with one normal and the plain formula. They
// are apart from all else of a vertex as most passes look at no more.
type vertexMarks struct {
	special bool // needs a fan
	creased bool // may have a crease
	uneven  bool // may be a peak
}

// cosOwn is the cosine of 30 degrees: a facet that is further off the normal of
// its vertex uses its own.
const cosOwn = 0.8660254037844386

func newBending(m *mesh.Mesh, degrees, thin float64) *bending {
	crease := min(max(degrees, 0), 90) * math.Pi / 180
	b := &bending{
		mesh:      m,
		cosCrease: math.Cos(crease),
		cosHalf:   math.Cos(crease / 2),
		thin2:     thin * thin,
		vertices:  hugepages.Make[bentVertex](len(m.Vertices)),
		marks:     hugepages.Make[vertexMarks](len(m.Vertices)),
	}
	return b
}

// bentFacet is one facet, measured.
type bentFacet struct {
	edge   [3]r3.Vector // from corner i to corner i+1
	long2  [3]float64   // their squared lengths
	vector r3.Vector    // twice the area vector
}

// measure fills f, and says whether the facet has a direction: facets no higher than
// the steps of the coordinates do not, and count for nothing.
func (b *bending) measure(t *[3]int32, f *bentFacet) bool {
	v := b.mesh.Vertices
	p, q, r := &v[t[0]], &v[t[1]], &v[t[2]]
	pq, qr, rp := q.Sub(*p), r.Sub(*q), p.Sub(*r)
	pq2, qr2, rp2 := pq.Dot(pq), qr.Dot(qr), rp.Dot(rp)
	n := pq.Cross(qr)
	n2 := n.Dot(n)
	f.edge = [3]r3.Vector{pq, qr, rp}
	f.long2 = [3]float64{pq2, qr2, rp2}
	f.vector = n
	return n2 > b.thin2*pq2 && n2 > b.thin2*qr2 && n2 > b.thin2*rp2
}

// bendBlock is how many facets or vertices are taken at a time.
const bendBlock = 1 << 12

// findNormals finds Max's normal of every vertex from all its facets, and the
// lengths of its edges. It is written out corner by corner, as takePlain is.
func (b *bending) findNormals() {
	b.eachShare(func(from, to int32) {
		for i := from; i < to; i++ {
			b.vertices[i].shortest = float32(math.Inf(1))
		}
		for first, end := range b.facetsNear(from, to) {
			b.takeCorners(first, end, from, to)
		}
		for i := from; i < to; i++ {
			v := &b.vertices[i]
			v.normal = v.normal.Normalize()
			b.marks[i].special = v.longest > unequalEdges*unequalEdges*v.shortest
		}
	})
}

// takeCorners adds the corners of the facets from first to below end to their
// vertices, where these are from..to-1.
func (b *bending) takeCorners(first, end int, from, to int32) {
	share := uint32(to - from) // a vertex v is in it when uint32(v-from) is below
	for i := first; i < end; i++ {
		t := &b.mesh.Triangles[i]
		mine0, mine1, mine2 := uint32(t[0]-from) < share, uint32(t[1]-from) < share, uint32(t[2]-from) < share
		if !(mine0 || mine1 || mine2) {
			continue
		}
		p0, p1, p2 := &b.mesh.Vertices[t[0]], &b.mesh.Vertices[t[1]], &b.mesh.Vertices[t[2]]
		e0, e1, e2 := p1.Sub(*p0), p2.Sub(*p1), p0.Sub(*p2)
		n := e0.Cross(e1)
		l0, l1, l2 := e0.Dot(e0), e1.Dot(e1), e2.Dot(e2)
		if !(n.Dot(n) > b.thin2*longestOf(l0, l1, l2)) {
			continue
		}
		// As 1/(l0·l2) = l1/(l0·l1·l2), one division does for three weights.
		weight := n.Mul(1 / (l0 * l1 * l2))
		if mine0 {
			b.vertices[t[0]].take(weight.Mul(l1), float32(l0), float32(l2))
		}
		if mine1 {
			b.vertices[t[1]].take(weight.Mul(l2), float32(l1), float32(l0))
		}
		if mine2 {
			b.vertices[t[2]].take(weight.Mul(l0), float32(l2), float32(l1))
		}
	}
}

// take adds the corner of a facet to its vertex, with its weighted normal and the
// squared lengths of both edges.
func (v *bentVertex) take(normal r3.Vector, out, in float32) {
	v.corners++
	v.normal = v.normal.Add(normal)
	if out < in {
		out, in = in, out
	}
	if in < v.shortest {
		v.shortest = in
	}
	if out > v.longest {
		v.longest = out
	}
}

// longestOf returns the largest of three lengths. Comparing is quicker than max,
// which minds NaN and the sign of zero.
func longestOf(a, b, c float64) float64 {
	if b > a {
		a = b
	}
	if c > a {
		a = c
	}
	return a
}
