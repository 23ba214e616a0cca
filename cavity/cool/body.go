package cool

import (
	"context"
	"errors"
	"fmt"
	"math"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/parallel"
	"bellyline/mesh/tree"
)

// ErrBody is wrapped by errors about a model that no grid can be laid into.
var ErrBody = errors.New("cannot be cooled")

// Body is a bait made ready for grids of any size. It is not changed by use.
type Body struct {
	mesh *mesh.Mesh // its longest side along x, so that rows of the grid are long
	turn int        // how many times x, y, z were moved on for that
	all  *tree.Tree // all facets: what is inside
	wall *tree.Tree // the facets that touch the mold: how far the wall is
	skin *mesh.Mesh // those facets

	radiusMM float64   // of the largest ball inside
	middle   r3.Vector // where its centre is, turned like the mesh
}

// NewBody makes a closed surface ready. Solids drawn into each other are one body:
// overlaps says that there are some, so that the facets inside are looked for.
// The error wraps ErrBody when nothing is enclosed.
func NewBody(ctx context.Context, m *mesh.Mesh, overlaps bool) (*Body, error) {
	if len(m.Triangles) == 0 {
		return nil, fmt.Errorf("%w: the model has no facets", ErrBody)
	}
	b := &Body{}
	size := m.Bounds().Size()
	switch max(size.X, size.Y, size.Z) {
	case size.X:
	case size.Y:
		b.turn = 1
	default:
		b.turn = 2
	}
	b.mesh = b.shortEdged(m)
	b.all = tree.New(b.mesh)
	b.wall, b.skin = b.all, b.mesh
	if overlaps {
		b.skin = exposed(ctx, b.mesh, b.all)
		b.wall = tree.New(b.skin)
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return b, b.findThickest(ctx)
}

// edgeShare is how long an edge may be, in diagonals of the model: long needles lie
// in each other's boxes, so that a search for the nearest has to look at them all.
const edgeShare = 1.0 / 64

// shortEdged turns a mesh and halves its long edges. Facets halve a common edge at
// the same place, so what was closed stays so.
func (b *Body) shortEdged(m *mesh.Mesh) *mesh.Mesh {
	longest := edgeShare * m.Bounds().Diagonal()
	var corners []r3.Vector
	for t := range m.Triangles {
		p, q, r := m.Corners(t)
		corners = cutFacet(corners, b.turned(p), b.turned(q), b.turned(r), longest)
	}
	return mesh.New(corners)
}

// cutFacet halves the longest edge of a facet until none is longer than that.
func cutFacet(list []r3.Vector, a, b, c r3.Vector, longest float64) []r3.Vector {
	ab, bc, ca := b.Sub(a).Norm2(), c.Sub(b).Norm2(), a.Sub(c).Norm2()
	switch most := max(ab, bc, ca); {
	case most <= longest*longest:
		return append(list, a, b, c)
	case ab == most:
		p := a.Add(b).Mul(0.5)
		return cutFacet(cutFacet(list, a, p, c, longest), p, b, c, longest)
	case bc == most:
		p := b.Add(c).Mul(0.5)
		return cutFacet(cutFacet(list, a, b, p, longest), a, p, c, longest)
	default:
		p := c.Add(a).Mul(0.5)
		return cutFacet(cutFacet(list, a, b, p, longest), p, b, c, longest)
	}
}

// turned moves the axes on so that the longest comes first.
func (b *Body) turned(p r3.Vector) r3.Vector {
	for range b.turn {
		p = r3.Vector{X: p.Y, Y: p.Z, Z: p.X}
	}
	return p
}

// back undoes turned.
func (b *Body) back(p r3.Vector) r3.Vector {
	for range b.turn {
		p = r3.Vector{X: p.Z, Y: p.X, Z: p.Y}
	}
	return p
}

// Thickest returns the diameter in mm of the largest ball inside, and its centre.
func (b *Body) Thickest() (mm float64, at r3.Vector) { return 2 * b.radiusMM, b.back(b.middle) }

// thickestNodes is about how many places are looked at for the thickest one before
// the best are climbed from.
const thickestNodes = 4_000

// findThickest finds the largest ball inside: the best nodes of a coarse grid,
// climbed from by steps along the axes that halve.
func (b *Body) findThickest(ctx context.Context) error {
	size := b.mesh.Bounds().Size()
	h := math.Cbrt(size.X * size.Y * size.Z / thickestNodes)
	h = max(h, size.X/2000)
	// A thin body may slip between the nodes: try finer ones.
	for range 4 {
		g, err := newFrame(b, h, b.mesh.Bounds().Centre())
		if err != nil {
			return err
		}
		inside, err := b.insideNodes(ctx, g)
		if err != nil {
			return err
		}
		if b.climbFromBest(g, inside) {
			return ctx.Err()
		}
		h /= 2
	}
	return fmt.Errorf("%w: no place inside was found; is the model a sheet?", ErrBody)
}

// climbFromBest says whether any node was inside.
func (b *Body) climbFromBest(g frame, inside []bool) bool {
	away := make([]float64, len(inside))
	parallel.Blocks(len(inside), 256, func(_, from, to int) {
		for c := from; c < to; c++ {
			if inside[c] {
				_, _, away[c] = b.wall.Nearest(g.node(c))
			}
		}
	})
	const starts = 4
	found := false
	for range starts {
		best := 0
		for c := range away {
			if away[c] > away[best] {
				best = c
			}
		}
		if away[best] == 0 {
			break
		}
		found = true
		b.climb(g.node(best), away[best], g.h)
		g.clearAround(away, best, 3)
	}
	return found
}

// climb keeps the largest ball found on the way up from a place inside.
func (b *Body) climb(p r3.Vector, radius, step float64) {
	const finest = 1e-3 // of the radius
	for step > finest*radius {
		better := false
		for _, d := range []r3.Vector{{X: step}, {X: -step}, {Y: step}, {Y: -step}, {Z: step}, {Z: -step}} {
			// Nothing but the way through the wall leads outside, and on that way the
			// distance shrinks first: a step no longer than the distance stays inside.
			q := p.Add(d)
			if _, _, r := b.wall.Nearest(q); step <= radius && r > radius*(1+1e-9) {
				p, radius, better = q, r, true
			}
		}
		if !better {
			step /= 2
		}
	}
	if radius > b.radiusMM {
		b.radiusMM, b.middle = radius, p
	}
}
