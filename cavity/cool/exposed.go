package cool

import (
	"context"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/parallel"
	"bellyline/mesh/tree"
)

// exposed returns the facets of overlapping solids that touch the mold: those not
// inside another solid. A facet that is buried in part is cut into small ones.
func exposed(ctx context.Context, m *mesh.Mesh, tree *tree.Tree) *mesh.Mesh {
	box := m.Bounds()
	s := skinFinder{tree: tree, off: box.Diagonal() * 1e-6, finest: box.Diagonal() / 400}
	const block = 256
	parts := make([][]r3.Vector, parallel.Count(len(m.Triangles), block))
	parallel.Blocks(len(m.Triangles), block, func(n, from, to int) {
		for t := from; t < to && ctx.Err() == nil; t++ {
			a, b, c := m.Corners(t)
			parts[n] = s.keep(parts[n], a, b, c)
		}
	})
	var corners []r3.Vector
	for _, p := range parts {
		corners = append(corners, p...)
	}
	return mesh.New(corners)
}

// skinFinder tells skin from what is inside.
type skinFinder struct {
	tree   *tree.Tree
	off    float64 // how far outside of its own solid a facet is looked at
	finest float64 // a buried part is found to this length, in mm
}

// keep adds what is exposed of a facet.
func (s skinFinder) keep(list []r3.Vector, a, b, c r3.Vector) []r3.Vector {
	normal := b.Sub(a).Cross(c.Sub(a))
	size := normal.Norm()
	if !(size > 0) {
		return list
	}
	out := normal.Mul(s.off / size)
	middle := a.Add(b).Add(c).Mul(1.0 / 3)
	buried := 0
	for _, p := range []r3.Vector{a, b, c, middle} {
		near := p.Mul(0.98).Add(middle.Mul(0.02)) // corners lie on other facets
		if w, ok := s.tree.Winding(near.Add(out)); ok && w > 0 {
			buried++
		}
	}
	switch ab, bc, ca := b.Sub(a).Norm(), c.Sub(b).Norm(), a.Sub(c).Norm(); {
	case buried == 4:
		return list
	case buried == 0 || max(ab, bc, ca) <= s.finest:
		if buried > 2 {
			return list
		}
		return append(list, a, b, c)
	case ab >= bc && ab >= ca:
		p := a.Add(b).Mul(0.5)
		return s.keep(s.keep(list, a, p, c), p, b, c)
	case bc >= ca:
		p := b.Add(c).Mul(0.5)
		return s.keep(s.keep(list, a, b, p), a, p, c)
	default:
		p := c.Add(a).Mul(0.5)
		return s.keep(s.keep(list, a, b, p), p, b, c)
	}
}
