package mesh

import (
	"bellyline/mesh/internal/earclip"

	"github.com/golang/geo/r2"
)

// caps triangulates a section: facets over its nodes that face up.
//
// Every segment of the section is the edge of one facet, every other edge has a
// facet on both sides, and no point is added. That holds by construction, also
// where rounding has made a loop cross itself a little, so that the parts are
// closed in every case; what geometry can spoil is only the shape of facets.
func (c *cutter) caps(s *section) [][3]int32 {
	rings := make([]earclip.Ring, len(s.loops))
	var total float64
	for i, loop := range s.loops {
		points := make([]r2.Point, len(loop))
		for k, n := range loop {
			points[k] = c.flat(s, n)
		}
		rings[i] = earclip.NewRing(loop, points)
		total += rings[i].Area
	}
	if total >= 0 {
		return earclip.CapRings(rings)
	}
	for i := range rings { // the surface is inside out
		rings[i] = rings[i].Reversed()
	}
	return earclip.Turned(earclip.CapRings(rings))
}
