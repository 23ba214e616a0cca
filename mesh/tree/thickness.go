package tree

import (
	"context"
	"math"

	"bellyline/mesh"
	"bellyline/mesh/halfedge"
	"bellyline/mesh/internal/bvh"
	"bellyline/mesh/parallel"

	"github.com/golang/geo/r3"
)

// BallRadius returns the radius of the largest ball that touches the surface at a
// point from inside, and the facet that keeps it from being larger. inward is a
// unit vector into the body there. On a slab it is half the thickness, in a round
// stick the stick's radius; it goes to zero towards a sharp edge. Without anything
// in the way the radius is infinite and the facet -1.
//
// A facet whose outward normal is within smooth (radians) of against inward counts
// as the same face as the point and does not stop the ball. Without that the
// facets of a stick would stop balls that touch beside their middles: next to a
// flat facet its neighbour is an edge, if a blunt one. With smooth = 0 they do.
//
// The surface may reach into the ball by a thousandth of its radius.
//
// The ball starts larger than the mesh and shrinks to touch the point nearest to
// its centre, until none is inside (Ma, Bae and Choi, 3D medial point approximation
// using nearest neighbors and the normal field, The Visual Computer 28 (2012) 7;
// from memory). That takes a few searches for a nearest point; it is safe for many
// goroutines.
func (t *Tree) BallRadius(at, inward r3.Vector, smooth float64) (radiusMM float64, facet int) {
	radius, facet := 2*t.h.Box.Diagonal(), -1
	for range maxShrinks {
		s := nearestSearch{
			h: t.h, from: at.Add(inward.Mul(radius)).Sub(t.h.Centre), facet: -1,
			squared: radius * radius * (1 - ballTolerance) * (1 - ballTolerance),
			away:    inward, cosine: math.Cos(smooth), filtered: smooth > 0,
		}
		root, ok := t.h.Root()
		if ok {
			s.node(root)
		}
		if s.facet < 0 {
			break // nothing inside the ball
		}
		v := s.at.Add(t.h.Centre).Sub(at)
		smaller := v.Norm2() / (2 * v.Dot(inward))
		if !(smaller < radius) || smaller < 0 {
			break // rounding: the point touched is the one to begin with
		}
		radius, facet = smaller, int(s.facet)
	}
	if facet < 0 {
		return math.Inf(1), -1
	}
	return radius, facet
}

const (
	// ballTolerance is by which share a ball's radius may be larger than the distance
	// from its centre to the surface. All facets near the place that the ball touches
	// are within a small one, and would have to be looked at.
	ballTolerance = 1e-3
	maxShrinks    = 100 // a handful is usual
)

// Angles in Thickness, in radians.
const (
	// creaseAngle is between the normals of facets that are not one smooth face.
	creaseAngle = 40 * math.Pi / 180
	// cornerAngle is how far the mean normal at a vertex may be from the facet's own
	// and still be taken for that of the smooth surface.
	cornerAngle = 30 * math.Pi / 180
)

// Thickness returns the local thickness in mm at the middle of each facet: the
// diameter of the largest ball that touches it there from inside (see BallRadius).
// Facets are taken for a smooth surface where they meet at less than 40 degrees:
// the ball's direction is the mean of the normals at the corners, and facets of the
// same face do not stop it. It is NaN for a facet without area and infinite where
// nothing faces the facet. Facets are looked at on all threads; it returns ctx.Err()
// when ctx ends.
func (t *Tree) Thickness(ctx context.Context) ([]float64, error) {
	normals := vertexNormals(t.h.Mesh)
	thickness := make([]float64, len(t.h.Mesh.Triangles))
	parallel.Blocks(len(thickness), bvh.Fan*bvh.Fan, func(_, from, to int) {
		// In the order of the tree one facet's neighbours are fresh in memory.
		for _, f := range t.h.Order[from:to] {
			if ctx.Err() != nil {
				return
			}
			inward, ok := inwardAt(t.h.Mesh, f, normals)
			if !ok {
				thickness[f] = math.NaN()
				continue
			}
			a, b, c := t.h.Mesh.Corners(int(f))
			radius, _ := t.BallRadius(a.Add(b).Add(c).Mul(1.0/3), inward, creaseAngle)
			thickness[f] = 2 * radius
		}
	})
	return thickness, ctx.Err()
}

// vertexNormals returns the mean normal at each vertex, its facets weighted by their
// angles there (Thuermer and Wuethrich, J. Graphics Tools 3(1) (1998) 43; from
// memory).
func vertexNormals(m *mesh.Mesh) []r3.Vector {
	normals := make([]r3.Vector, len(m.Vertices))
	for f, tri := range m.Triangles {
		a, b, c := m.Corners(f)
		n := b.Sub(a).Cross(c.Sub(a)).Normalize()
		p := [3]r3.Vector{a, b, c}
		for k, v := range tri {
			next, last := p[halfedge.After(k)].Sub(p[k]), p[halfedge.After(halfedge.After(k))].Sub(p[k])
			normals[v] = normals[v].Add(n.Mul(float64(next.Angle(last))))
		}
	}
	for v, n := range normals {
		normals[v] = n.Normalize()
	}
	return normals
}

// inwardAt returns the inward direction in the middle of a facet: against the mean
// of the normals at its corners, where those are not off at a crease.
func inwardAt(m *mesh.Mesh, f int32, normals []r3.Vector) (r3.Vector, bool) {
	a, b, c := m.Corners(int(f))
	own := b.Sub(a).Cross(c.Sub(a))
	size := own.Norm()
	if !(size > 0) {
		return own, false
	}
	own = own.Mul(1 / size)
	mean := r3.Vector{}
	for _, v := range m.Triangles[f] {
		if normals[v].Dot(own) > math.Cos(cornerAngle) {
			mean = mean.Add(normals[v])
		} else {
			mean = mean.Add(own)
		}
	}
	return mean.Normalize().Mul(-1), true
}
