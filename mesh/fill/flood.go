package fill

import (
	"context"
	"fmt"

	"bellyline/mesh/halfedge"
	"bellyline/mesh/internal/bvh"
)

// The winding number counts how often a point is enclosed: one more after going in
// through a facet, one less after going out. On its outer side a facet has a
// winding number that changes only where another facet goes through it. So one ray
// a shell is enough: from there the number is carried from facet to facet across
// their edges, and along edges past the facets that they go through.

// flood holds the winding numbers just outside the surface.
type flood struct {
	*arrangement
	outside []int32         // of each facet: at the start of its first side
	crossed []bool          // facets with seams on them
	seamsOn map[int32][]int // those seams
}

// newFlood carries winding numbers over the whole surface, and along every segment.
// It returns errInconsistent when two ways lead to different numbers.
func newFlood(ctx context.Context, a *arrangement, t *bvh.Tree) (*flood, error) {
	n := len(a.s.m.Triangles)
	fl := &flood{arrangement: a, outside: make([]int32, n), crossed: make([]bool, n), seamsOn: map[int32][]int{}}
	for i, seg := range a.seams {
		for _, f := range [2]int32{seg.f, seg.g} {
			fl.crossed[f] = true
			fl.seamsOn[f] = append(fl.seamsOn[f], i)
		}
	}
	done := make([]bool, len(fl.outside))
	for shell, first := 0, 0; shell < a.s.shells; shell++ {
		for a.s.shell[first] != int32(shell) {
			first++ // shells are in the order of their first facets
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		w, err := fl.rayWinding(t, halfedge.Edge(first<<2))
		if err != nil {
			return nil, err
		}
		fl.outside[first] = int32(w)
		if err := fl.spread(int32(first), done); err != nil {
			return nil, err
		}
	}
	return fl, fl.windSeams()
}

// spread carries the winding number of one facet over its shell.
func (fl *flood) spread(first int32, done []bool) error {
	done[first] = true
	for stack := []int32{first}; len(stack) > 0; {
		f := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		starts, err := fl.starts(f)
		if err != nil {
			return err
		}
		for k, h := range fl.s.twin[f] {
			// The partner starts where this side ends.
			side, g := halfedge.Edge(f<<2|int32(k)), h.Facet()
			if !fl.crossed[f] && !fl.crossed[g] { // nearly all of them
				switch {
				case !done[g]:
					fl.outside[g], done[g] = starts[k], true
					stack = append(stack, g)
				case fl.outside[g] != starts[k]:
					return disagree(f, g)
				}
				continue
			}
			w := starts[k] + fl.change(side)
			if !done[g] {
				// Seen from its first side, the number of facet g is w less what changes up
				// to the start of h.
				fl.outside[g] = 0
				ahead, err := fl.starts(g)
				if err != nil {
					return err
				}
				fl.outside[g] = w - ahead[h.Corner()]
				done[g] = true
				stack = append(stack, g)
				continue
			}
			there, err := fl.starts(g)
			if err != nil {
				return err
			}
			if there[h.Corner()] != w {
				return disagree(f, g)
			}
		}
	}
	return nil
}

func disagree(f, g int32) error {
	return fmt.Errorf("%w: winding numbers disagree between facets %d and %d", errInconsistent, f+1, g+1)
}

// starts returns the winding numbers outside a facet at the start of each side.
func (fl *flood) starts(f int32) (w [3]int32, err error) {
	w[0] = fl.outside[f]
	if !fl.crossed[f] {
		return [3]int32{w[0], w[0], w[0]}, nil
	}
	seams := fl.seamsOn[f]
	for k := range 3 {
		side := halfedge.Edge(f<<2 | int32(k))
		next := halfedge.After(k)
		at := w[k] + fl.change(side) + fl.turn(f, fl.s.ids[f][next], seams)
		if next != 0 {
			w[next] = at
		} else if at != w[0] {
			return w, fmt.Errorf("%w: winding numbers disagree round facet %d", errInconsistent, f+1)
		}
	}
	return w, nil
}

// change returns by how much the winding number grows along a half-edge.
func (fl *flood) change(h halfedge.Edge) int32 {
	if !fl.crossed[h.Facet()] {
		return 0
	}
	sign := int32(1)
	if t := fl.s.twin[h.Facet()][h.Corner()]; t < h {
		h, sign = t, -1
	}
	sum := int32(0)
	if part, ok := fl.of[h]; ok {
		for _, p := range fl.list[part[0]:part[1]] {
			sum += int32(p.sign)
		}
	}
	return sign * sum
}

// turn returns by how much the winding number outside facet f grows from the side
// that ends in a corner to the side that starts there, because of segments that
// start or end in the corner. The inner side of the other facet is left of a
// segment on f, and right of one on g: with f turned clockwise from side to side, a
// segment that leaves the corner has its left on the first side.
func (fl *flood) turn(f, corner int32, seams []int) int32 {
	sum := int32(0)
	for _, i := range seams {
		seg := &fl.seams[i]
		grows := int32(0)
		switch corner {
		case seg.start.corner:
			grows = -1
		case seg.end.corner:
			grows = 1
		}
		if f == seg.g {
			grows = -grows
		}
		sum += grows
	}
	return sum
}

// windSeams finds the winding number outside both facets of each segment, at its
// start, and checks it at its end.
func (fl *flood) windSeams() error {
	for i := range fl.seams {
		seg := &fl.seams[i]
		change := 0
		for _, c := range seg.cuts {
			change += int(c.sign)
		}
		from, okFrom, err := fl.beside(seg.start)
		if err != nil {
			return err
		}
		to, okTo, err := fl.beside(seg.end)
		if err != nil {
			return err
		}
		switch {
		case okFrom && okTo && from+change != to:
			return fmt.Errorf("%w: winding numbers disagree along facets %d and %d", errInconsistent, seg.f+1, seg.g+1)
		case okFrom:
			seg.outside = from
		case okTo:
			seg.outside = to - change
		default:
			return errInconsistent // a segment has a piercing at one end at least
		}
	}
	return nil
}

// beside returns the winding number outside both facets at the end of a segment:
// outside the edge, on the outer side of the facet that it goes through. It is
// false at a corner, where that is not known.
func (fl *flood) beside(e seamEnd) (int, bool, error) {
	if e.piercing < 0 {
		return 0, false, nil
	}
	p := &fl.list[e.piercing]
	starts, err := fl.starts(p.edge.Facet())
	if err != nil {
		return 0, false, err
	}
	w := starts[p.edge.Corner()]
	for _, q := range fl.list[fl.of[p.edge][0]:e.piercing] {
		w += int32(q.sign)
	}
	return int(min(w, w+int32(p.sign))), true, nil
}
