package tree

import (
	"cmp"
	"math"
	"slices"

	"bellyline/mesh"
	"bellyline/mesh/internal/bvh"
	"bellyline/mesh/vector"

	"github.com/golang/geo/r3"
)

// Hit is where a ray meets a facet.
type Hit struct {
	Facet      int
	DistanceMM float64 // from the ray's origin
	Inward     bool    // the ray goes in through the facet, against its outward normal
}

// Ray returns where a ray meets the surface, nearest first, facets at the same
// distance by their numbers. The direction need not be a unit vector; without one
// there is no hit.
//
// A ray never slips between two facets that share an edge (Woop, Benthin and Wald,
// Watertight Ray/Triangle Intersection, J. Computer Graphics Techniques 2 (2013)
// 65; from memory). One that goes exactly through an edge or a corner meets every
// facet there, and one that runs in a facet's plane does not meet it; to ask what
// is inside, use Winding. It takes time in proportion to the hits and to the
// logarithm of the facets, and is safe for many goroutines.
func (t *Tree) Ray(origin, direction r3.Vector) []Hit {
	length := direction.Norm()
	from := origin.Sub(t.h.Centre)
	if !(length > 0) || math.IsInf(length, 1) {
		return nil
	}
	reach := from.Norm() + t.h.Box.Diagonal()
	s := newShear(from, direction.Mul(1/length))
	line := bvh.NewLineTest(from, from.Add(s.direction.Mul(reach)), 0x1p-40*reach)
	var hits []Hit
	_ = t.h.EachAlong(&line, func(f int32) error {
		if h, ok := s.meet(t.h.Mesh, t.h.Centre, f); ok {
			hits = append(hits, h)
		}
		return nil
	})
	slices.SortFunc(hits, func(a, b Hit) int {
		return cmp.Or(cmp.Compare(a.DistanceMM, b.DistanceMM), cmp.Compare(a.Facet, b.Facet))
	})
	return hits
}

// shear turns space so that a ray starts at the origin and runs along an axis.
// Every corner is moved the same way whatever facet it belongs to, so two facets
// agree about which side of a common edge the ray passes.
type shear struct {
	origin, direction r3.Vector
	x, y, z           int // z is the axis that the ray is most along
	slopeX, slopeY    float64
	scale             float64
}

func newShear(origin, direction r3.Vector) shear {
	s := shear{origin: origin, direction: direction, z: int(direction.LargestComponent())}
	s.x, s.y = (s.z+1)%3, (s.z+2)%3
	d := vector.XYZ(direction)
	s.slopeX, s.slopeY, s.scale = d[s.x]/d[s.z], d[s.y]/d[s.z], 1/d[s.z]
	return s
}

// apply returns a corner as the ray sees it: across, up, and along in mm.
func (s *shear) apply(p r3.Vector) (x, y, z float64) {
	q := vector.XYZ(p.Sub(s.origin))
	return q[s.x] - float64(s.slopeX*q[s.z]), q[s.y] - float64(s.slopeY*q[s.z]), q[s.z] * s.scale
}

// meet returns where the ray meets a facet, if it does.
func (s *shear) meet(m *mesh.Mesh, centre r3.Vector, f int32) (Hit, bool) {
	a, b, c := m.Corners(int(f))
	ax, ay, az := s.apply(a.Sub(centre))
	bx, by, bz := s.apply(b.Sub(centre))
	cx, cy, cz := s.apply(c.Sub(centre))
	// Products apart from their difference: fused, it would not change its sign with
	// the direction of the edge.
	u := float64(cx*by) - float64(cy*bx)
	v := float64(ax*cy) - float64(ay*cx)
	w := float64(bx*ay) - float64(by*ax)
	if (u < 0 || v < 0 || w < 0) && (u > 0 || v > 0 || w > 0) {
		return Hit{}, false
	}
	whole := u + v + w
	if whole == 0 {
		return Hit{}, false
	}
	distance := (u*az + v*bz + w*cz) / whole
	if !(distance >= 0) {
		return Hit{}, false
	}
	n := b.Sub(a).Cross(c.Sub(a))
	return Hit{Facet: int(f), DistanceMM: distance, Inward: n.Dot(s.direction) < 0}, true
}
