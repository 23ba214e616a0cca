package hollow

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// view is a surface looked at along one pull.
type view struct {
	*surface
	hull  hull
	flats []flat
	pull  r3.Vector
	frame Frame
	z     []float64 // height of each corner along the pull over the middle of the box, mm
	label []label   // of each facet
	// level is the height of the parting face that a facet is on, by its label up.
	level   []float64
	regions []region       // parting faces
	steps   bool           // more than one level is looked for
	outline []r2.Point     // of the block in the frame
	cutFrom int            // facets from here on were added by cuts and are in no piece yet
	passed  []bool         // sides of facets, for chaining loops; all false between
	owned   bool           // the surface is a copy that may be cut
	gates   map[int32]bool // sides of facets where a gate was cut
}

// label says what a facet is to the hollows.
type label uint8

const (
	inside  label = iota // of a hollow, or of whatever else is not flat
	up                   // on a parting face, or on the hull and facing along the pull
	down                 // on the hull, facing against the pull
	upright              // on the hull, in a side along the pull
	sloped               // on the hull, in any other side
	gate                 // the upright plane that a gate was cut by
)

// alongSine is the sine up to which a side counts as upright: what an opening in
// it adds to a volume is then below this part of depth times opening, and is
// worked out for steeper ones.
const alongSine = 1e-6

func (s *surface) view(h hull, flats []flat, pull r3.Vector, steps bool) *view {
	v := &view{surface: s, hull: h, flats: flats, pull: pull, steps: steps}
	v.z = make([]float64, len(s.mesh.Vertices))
	for i, p := range s.mesh.Vertices {
		v.z[i] = p.Sub(s.centre).Dot(pull)
	}
	v.label = make([]label, len(s.mesh.Triangles))
	v.level = make([]float64, len(s.mesh.Triangles))
	for t, on := range h.on {
		if on {
			v.label[t] = v.sideOf(t)
			v.level[t] = v.middle(t)
		}
	}
	v.cutFrom = len(v.label)
	v.findRegions()
	return v
}

// sideOf labels a facet of the hull by the plane that it is on. How far that plane is
// tilted is known as well as corners are over its size.
func (v *view) sideOf(t int) label {
	n := v.normals[t]
	a, b, c := v.mesh.Corners(t)
	height := 2 * v.areas[t] / max(b.Sub(a).Norm(), c.Sub(b).Norm(), a.Sub(c).Norm())
	if f := v.hull.flat[t]; f != none {
		n, height = v.flats[f].normal, math.Sqrt(v.flats[f].area)
	}
	const facing = 0.99999 // cosine of 0.26 degrees
	switch rise := n.Dot(v.pull); {
	case rise > facing:
		return up
	case rise < -facing:
		return down
	case math.Abs(rise) <= max(alongSine, 2*v.tol/height):
		return upright
	}
	return sloped
}

func (v *view) span(t int) (lo, hi float64) {
	c := v.mesh.Triangles[t]
	a, b, d := v.z[c[0]], v.z[c[1]], v.z[c[2]]
	return min(a, b, d), max(a, b, d)
}

func (v *view) middle(t int) float64 {
	c := v.mesh.Triangles[t]
	return (v.z[c[0]] + v.z[c[1]] + v.z[c[2]]) / 3
}

// side returns the corners of a side of a facet, in the facet's order.
func (v *view) side(s int32) (a, b int32) {
	t := v.mesh.Triangles[s/3]
	return t[s%3], t[(s%3+1)%3]
}

func (v *view) length(s int32) float64 {
	a, b := v.side(s)
	return v.mesh.Vertices[b].Sub(v.mesh.Vertices[a]).Norm()
}
