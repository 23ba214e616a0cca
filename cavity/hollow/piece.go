package hollow

import (
	"math"

	"bellyline/mesh/exact"
)

// piece is a connected part of the surface without parting faces and hull.
type piece struct {
	facets []int32
	loops  []loop
	rimMM  float64 // height of the plane that it is measured from, over the middle of the box
	rim    rim
	volume float64 // mm3, negative for what stands up from its rim
	// sidesMM3 is the part of volume that closing openings in sloped sides adds.
	sidesMM3 float64
	opening  float64 // area in the parting faces, mm2
	low      float64 // lowest height
	lowest   int32   // the corner there
}

// rim is what a piece's edge on parting faces is.
type rim struct {
	length                  float64 // mm, on parting faces
	sides, slopes, far      float64 // mm, on upright sides, on sloped ones, on the face behind
	open, gates             float64 // mm, of edges with no facet beyond, of edges cut at gates
	lowest, highest         float64 // heights of the edges on parting faces
	spread                  float64 // how far corners lie from their own level, mm
	stepsDown, inTheOutline bool
}

// loop is one closed chain of sides of facets beyond which the piece ends.
type loop []int32

// pieces returns what is connected by edges when parting faces and hull are gone,
// measured. Each side of a facet is looked at a few times.
func (v *view) pieces() []*piece {
	seen := make([]bool, len(v.label))
	var list []*piece
	for t := range v.label {
		if seen[t] || v.label[t] != inside {
			continue
		}
		p := v.connected(int32(t), seen)
		if v.measure(p) {
			list = append(list, p)
		}
	}
	return list
}

func (v *view) connected(first int32, seen []bool) *piece {
	p := &piece{facets: []int32{first}}
	seen[first] = true
	for i := 0; i < len(p.facets); i++ {
		for side := 3 * p.facets[i]; side < 3*p.facets[i]+3; side++ {
			twin := v.twins[side]
			if twin == none {
				continue
			}
			if o := twin / 3; v.label[o] == inside && !seen[o] {
				seen[o] = true
				p.facets = append(p.facets, o)
			}
		}
	}
	return p
}

// measure fills in a piece; false is one without any facet of area. Of a piece that
// no parting face bounds only its edges are looked at.
func (v *view) measure(p *piece) bool {
	p.lowest = v.mesh.Triangles[p.facets[0]][0]
	p.low = v.z[p.lowest]
	p.loops = v.loopsOf(p.facets)
	v.survey(p)
	area := 0.0
	for _, t := range p.facets {
		area += v.areas[t]
		if p.rim.length == 0 && area > 0 {
			return true
		}
		for _, c := range v.mesh.Triangles[t] {
			if v.z[c] < p.low {
				p.low, p.lowest = v.z[c], c
			}
		}
	}
	v.addUp(p)
	return area > 0
}

// measureFrom fills in a part of a piece, from the piece's rim.
func (v *view) measureFrom(p *piece, rimMM float64) {
	v.measure(p)
	p.rimMM, p.volume, p.sidesMM3, p.opening = rimMM, 0, 0, 0
	v.addUp(p)
}

// addUp sums what a piece holds below its rim.
func (v *view) addUp(p *piece) {
	var volume exact.Sum
	for _, t := range p.facets {
		volume = volume.Plus(-v.flux(t, p.rimMM))
	}
	for _, l := range p.loops {
		v.close(p, l, &volume)
	}
	p.volume = volume.Value()
}

// flux is that of (0, 0, z-height) through a facet: its shadow on the parting
// face times its mean height.
func (v *view) flux(t int32, height float64) float64 {
	c := v.mesh.Triangles[t]
	return v.shadow(c[0], c[1], c[2]) * ((v.z[c[0]] - height) + (v.z[c[1]] - height) + (v.z[c[2]] - height)) / 3
}

// shadow is the area of three corners seen along the pull, positive when they run
// counter-clockwise.
func (v *view) shadow(a, b, c int32) float64 {
	p := v.mesh.Vertices
	return p[b].Sub(p[a]).Cross(p[c].Sub(p[a])).Dot(v.pull) / 2
}

