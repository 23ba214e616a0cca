package carve

import (
	"cmp"
	"fmt"
	"slices"

	"bellyline/mesh/tree"

	"github.com/golang/geo/r3"
)

// pierce notes a corner between two faces of a facet's part: there the facet meets an
// edge of the prism.
func (c *carver) pierce(p clipPoint, normal r3.Vector) {
	key := [2]int{int(p.key.face), int(p.key.other)}
	e, ok := c.shared[key]
	if !ok {
		return // closeLoops finds the gap
	}
	from, way := c.corners[e.from], c.corners[e.to].Sub(c.corners[e.from])
	c.through[key] = append(c.through[key], pierce{
		node: c.node(p), along: p.at.Sub(from).Dot(way) / way.Norm2(), leaving: normal.Dot(way) > 0,
	})
}

// edges bounds the patches on the faces by those parts of the prism's edges that lie in
// the solid.
func (c *carver) edges() error {
	inside, err := c.cornersInside()
	if err != nil {
		return err
	}
	keys := make([][2]int, 0, len(c.shared))
	for key := range c.shared {
		keys = append(keys, key)
	}
	slices.SortFunc(keys, func(a, b [2]int) int { return cmp.Or(a[0]-b[0], a[1]-b[1]) })
	corner := map[int32]int32{}
	vertex := func(k int32) int32 {
		v, ok := corner[k]
		if !ok {
			v = int32(len(c.vertices))
			c.vertices = append(c.vertices, c.corners[k])
			corner[k] = v
		}
		return v
	}
	for _, key := range keys {
		e := c.shared[key]
		var ends []int32
		if inside[e.from] {
			ends = append(ends, vertex(e.from))
		}
		for _, p := range c.through[key] {
			ends = append(ends, p.node)
		}
		if inside[e.to] {
			ends = append(ends, vertex(e.to))
		}
		if len(ends)%2 != 0 {
			return fmt.Errorf("%w: an edge of the prism goes in and does not come out", ErrCarve)
		}
		for i := 0; i < len(ends); i += 2 {
			// The patches face into the prism, so they run the edge against its faces.
			c.onFace[key[0]] = append(c.onFace[key[0]], stretch{ends[i+1], ends[i]})
			c.onFace[key[1]] = append(c.onFace[key[1]], stretch{ends[i], ends[i+1]})
		}
	}
	return nil
}

// cornersInside tells which corners of the prism lie in the solid: by where its edges
// go in and out, along edges that do neither, and for want of both by the solid's
// winding number.
func (c *carver) cornersInside() ([]bool, error) {
	known := make([]int8, len(c.corners))
	set := func(k int32, in bool) error {
		sign := int8(-1)
		if in {
			sign = 1
		}
		if known[k] == -sign {
			return fmt.Errorf("%w: a corner of the prism near %v lies on the surface", ErrCarve, c.corners[k])
		}
		known[k] = sign
		return nil
	}
	for key, list := range c.through {
		slices.SortFunc(list, func(a, b pierce) int { return cmp.Compare(a.along, b.along) })
		for i, p := range list {
			if i > 0 && p.leaving == list[i-1].leaving {
				return nil, fmt.Errorf("%w: an edge of the prism runs along the surface near %v", ErrCarve, c.vertices[p.node])
			}
		}
		e := c.shared[key]
		if err := set(e.from, list[0].leaving); err != nil {
			return nil, err
		}
		if err := set(e.to, !list[len(list)-1].leaving); err != nil {
			return nil, err
		}
	}
	if !slices.ContainsFunc(known, func(k int8) bool { return k != 0 }) {
		w, ok := tree.New(c.m).Winding(c.corners[0])
		if !ok {
			return nil, fmt.Errorf("%w: a corner of the prism lies on the surface", ErrCarve)
		}
		known[0] = int8(min(max(2*w-1, -1), 1))
	}
	for range c.corners { // a corner is at most so many edges away
		for key, e := range c.shared {
			if len(c.through[key]) > 0 {
				continue
			}
			for _, way := range [2][2]int32{{e.from, e.to}, {e.to, e.from}} {
				if known[way[0]] == 0 {
					continue
				}
				if err := set(way[1], known[way[0]] > 0); err != nil {
					return nil, err
				}
			}
		}
	}
	inside := make([]bool, len(known))
	for k, sign := range known {
		inside[k] = sign > 0
	}
	return inside, nil
}
