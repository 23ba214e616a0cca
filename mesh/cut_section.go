package mesh

import (
	"cmp"
	"math"
	"slices"

	"bellyline/mesh/halfedge"

	"github.com/golang/geo/r3"
)

// segment is one directed edge of the section between two nodes. A node is a
// vertex of the mesh that lies on the plane, or (from len(Vertices) on) the
// point where an edge of the mesh crosses it.
type segment struct{ from, to int32 }

// section is the curve in which a plane meets a surface.
type section struct {
	// nodes finds the node of a crossed edge by its Key: both facets of the
	// edge, and both halves of the solid, share the one point.
	nodes map[uint64]int32
	// points are the crossing points about the cutter's origin.
	points []r3.Vector
	// local holds the place of every node that a loop visits.
	local map[int32]r3.Vector
	loops [][]int32
}

// section joins crossed facets and flat edges into closed loops. Seen from
// above the body lies on the left of every segment.
//
// The curve is the boundary, turned round, of the facets that lie below: the
// crossed facets each give the edge of their lower piece, and an edge in the
// plane belongs to it when the facets below run it more often one way than the
// other. As the surface has no boundary, as many segments end in a node as
// begin there, so closed loops always come out, whatever rounding did to places.
func (c *cutter) section(crossing []int32, flat []segment) *section {
	s := &section{nodes: make(map[uint64]int32, len(crossing)), local: make(map[int32]r3.Vector)}
	segments := make([]segment, 0, len(crossing)+len(flat))
	for _, i := range crossing {
		t := c.m.Triangles[i]
		apex := c.apex(t)
		a, b, d := t[apex], t[(apex+1)%3], t[(apex+2)%3]
		p, q := c.node(s, a, b), c.node(s, a, d)
		if c.offset[a] < 0 {
			p, q = q, p
		}
		segments = append(segments, segment{p, q})
	}
	for _, e := range flat {
		segments = append(segments, segment{e.to, e.from})
	}
	segments = cancel(segments)
	for _, e := range segments {
		s.local[e.from] = c.localOf(s, e.from)
	}
	s.loops = c.trace(s, segments)
	return s
}

// node returns the node of the edge from a to b, where a is off the plane and b
// is on its other side or on it.
func (c *cutter) node(s *section, a, b int32) int32 {
	if c.offset[b] == 0 {
		return b
	}
	lo, hi := min(a, b), max(a, b)
	key := halfedge.Key(lo, hi)
	if n, ok := s.nodes[key]; ok {
		return n
	}
	n := int32(len(c.m.Vertices) + len(s.points))
	s.nodes[key] = n
	s.points = append(s.points, c.crossingPoint(lo, hi))
	return n
}

// crossingPoint returns where an edge meets the plane, about the origin. It is
// reckoned from the end that lies nearer: where the plane all but touches a
// vertex, the edges there then meet it in one point, the vertex itself, and not in
// several a last bit apart that would cross each other.
func (c *cutter) crossingPoint(lo, hi int32) r3.Vector {
	ql, qh := c.local(lo), c.local(hi)
	dl, dh := c.offset[lo], c.offset[hi]
	if math.Abs(dl) > math.Abs(dh) {
		ql, qh, dl, dh = qh, ql, dh, dl
	}
	return ql.Add(qh.Sub(ql).Mul(dl / (dl - dh)))
}

// localOf returns the place of a node about the origin.
func (c *cutter) localOf(s *section, n int32) r3.Vector {
	if k := int(n) - len(c.m.Vertices); k >= 0 {
		return s.points[k]
	}
	return c.local(n)
}

// position returns the place of a node in the model's coordinates. On a plane
// across an axis the coordinate along it is exactly that of the plane.
func (c *cutter) position(s *section, n int32) r3.Vector {
	k := int(n) - len(c.m.Vertices)
	if k < 0 {
		return c.m.Vertices[n]
	}
	v := s.points[k].Add(c.origin)
	switch c.plane.Normal {
	case r3.Vector{X: 1}, r3.Vector{X: -1}:
		v.X = c.plane.HeightMM * c.plane.Normal.X
	case r3.Vector{Y: 1}, r3.Vector{Y: -1}:
		v.Y = c.plane.HeightMM * c.plane.Normal.Y
	case r3.Vector{Z: 1}, r3.Vector{Z: -1}:
		v.Z = c.plane.HeightMM * c.plane.Normal.Z
	}
	return v
}

// cancel takes out pairs of segments that run the same edge both ways, and
// segments of no length. The order of the others stays.
func cancel(segments []segment) []segment {
	type run struct {
		lo, hi, index int32
	}
	runs := make([]run, 0, len(segments))
	for i, e := range segments {
		if e.from != e.to {
			runs = append(runs, run{min(e.from, e.to), max(e.from, e.to), int32(i)})
		}
	}
	slices.SortFunc(runs, func(a, b run) int {
		return cmp.Or(cmp.Compare(a.lo, b.lo), cmp.Compare(a.hi, b.hi), cmp.Compare(a.index, b.index))
	})
	keep := make([]bool, len(segments))
	for i := 0; i < len(runs); {
		j, net := i, 0
		for ; j < len(runs) && runs[j].lo == runs[i].lo && runs[j].hi == runs[i].hi; j++ {
			net += direction(segments[runs[j].index])
		}
		for _, r := range runs[i:j] {
			if d := direction(segments[r.index]); net*d > 0 {
				keep[r.index] = true
				net -= d
			}
		}
		i = j
	}
	out := segments[:0]
	for i, e := range segments {
		if keep[i] {
			out = append(out, e)
		}
	}
	return out
}

func direction(e segment) int {
	if e.from < e.to {
		return 1
	}
	return -1
}
