package hollow

import (
	"math"

	"bellyline/mesh"
	"bellyline/mesh/exact"
)

// role is what a piece is to the parting face.
type role int

const (
	opens     role = iota // a hollow
	raised                // stands up from the parting face: a pin, an insert
	step                  // leads from one parting face to a lower one
	outline               // a notch in the block's outline, a broken edge
	elsewhere             // opens on other faces only
	void                  // opens nowhere
	torn                  // ends where the surface is open
	trifle                // no deeper than corners are known
)

// mostAtSides is the share of its edge that a hollow has in the block's sides at
// most; what has more is a notch in the side.
const mostAtSides = 0.6

func (v *view) roleOf(p *piece) role {
	r := p.rim
	all := r.length + r.sides + r.slopes + r.far + r.open
	switch {
	case len(p.loops) == 0:
		return void
	case r.open > 0:
		return torn
	case r.length == 0:
		return elsewhere
	case r.inTheOutline:
		return outline
	case p.rim.stepsDown:
		return step
	case p.rimMM-p.low <= 8*v.tol || p.opening <= 0 && p.volume >= 0:
		return trifle
	case p.volume <= 0:
		return raised
	case r.sides+r.slopes > mostAtSides*all:
		return outline
	}
	return opens
}

// What a round hole is: an opening that is a circle, or a polygon of eight sides
// or more (4 pi A / P^2 is 0.948 for eight), walls that are upright but for a
// draft, and not much flatter than wide.
const (
	roundness    = 0.94
	draftSine    = 0.2  // 11.5 degrees from upright
	uprightShare = 0.5  // of the area of its surface
	leastDepth   = 0.35 // of its diameter
)

// isRoundHole tells pin and bolt holes by their shape. A shallow disc or a ball is
// none.
func (v *view) isRoundHole(p *piece) bool {
	if len(p.loops) == 0 || p.rim.sides+p.rim.slopes > 0 || p.opening <= 0 || p.rim.length <= 0 {
		return false
	}
	if 4*math.Pi*p.opening/(p.rim.length*p.rim.length) < roundness {
		return false
	}
	walls, all := 0.0, 0.0
	for _, t := range p.facets {
		all += v.areas[t]
		if math.Abs(v.normals[t].Dot(v.pull)) < draftSine {
			walls += v.areas[t]
		}
	}
	diameter := 2 * math.Sqrt(p.opening/math.Pi)
	return walls > uprightShare*all && p.rimMM-p.low > leastDepth*diameter
}

// undercut returns how much of some facets faces away from the pull by more than
// corners are known: its area seen along the pull, and the area itself, in mm2.
func (v *view) undercut(facets []int32) (seen, area float64) {
	var shadow, all exact.Sum
	for _, t := range facets {
		if v.facesDown(t) {
			all = all.Plus(v.areas[t])
			shadow = shadow.Plus(-v.areas[t] * v.normals[t].Dot(v.pull))
		}
	}
	return shadow.Value(), all.Value()
}

func (v *view) facesDown(t int32) bool {
	rise := v.normals[t].Dot(v.pull)
	if rise >= 0 || v.areas[t] == 0 {
		return false
	}
	a, b, c := v.mesh.Corners(int(t))
	longest := max(b.Sub(a).Norm(), c.Sub(b).Norm(), a.Sub(c).Norm())
	// A corner that is off by tol turns the facet by tol over its height.
	return -rise*2*v.areas[t]/longest > v.tol
}

// box returns the smallest box around facets in a frame.
func (v *view) box(f Frame, facets []int32) mesh.Box {
	box := mesh.EmptyBox()
	for _, t := range facets {
		for _, c := range v.mesh.Triangles[t] {
			box = box.With(f.To(v.mesh.Vertices[c]))
		}
	}
	return box
}
