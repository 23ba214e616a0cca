package mesh

import "github.com/golang/geo/r3"

// CutSolids returns the two parts of a cut as closed surfaces: each has its own
// skin and the section as a cap, islands and holes included. A part may be
// empty. The mesh must be closed and consistently oriented; errors wrap
// ErrNotClosed and ErrPlane.
//
// Both parts are closed whatever rounding does: the points of the section are
// made once and shared, and the same cap, turned round, closes both. Facets
// keep their order, pieces of crossed ones follow, the cap comes last. Facets
// with two equal corners are left out. Cost and memory: a few passes, and the
// two meshes.
func (m *Mesh) CutSolids(p Plane) (below, above *Mesh, err error) {
	c, err := newCutter(m, p)
	if err != nil {
		return nil, nil, err
	}
	sides, crossing, flat := c.sort()
	s := c.section(crossing, flat)
	lower, upper := newHalf(c, s), newHalf(c, s)
	for i, t := range m.Triangles {
		switch sides[i] {
		case -1:
			lower.add(t)
		case 1:
			upper.add(t)
		}
	}
	for _, i := range crossing {
		c.split(s, m.Triangles[i], lower, upper)
	}
	caps := c.caps(s)
	for _, t := range caps {
		lower.add(t)
	}
	for _, t := range turned(caps) {
		upper.add(t)
	}
	return lower.mesh, upper.mesh, nil
}

// sort tells for each facet where it lies and collects what the section needs.
func (c *cutter) sort() (sides []int8, crossing []int32, flat []segment) {
	sides = make([]int8, len(c.m.Triangles))
	found := make([]cutSums, cutBlocks(len(c.m.Triangles)))
	inBlocks(len(c.m.Triangles), cutBlock, func(block, from, to int) {
		f := &found[block]
		for i := from; i < to; i++ {
			t := c.m.Triangles[i]
			side := c.where(t)
			sides[i] = int8(side)
			switch side {
			case 0:
				f.crossing = append(f.crossing, int32(i))
			case -1:
				f.flat = c.flatEdges(f.flat, t)
			}
		}
	})
	for _, f := range found {
		crossing = append(crossing, f.crossing...)
		flat = append(flat, f.flat...)
	}
	return sides, crossing, flat
}

// split adds the pieces of a crossed facet to the halves.
func (c *cutter) split(s *section, t [3]int32, lower, upper *half) {
	apex := c.apex(t)
	a, b, d := t[apex], t[(apex+1)%3], t[(apex+2)%3]
	p, q := c.node(s, a, b), c.node(s, a, d)
	near, far := lower, upper
	if c.offset[a] > 0 {
		near, far = upper, lower
	}
	near.add([3]int32{a, p, q})
	// p b d q is a quadrangle, or a triangle when p is b or q is d. The shorter
	// diagonal makes the better facets.
	at := func(n int32) r3.Vector { return c.localOf(s, n) }
	if at(p).Sub(at(d)).Norm2() <= at(b).Sub(at(q)).Norm2() {
		far.add([3]int32{p, b, d})
		far.add([3]int32{p, d, q})
	} else {
		far.add([3]int32{p, b, q})
		far.add([3]int32{b, d, q})
	}
}

// half gathers one part of a cut, vertices in order of first use.
type half struct {
	c    *cutter
	s    *section
	mesh *Mesh
	name []int32 // node -> vertex of the part + 1, 0 when not used yet
}

func newHalf(c *cutter, s *section) *half {
	return &half{c: c, s: s, mesh: &Mesh{}, name: make([]int32, len(c.m.Vertices)+len(s.points))}
}

func (h *half) add(t [3]int32) {
	if t[0] == t[1] || t[1] == t[2] || t[2] == t[0] {
		return
	}
	h.mesh.Triangles = append(h.mesh.Triangles, [3]int32{h.vertex(t[0]), h.vertex(t[1]), h.vertex(t[2])})
}

func (h *half) vertex(n int32) int32 {
	if h.name[n] == 0 {
		h.mesh.Vertices = append(h.mesh.Vertices, h.c.position(h.s, n))
		h.name[n] = int32(len(h.mesh.Vertices))
	}
	return h.name[n] - 1
}
