package mesh

import (
	"sync"

	"bellyline/mesh/internal/earclip"
	"bellyline/mesh/parallel"

	"github.com/golang/geo/r3"
)

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
	f := c.sort()
	s := c.section(f.crossing, f.flat)
	caps := c.caps(s)
	var wait sync.WaitGroup
	wait.Go(func() { below = newHalf(c, s, -1).build(f, caps) })
	above = newHalf(c, s, 1).build(f, earclip.Turned(caps))
	wait.Wait()
	return below, above, nil
}

// sorted tells for each facet where it lies, and what the section needs.
type sorted struct {
	sides    []int8
	crossing []int32
	flat     []segment
}

// sort visits every facet once.
func (c *cutter) sort() sorted {
	s := sorted{sides: make([]int8, len(c.m.Triangles))}
	found := make([]cutSums, cutBlocks(len(c.m.Triangles)))
	parallel.Blocks(len(c.m.Triangles), cutBlock, func(block, from, to int) {
		f := &found[block]
		for i := from; i < to; i++ {
			t := c.m.Triangles[i]
			side := c.where(t)
			s.sides[i] = int8(side)
			switch side {
			case 0:
				f.crossing = append(f.crossing, int32(i))
			case -1:
				f.flat = c.flatEdges(f.flat, t)
			}
		}
	})
	for _, f := range found {
		s.crossing = append(s.crossing, f.crossing...)
		s.flat = append(s.flat, f.flat...)
	}
	return s
}

// half gathers one part of a cut, vertices in order of first use.
type half struct {
	c    *cutter
	s    *section
	side int8
	mesh *Mesh
	name []int32 // node -> vertex of the part + 1, 0 when not used yet
}

func newHalf(c *cutter, s *section, side int8) *half {
	return &half{c: c, s: s, side: side, mesh: &Mesh{}, name: make([]int32, len(c.m.Vertices)+len(s.points))}
}

func (h *half) build(f sorted, caps [][3]int32) *Mesh {
	h.reserve(f, caps)
	for i, t := range h.c.m.Triangles {
		if f.sides[i] == h.side {
			h.add(t)
		}
	}
	for _, i := range f.crossing {
		h.addPieces(h.c.m.Triangles[i])
	}
	for _, t := range caps {
		h.add(t)
	}
	return h.mesh
}

// reserve makes room once for what will come.
func (h *half) reserve(f sorted, caps [][3]int32) {
	facets := 2*len(f.crossing) + len(caps)
	for _, side := range f.sides {
		if side == h.side {
			facets++
		}
	}
	vertices := len(h.s.points)
	for _, d := range h.c.offset {
		if d*float64(h.side) >= 0 {
			vertices++
		}
	}
	h.mesh.Triangles = make([][3]int32, 0, facets)
	h.mesh.Vertices = make([]r3.Vector, 0, vertices)
}

// addPieces adds what lies on this side of a crossed facet.
func (h *half) addPieces(t [3]int32) {
	apex := h.c.apex(t)
	a, b, d := t[apex], t[(apex+1)%3], t[(apex+2)%3]
	p, q := h.c.node(h.s, a, b), h.c.node(h.s, a, d)
	if h.c.side(a) == int(h.side) {
		h.add([3]int32{a, p, q})
		return
	}
	// p b d q is a quadrangle, or a triangle when p is b or q is d. The shorter
	// diagonal makes the better facets.
	at := func(n int32) r3.Vector { return h.c.localOf(h.s, n) }
	if at(p).Sub(at(d)).Norm2() <= at(b).Sub(at(q)).Norm2() {
		h.add([3]int32{p, b, d})
		h.add([3]int32{p, d, q})
	} else {
		h.add([3]int32{p, b, q})
		h.add([3]int32{b, d, q})
	}
}

// add takes a facet in, unless it has two equal corners.
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
