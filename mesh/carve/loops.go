package carve

import (
	"fmt"

	"bellyline/mesh/internal/earclip"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// closeLoops joins segments into loops, and fills these with facets that face along a
// direction. The segments have what is filled on their left, seen against it.
func (c *carver) closeLoops(segments []stretch, up r3.Vector) error {
	next := make(map[int32]int32, len(segments))
	for _, s := range segments {
		if _, twice := next[s.from]; twice {
			return fmt.Errorf("%w: outlines touch near %v", ErrCarve, c.vertices[s.from])
		}
		next[s.from] = s.to
	}
	var rings []earclip.Ring
	frame := earclip.NewDropAxis(up)
	for _, s := range segments {
		if _, open := next[s.from]; !open {
			continue
		}
		var nodes []int32
		var points []r2.Point
		for at := s.from; ; {
			to, ok := next[at]
			if !ok {
				return fmt.Errorf("%w: an outline near %v does not close", ErrCarve, c.vertices[at])
			}
			delete(next, at)
			nodes, points = append(nodes, at), append(points, frame.Point(c.vertices[at].Sub(c.faces[0].at)))
			if at = to; at == s.from {
				break
			}
		}
		rings = append(rings, earclip.NewRing(nodes, points))
	}
	return c.fillRings(rings)
}

// fillRings adds the facets of outer rings with the holes in them.
func (c *carver) fillRings(rings []earclip.Ring) error {
	holes, alone := earclip.Nest(rings)
	for i, r := range rings {
		switch {
		case r.Area < 0 && alone[i]:
			return fmt.Errorf("%w: an outline near %v runs the wrong way", ErrCarve, c.vertices[r.Nodes[0]])
		case r.Area >= 0:
			facets, waste := earclip.Fill(r, holes[i])
			if waste > earclip.FoldLimit*r.Area {
				return fmt.Errorf("%w: an outline near %v crosses itself", ErrCarve, c.vertices[r.Nodes[0]])
			}
			c.facets = append(c.facets, facets...)
		}
	}
	return nil
}
