package smooth

import (
	"math"

	"github.com/golang/geo/r3"
)

// normalAt returns the normal that corner i of facet t uses: that of its vertex,
// unless the vertex has creases.
func (b *bending) normalAt(t, i int) *r3.Vector {
	v := b.mesh.Triangles[t][i]
	if !b.marks[v].creased {
		return &b.vertices[v].normal
	}
	return &b.fans.normal[b.fans.placeOf(b.vertices[v].fan, int32(3*t+i))]
}

// slopes are the slopes of the surface against an edge at its two ends, positive
// where the surface is convex. On a quadratic surface both are the same.
type slopes struct{ near, far float64 }

// peakShare is how much more edges must bend at a vertex than at their far ends,
// as a share of all their bending, before the vertex counts as a peak: with near
// and far slope as 7 to 3 it is 0.4.
const peakShare = 0.4

// peakSum gathers the slopes of the edges at a vertex.
type peakSum struct {
	more  float64 // near slopes less far slopes
	bend  float64 // near plus far slopes
	total float64 // absolute values of all
}

func (s *peakSum) add(x slopes) {
	s.more += x.near - x.far
	s.bend += x.near + x.far
	s.total += math.Abs(x.near) + math.Abs(x.far)
}

// isPeak says whether the surface bends the way it does on the whole, but far
// more at the vertex than around it. On a smooth surface the slopes of an edge
// differ little. Between a curve and a flat piece the edges on one side bend more
// at the vertex and those on the other less, and the differences cancel.
func (s *peakSum) isPeak() bool {
	return math.Copysign(s.more, s.more*s.bend) > peakShare*s.total
}

// flagPeak flags the corners of the group that begins at place p if the group is
// a tip or part of a blunt ridge.
func (b *bending) flagPeak(p, last int32, edges []fanEdge) {
	var s peakSum
	for i := range edges {
		s.add(edges[i].slopes)
	}
	if !s.isPeak() {
		return
	}
	for q := p; q < last; q++ {
		if b.fans.group[q] == p {
			b.fans.flags[q].peak = true
		}
	}
}