// loopsOf chains the sides of facets beyond which there is no facet of the set.
func (v *view) loopsOf(facets []int32) []loop {
	in := func(t int32) bool { return v.label[t] == inside }
	ends := func(side int32) bool { return v.twins[side] == none || !in(v.twins[side]/3) }
	if len(v.passed) < len(v.twins) {
		v.passed = make([]bool, len(v.twins))
	}
	done := v.passed
	var loops []loop
	for _, t := range facets {
		for side := 3 * t; side < 3*t+3; side++ {
			if done[side] || !ends(side) {
				continue
			}
			var l loop
			for s := side; !done[s]; {
				done[s] = true
				l = append(l, s)
				// Round the corner at the end of s to the next side that ends the set.
				s = next(s)
				for turns := 0; !ends(s) && turns < len(v.twins); turns++ {
					s = next(v.twins[s])
				}
			}
			loops = append(loops, l)
		}
	}
	for _, l := range loops { // ready for the next piece
		for _, s := range l {
			done[s] = false
		}
	}
	return loops
}

// next returns the side that follows in the same facet.
func next(side int32) int32 {
	if side%3 == 2 {
		return side - 2
	}
	return side + 1
}

// beyond returns the label of what lies beyond a side, and its level where it is up.
func (v *view) beyond(side int32) (label, float64) {
	twin := v.twins[side]
	switch {
	case twin == none && v.gates[side]:
		return gate, 0
	case twin == none:
		return inside, 0
	}
	return v.label[twin/3], v.level[twin/3]
}

// survey looks along a piece's edges.
func (v *view) survey(p *piece) {
	r := rim{lowest: math.Inf(1), highest: math.Inf(-1)}
	var moment exact.Sum
	for _, l := range p.loops {
		wasUp, wasDown := false, false
		for _, s := range l {
			a, _ := v.side(s)
			length := v.length(s)
			switch what, level := v.beyond(s); what {
			case up:
				r.length += length
				moment = moment.Plus(length * level)
				r.lowest, r.highest = min(r.lowest, level), max(r.highest, level)
				r.spread = max(r.spread, math.Abs(v.z[a]-level))
				wasUp = true
			case down:
				r.far += length
				wasDown = true
			case upright:
				r.sides += length
			case sloped:
				r.slopes += length
			case gate:
				r.gates += length
			default:
				r.open += length
			}
		}
		r.inTheOutline = r.inTheOutline || wasUp && wasDown
	}
	if r.length > 0 {
		p.rimMM = moment.Value() / r.length
		if r.highest-r.lowest <= 2*v.tol {
			r.spread += r.highest - r.lowest
		}
	}
	p.rim = r
}

// stretch is the part of a loop beyond which lies one plane.
type stretch struct {
	what    label
	level   float64 // where what is up
	face    int32   // the hull's flat where what is sloped, none for a face of its own
	corners []int32
}

// close adds what the block's own faces carry over the openings of one loop. The
// loop is followed once for each plane on it, with straight jumps where it
// leaves the plane: two planes jump along their common edge.
func (v *view) close(p *piece, l loop, volume *exact.Sum) {
	for _, s := range v.stretches(l) {
		var area, carried exact.Sum
		first := s.corners[0]
		for i := 1; i+1 < len(s.corners); i++ {
			b, c := s.corners[i], s.corners[i+1]
			shadow := v.shadow(first, b, c)
			area = area.Plus(shadow)
			carried = carried.Plus(shadow * ((v.z[first] - p.rimMM) + (v.z[b] - p.rimMM) + (v.z[c] - p.rimMM)) / 3)
		}
		switch s.what {
		case up:
			p.opening += area.Value()
			if drop := s.level - p.rimMM; math.Abs(drop) > 2*v.tol {
				*volume = volume.Plus(area.Value() * drop)
				p.rim.stepsDown = p.rim.stepsDown || area.Value() < 0 && s.level < p.rim.highest-2*v.tol
			}
		case down:
			*volume = volume.Plus(carried.Value())
		case sloped:
			*volume = volume.Plus(carried.Value())
			p.sidesMM3 += carried.Value()
		}
	}
}

// stretches returns the corners of a loop on each plane beyond it, in order.
func (v *view) stretches(l loop) []*stretch {
	var list []*stretch
	find := func(side int32) *stretch {
		what, level := v.beyond(side)
		face := none
		if what == sloped {
			face = v.hull.flat[v.twins[side]/3]
		}
		for _, s := range list {
			if s.what == what && (what != up || math.Abs(s.level-level) <= 2*v.tol) && (what != sloped || s.face == face) {
				return s
			}
		}
		list = append(list, &stretch{what: what, level: level, face: face})
		return list[len(list)-1]
	}
	for _, side := range l {
		s := find(side)
		a, b := v.side(side)
		if n := len(s.corners); n == 0 || s.corners[n-1] != a {
			s.corners = append(s.corners, a)
		}
		s.corners = append(s.corners, b)
	}
	return list
}
