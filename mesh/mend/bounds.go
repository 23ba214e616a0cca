package mend

import (
	"math"

	"bellyline/mesh"
	"bellyline/mesh/vector"

	"github.com/golang/geo/r3"
)

// steepWall is how much a facet beside a flat hole may rise over its plane, as a
// slope, and still be taken to go on beyond the rim: 84 degrees. What is steeper
// has no tip within reach, and is taken to have ended in a flat face.
const steepWall = 10

// gapWidth is a typical width of a hole: that of a strip as long as it is across,
// with the area of its cap.
func (r *rim) gapWidth(area float64) float64 { return 2 * area / r.across }

// gapBound bounds what it does if a narrow hole is no missing surface but facets
// that do not meet, because corners are out of place by its width w. That goes for
// facets beside that are so large that w is a small part of them: at most a
// quarter of their least height. Each sweeps no more than w times its area.
func (d *mender) gapBound(r *rim, area float64) float64 {
	w, swept := r.gapWidth(area), 0.0
	for _, f := range r.facets {
		if 4*w <= d.m.HeightOf(f) {
			swept += w * d.m.AreaOf(int(f))
		}
	}
	return swept
}

// smallHoleBound bounds what may be missing over a cap that is not flat, if it has
// at most twice the area C of the cap: together they are a closed surface of area
// 3 C, see ballOfArea.
func (d *mender) smallHoleBound(r *rim, facets [][3]int32) float64 {
	lid := mesh.Mesh{Vertices: d.m.Vertices, Triangles: facets}
	var area float64
	for f := range facets {
		area += lid.AreaOf(f)
	}
	return ballOfArea(3*area) + d.gapBound(r, area)
}

// flatHoleBound bounds what may be missing over a flat cap: the tip above it, and
// the area times the spread of the rim about its plane.
//
// A convex body lies on the inner side of each of its facets. So above the plane
// of the rim it stays below the plane of every facet beside, which over the point
// p has the height k(e) * distance(p, e), k(e) being its slope. Summed over the
// triangles between the rim's edges and its centre that is at most
//
//	sum over e of min(k(e) A(e) d(e) / 3, A(e) h)
//
// with d(e) the distance of the centre from the edge, A(e) the area of the
// triangle, h the least slope of all times the width of the hole. A cone is met
// exactly. Twice that is taken, for bodies not quite convex. A surface that bends
// in goes into the body instead, by as much.
func (d *mender) flatHoleBound(r *rim) float64 {
	n, ok := vector.Unit(r.vector)
	if !ok {
		return 0
	}
	area, tip, least := r.vector.Norm(), 0.0, math.Inf(1)
	known := area*r.spread + d.gapBound(r, area)
	slopes := make([]float64, len(r.vertices))
	for i := range r.vertices {
		slopes[i] = d.slopeBeside(r, i, n)
		least = min(least, slopes[i])
	}
	if least > steepWall {
		return known
	}
	for i, v := range r.vertices {
		a, b := d.m.Vertices[v], d.m.Vertices[r.vertices[(i+1)%len(r.vertices)]]
		twice := b.Sub(a).Cross(r.centre.Sub(a)).Norm()
		height := least * r.across
		if k := slopes[i]; k <= steepWall {
			height = min(height, k*twice/a.Distance(b)/3)
		}
		tip += twice / 2 * height
	}
	return 2*tip + known
}

// slopeBeside returns how steeply the facet at the i-th edge of a rim rises over
// the plane of the rim, or falls, if it leans over the hole; infinity if not.
func (d *mender) slopeBeside(r *rim, i int, n r3.Vector) float64 {
	a, b, c := d.m.Corners(int(r.facets[i]))
	facing, ok := vector.Unit(b.Sub(a).Cross(c.Sub(a)))
	if !ok || !(facing.Dot(n) > 0) {
		return math.Inf(1)
	}
	from, to := d.m.Vertices[r.vertices[i]], d.m.Vertices[r.vertices[(i+1)%len(r.vertices)]]
	along, _ := vector.Unit(to.Sub(from))
	return math.Abs(along.Dot(facing.Cross(n))) / facing.Dot(n)
}
