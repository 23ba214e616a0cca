package hollow

import (
	"math"

	"bellyline/mesh/exact"
)

// region is a connected flat part of the surface that faces along the pull.
type region struct {
	facets  []int32
	height  float64 // over the middle of the box
	area    float64
	outside bool    // on the hull
	atSides float64 // share of the outline that is an edge of the block
}

// Where a flat that is not on the hull is a parting face, and not the floor of a
// hollow. None of these is a law: a floor has no edge at the block's sides but the
// narrow ends of channels, and what is sunk into a floor is small (an eye) beside
// it, or shallow beside the depth of the floor.
const (
	leastRegion   = 0.002 // of the largest region facing the pull
	sidesOfAFace  = 0.4   // of its outline
	openingOfFace = 0.03  // of its area, openings included
	deepOpening   = 0.01  // the same, of hollows deeper than the flat lies below the face
)

// findRegions finds the parting faces and labels their facets.
func (v *view) findRegions() {
	regions := v.flatRegions()
	largest, top := 0.0, math.Inf(-1)
	for _, r := range regions {
		largest = max(largest, r.area)
	}
	for _, r := range regions {
		if r.outside {
			v.takeRegion(r)
			top = max(top, r.height)
		}
	}
	for _, r := range regions {
		if !r.outside && r.area >= leastRegion*largest && r.atSides >= sidesOfAFace {
			v.takeRegion(r)
			top = max(top, r.height)
		}
	}
	if !v.steps {
		return
	}
	for _, r := range regions {
		if !r.outside && r.area >= leastRegion*largest && r.atSides < sidesOfAFace && v.isStep(r, top) {
			v.takeRegion(r)
		}
	}
}

func (v *view) takeRegion(r region) {
	v.regions = append(v.regions, r)
	for _, t := range r.facets {
		v.label[t], v.level[t] = up, r.height
	}
}

// isLevel says whether all corners of a facet are at one height, whatever its
// normal: of a sliver that is noise.
func (v *view) isLevel(t int) bool {
	lo, hi := v.span(t)
	return hi-lo <= 2*v.tol && v.normals[t].Dot(v.pull) > -0.5
}

// flatRegions gathers facets at one height that are joined by edges.
func (v *view) flatRegions() []region {
	seen := make([]bool, len(v.label))
	var found []region
	for t := range v.label {
		if seen[t] || !v.isLevel(t) || v.normals[t].Dot(v.pull) < 0.99 {
			continue
		}
		r := v.gather(int32(t), seen)
		if r.area > 0 {
			found = append(found, r)
		}
	}
	return found
}

func (v *view) gather(first int32, seen []bool) region {
	r := region{}
	var area, moment exact.Sum
	base := v.middle(int(first))
	list := []int32{first}
	seen[first] = true
	outline, sides := 0.0, 0.0
	for len(list) > 0 {
		t := list[len(list)-1]
		list = list[:len(list)-1]
		r.facets = append(r.facets, t)
		area = area.Plus(v.areas[t])
		moment = moment.Plus(v.areas[t] * (v.middle(int(t)) - base))
		r.outside = r.outside || v.label[t] == up
		for i := range int32(3) {
			twin := v.twins[3*t+i]
			if twin == none {
				continue
			}
			o := twin / 3
			if v.isLevel(int(o)) && math.Abs(v.middle(int(o))-base) <= 2*v.tol {
				if !seen[o] {
					seen[o] = true
					list = append(list, o)
				}
				continue
			}
			l := v.length(twin)
			outline += l
			if v.label[o] >= down {
				sides += l
			}
		}
	}
	r.area = area.Value()
	r.height = base
	if r.area > 0 {
		r.height += moment.Value() / r.area
	}
	if outline > 0 {
		r.atSides = sides / outline
	}
	return r
}

// isStep says whether a flat inside a hollow has hollows of its own that are so
// large that it must be a lower parting face.
func (v *view) isStep(r region, top float64) bool {
	own := map[int32]bool{}
	for _, t := range r.facets {
		own[t] = true
	}
	opened, deepest := 0.0, 0.0
	seen := map[int32]bool{}
	for _, t := range r.facets {
		for i := range int32(3) {
			twin := v.twins[3*t+i]
			if twin == none || own[twin/3] || seen[twin/3] {
				continue
			}
			area, depth, blind := v.sunk(twin/3, own, seen, r.height)
			if blind {
				opened += area
				deepest = max(deepest, depth)
			}
		}
	}
	share := opened / (r.area + opened)
	return share > openingOfFace || share > deepOpening && deepest > top-r.height
}

// sunk follows the surface from a facet beside a flat. It is blind when it stays
// below the flat and meets neither another flat nor the hull.
func (v *view) sunk(first int32, own, seen map[int32]bool, height float64) (opening, depth float64, blind bool) {
	blind = true
	list := []int32{first}
	seen[first] = true
	for len(list) > 0 {
		t := list[len(list)-1]
		list = list[:len(list)-1]
		lo, hi := v.span(int(t))
		if v.label[t] != inside || hi > height+v.tol {
			blind = false
			continue // no further: what is beyond is not sunk into this flat
		}
		depth = max(depth, height-lo)
		opening += v.areas[t] * v.normals[t].Dot(v.pull)
		for i := range int32(3) {
			twin := v.twins[3*t+i]
			if twin == none || own[twin/3] || seen[twin/3] {
				continue
			}
			seen[twin/3] = true
			list = append(list, twin/3)
		}
	}
	return opening, depth, blind
}
