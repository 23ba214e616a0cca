package mesh

import (
	"math"

	"github.com/golang/geo/r3"
)

// normalAt returns the normal that corner i of facet t uses.
func (b *bending) normalAt(t, i int) r3.Vector {
	if len(b.fans.place) > 0 {
		if p := b.fans.place[3*t+i]; p > 0 {
			return b.fans.normal[p-1]
		}
	}
	return b.vertices[b.mesh.Triangles[t][i]].normal
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

// findPeaks marks the tips and blunt ridges: vertices, and groups in fans.
func (b *bending) findPeaks() {
	b.eachFan(b.findPeaksOfFan)
	b.eachShare(func(from, to int32) {
		sums := make([]peakSum, to-from)
		for i, t := range b.mesh.Triangles {
			if !b.isPlainIn(t[0], from, to) && !b.isPlainIn(t[1], from, to) && !b.isPlainIn(t[2], from, to) {
				continue
			}
			f, ok := b.measure(t)
			if !ok {
				continue
			}
			for j, v := range t {
				k := (j + 1) % 3
				x := f.slopes(j, b.normalAt(i, j), b.normalAt(i, k))
				if b.isPlainIn(v, from, to) {
					sums[v-from].add(x)
				}
				if b.isPlainIn(t[k], from, to) {
					sums[t[k]-from].add(slopes{x.far, x.near})
				}
			}
		}
		for i := range sums {
			b.vertices[from+int32(i)].peak = sums[i].isPeak()
		}
	})
}

// isPlainIn says whether v is in from..to-1 and not special.
func (b *bending) isPlainIn(v, from, to int32) bool {
	return v >= from && v < to && !b.vertices[v].special
}

// slopes returns the slopes along edge i given the normals at its ends.
func (f *bentFacet) slopes(i int, from, to r3.Vector) slopes {
	length := math.Sqrt(f.long2[i])
	return slopes{-f.edge[i].Dot(from) / length, f.edge[i].Dot(to) / length}
}

// findPeaksOfFan marks the groups of a fan that are peaks.
func (b *bending) findPeaksOfFan(first, last int32) {
	f := &b.fans
	sums := make([]peakSum, last-first)
	for p := first; p < last; p++ {
		if f.group[p] < 0 {
			continue
		}
		t, i := int(f.corner[p]/3), int(f.corner[p]%3)
		m, _ := b.measure(b.mesh.Triangles[t])
		next, before := (i+1)%3, (i+2)%3
		s := &sums[f.group[p]-first]
		s.add(m.slopes(i, f.normal[p], b.normalAt(t, next)))
		x := m.slopes(before, b.normalAt(t, before), f.normal[p])
		s.add(slopes{x.far, x.near})
	}
	for p := first; p < last; p++ {
		if g := f.group[p]; g >= 0 {
			f.flags[p].peak = sums[g-first].isPeak()
		}
	}
}
