package smooth

import (
	"math"

	"bellyline/mesh/exact"
	"bellyline/mesh/parallel"
)

// mending returns what the fans change in the sum over all facets. Facets without a
// special corner, the most, are not looked at again.
func (b *bending) mending() float64 {
	f := &b.fans
	parts := make([]float64, parallel.Count(len(f.corner), bendBlock))
	parallel.Blocks(len(f.corner), bendBlock, func(block, from, to int) {
		var m bentFacet
		for _, c := range f.corner[from:to] {
			if t := int(c / 3); b.isFirstSpecial(c) && b.needsMending(t) && b.measure(&b.mesh.Triangles[t], &m) {
				parts[block] += m.vector.Norm() / 48 * (b.bendOf(t, &m) - b.plainBendOf(t, &m))
			}
		}
	})
	var all exact.Sum
	for _, s := range parts {
		all = all.Plus(s)
	}
	return all.Value()
}

// isFirstSpecial says whether a corner is the first of its facet that is special,
// so that each facet is taken once.
func (b *bending) isFirstSpecial(corner int32) bool {
	for _, v := range b.mesh.Triangles[corner/3][:corner%3] {
		if b.marks[v].special {
			return false
		}
	}
	return true
}

// needsMending says whether a corner of facet t has a flag or may have a normal of
// its own.
func (b *bending) needsMending(t int) bool {
	for i, v := range b.mesh.Triangles[t] {
		if b.marks[v].creased || b.flagsAt(t, i) != (cornerFlags{}) {
			return true
		}
	}
	return false
}

// plainBendOf returns the sum over the edges of facet t of e·(nb-na) with the
// normals of a body that is smooth all over.
func (b *bending) plainBendOf(t int, f *bentFacet) float64 {
	v := &b.mesh.Triangles[t]
	return b.vertices[v[0]].normal.Dot(f.edge[2].Sub(f.edge[0])) +
		b.vertices[v[1]].normal.Dot(f.edge[0].Sub(f.edge[1])) +
		b.vertices[v[2]].normal.Dot(f.edge[1].Sub(f.edge[2]))
}

// bendOf returns the sum over the edges of facet t of e·(nb-na), mended.
func (b *bending) bendOf(t int, f *bentFacet) float64 {
	var bend [3]float64
	var straight [3]bool
	for i := range 3 {
		bend[i], straight[i] = b.bendOfEdge(t, i, f)
	}
	return addBends(bend, straight, f.long2)
}

// bendOfEdge returns e·(nb-na) for edge i of facet t, mended where one end of it
// cannot be trusted, and whether the edge is straight.
func (b *bending) bendOfEdge(t, i int, f *bentFacet) (bend float64, straight bool) {
	j := (i + 1) % 3
	near, far := -f.edge[i].Dot(*b.normalAt(t, i)), f.edge[i].Dot(*b.normalAt(t, j))
	from, to := b.flagsAt(t, i), b.flagsAt(t, j)
	switch {
	case from.leads.straight || to.comes.straight:
		return 0, true
	case from.leads.far && !to.comes.far:
		return 2 * far, false
	case to.comes.far && !from.leads.far:
		return 2 * near, false
	case from.peak || to.peak:
		return lesserBend(near, far), false
	}
	return near + far, false
}

// flagsAt returns the flags of corner i of facet t.
func (b *bending) flagsAt(t, i int) cornerFlags {
	v := b.mesh.Triangles[t][i]
	if !b.marks[v].special {
		return cornerFlags{}
	}
	return b.fans.flags[b.fans.placeOf(b.vertices[v].fan, int32(3*t+i))]
}

// lesserBend returns the bend of an edge with a peak at one end: twice the
// lesser slope. Up to a ratio of 3 the slopes still count as alike, and from
// there to 5 the one goes over into the other.
func lesserBend(near, far float64) float64 {
	if near*far <= 0 {
		return 0
	}
	less, more := min(math.Abs(near), math.Abs(far)), max(math.Abs(near), math.Abs(far))
	bend := less + more
	if more > 3*less {
		bend = max(2*less, 7*less-more)
	}
	return math.Copysign(bend, near)
}

// addBends adds the bends of a facet's edges. Where the longest edge and one more
// are straight the facet bends across the longest only, like part of a cylinder,
// and the other two edges reach equally far across it: they bend the same.
func addBends(bend [3]float64, straight [3]bool, long2 [3]float64) float64 {
	longest := 0
	for i := range 3 {
		if long2[i] > long2[longest] {
			longest = i
		}
	}
	one, two := (longest+1)%3, (longest+2)%3
	if straight[longest] && straight[one] != straight[two] {
		return 2 * (bend[one] + bend[two])
	}
	return bend[0] + bend[1] + bend[2]
}
