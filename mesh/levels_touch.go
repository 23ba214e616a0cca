package mesh

import (
	"cmp"
	"slices"
)

// A facet with a corner on the plane, or so near that local heights cannot tell,
// is judged by exact sides. A facet that only touches the plane belongs to the
// side where the rest of it is, one that lies in the plane to the side where the
// body is. An edge in the plane is outline where the facets along it belong to
// different sides; Cut has the same rules.

// touch takes the facets set aside by meet.
func (q *levelQuery) touch() {
	var edges [][2]int32 // edges in the plane of facets below
	for _, k := range q.touching {
		edges = q.touchFacet(k, edges)
	}
	q.line += q.edgesLeft(edges)
}

// touchFacet takes the facet at place k, and appends its edges in the plane if
// it is below.
func (q *levelQuery) touchFacet(k int, edges [][2]int32) [][2]int32 {
	l := q.levels
	f := l.facets[k]
	t := l.mesh.Triangles[f.number]
	var side [3]int
	below, above := 0, 0
	for i, v := range t {
		side[i] = q.plane.Side(l.mesh.Vertices[v])
		switch {
		case side[i] < 0:
			below++
		case side[i] > 0:
			above++
		}
	}
	switch {
	case below > 0 && above > 0:
		q.crossNear(f)
		return edges
	case above > 0 || below == 0 && f.shadow <= 0:
		q.above.add(&f)
		return edges
	}
	q.below.add(&f)
	for i := range t {
		if j := (i + 1) % 3; side[i] == 0 && side[j] == 0 {
			edges = append(edges, [2]int32{t[i], t[j]})
		}
	}
	return edges
}

// crossNear takes a facet that crosses the plane with a corner near it: heights
// that rounding put on the wrong side, or on the plane, are brought to it.
func (q *levelQuery) crossNear(f levelFacet) {
	f.low, f.high = min(f.low, q.x), max(f.high, q.x)
	switch {
	case f.high-f.low <= 2*q.levels.doubt:
		// All corners are within rounding of the plane.
		if f.shadow > 0 {
			q.below.add(&f)
		} else {
			q.above.add(&f)
		}
	case f.low == q.x:
		q.above.add(&f)
	case f.high == q.x:
		q.below.add(&f)
	default:
		q.cross(&f)
	}
}

// edgesLeft returns the length of the edges that are left when those that are
// run both ways have cancelled.
func (q *levelQuery) edgesLeft(edges [][2]int32) float64 {
	sorted := func(e [2]int32) [2]int32 { return [2]int32{min(e[0], e[1]), max(e[0], e[1])} }
	slices.SortFunc(edges, func(a, b [2]int32) int {
		a, b = sorted(a), sorted(b)
		return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1]))
	})
	length := 0.0
	for i := 0; i < len(edges); {
		same, net := i, 0
		for ; same < len(edges) && sorted(edges[same]) == sorted(edges[i]); same++ {
			if edges[same][0] < edges[same][1] {
				net++
			} else {
				net--
			}
		}
		if net != 0 {
			e := edges[i]
			length += float64(max(net, -net)) * q.levels.mesh.Vertices[e[0]].Distance(q.levels.mesh.Vertices[e[1]])
		}
		i = same
	}
	return length
}
