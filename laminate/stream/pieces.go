package stream

import (
	"github.com/golang/geo/r2"

	"bellyline/mesh/outline"
)

// pieces parts a section into those that hang together.
func (s Section) pieces() []Section {
	group := make([]int, len(s.Loops))
	for i := range group {
		group[i] = i
	}
	join := func(i, j int) {
		from, to := group[i], group[j]
		for k := range group {
			if group[k] == from {
				group[k] = to
			}
		}
	}
	for i, loop := range s.Loops {
		for j := range i {
			if group[i] != group[j] && len(crossings(loop, s.Loops[j])) > 0 {
				join(i, j)
			}
		}
	}
	for i := range s.Loops {
		if j := s.holder(i); j >= 0 {
			join(i, j)
		}
	}
	var list []Section
	at := map[int]int{}
	for i, loop := range s.Loops {
		k, ok := at[group[i]]
		if !ok {
			k = len(list)
			at[group[i]] = k
			list = append(list, Section{})
		}
		list[k].Loops = append(list[k].Loops, loop)
	}
	return list
}

// holder returns the smallest outer loop that loop i lies in, if there is plastic
// on the loop's outer side; else -1.
func (s Section) holder(i int) int {
	p := s.Loops[i][0]
	around, best, least := 0, -1, 0.0
	for j, other := range s.Loops {
		if j == i {
			continue
		}
		w := outline.Winding(other, p)
		around += w
		if area := outline.Area(other); w > 0 && area > 0 && (best < 0 || area < least) {
			best, least = j, area
		}
	}
	if around < 1 {
		return -1
	}
	return best
}

// holds tells whether there is plastic at a point.
func (s Section) holds(p r2.Point) bool {
	w := 0
	for _, loop := range s.Loops {
		w += outline.Winding(loop, p)
	}
	return w >= 1
}

// meets tells whether two sections have plastic in common: sides that cross, or
// one within the other.
func (s Section) meets(o Section) bool {
	if !s.Bounds().Intersects(o.Bounds()) {
		return false
	}
	if s.holdsPartOf(o) || o.holdsPartOf(s) {
		return true
	}
	for _, a := range s.Loops {
		for _, b := range o.Loops {
			if len(crossings(a, b)) > 0 {
				return true
			}
		}
	}
	return false
}

// holdsPartOf tries one corner of each loop: enough where no sides cross.
func (s Section) holdsPartOf(o Section) bool {
	for _, loop := range o.Loops {
		if s.holds(loop[0]) {
			return true
		}
	}
	return false
}
