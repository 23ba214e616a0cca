package mesh

import "math"

// mendedEstimate sums the facets with what the fans tell.
func (b *bending) mendedEstimate() float64 {
	triangles := b.mesh.Triangles
	parts := make([]sum, blockCount(len(triangles), bendBlock))
	inBlocks(len(triangles), bendBlock, func(block, from, to int) {
		var f bentFacet
		var s sum
		for t := from; t < to; t++ {
			if b.measure(&triangles[t], &f) {
				s = s.plus(f.vector.Norm() / 48 * b.bendOf(t, &f))
			}
		}
		parts[block] = s
	})
	var all sum
	for _, s := range parts {
		all = all.merge(s)
	}
	return all.value()
}

// bendOf returns the sum over the edges of facet t of e·(nb-na).
func (b *bending) bendOf(t int, f *bentFacet) float64 {
	v := &b.mesh.Triangles[t]
	p, q, r := &b.vertices[v[0]], &b.vertices[v[1]], &b.vertices[v[2]]
	if !(p.special || q.special || r.special) {
		// Summed by vertex instead of by edge.
		return p.normal.Dot(f.edge[2].Sub(f.edge[0])) +
			q.normal.Dot(f.edge[0].Sub(f.edge[1])) +
			r.normal.Dot(f.edge[1].Sub(f.edge[2]))
	}
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
	near, far := -f.edge[i].Dot(b.normalAt(t, i)), f.edge[i].Dot(b.normalAt(t, j))
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
	if p := b.fans.place[3*t+i]; p > 0 {
		return b.fans.flags[p-1]
	}
	return cornerFlags{}
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
