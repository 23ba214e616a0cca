// Package inset tells how deep points lie below the skin of a body, and makes the body
// that lies below a depth.
package inset

import (
	"context"
	"errors"
	"fmt"
	"math"

	"bellyline/mesh"
	"bellyline/mesh/parallel"
	"bellyline/mesh/tree"

	"github.com/golang/geo/r3"
)

// ErrInset is wrapped where no depth below the skin can be told.
var ErrInset = errors.New("no depth below the skin")

// Depths tells how deep the points of a cubic lattice lie below the skin of a body,
// and so what lies at least so deep: the body less all that is nearer to its skin
// than t, a parallel body. Depths at the points are exact; between them they are
// taken as linear, see Inset.ErrorMM3.
type Depths struct {
	origin  r3.Vector
	stepMM  float64
	n       [3]int    // points along x, y, z
	depth   []float64 // negative outside, where it is no more than a bound
	deepest float64
}

// mostDepths bounds the memory of a lattice: half a gigabyte.
const mostDepths = 1 << 26

// Measure measures on a lattice of the given step, in mm. The surface must be closed;
// inside is where the winding number is 1 or more. Where shells overlap, facets
// inside of others are no skin: overlaps says so, which costs a look at every piece
// of skin as large as the step. Errors wrap ErrInset. Cost: one search for the
// nearest facet a point.
func Measure(ctx context.Context, m *mesh.Mesh, stepMM float64, overlaps bool) (*Depths, error) {
	box := m.Bounds()
	if !(stepMM > 0) || len(m.Triangles) == 0 {
		return nil, fmt.Errorf("%w: a lattice of %g mm", ErrInset, stepMM)
	}
	d := &Depths{stepMM: stepMM}
	// An odd number of points, two layers of them outside all round: every second one
	// is a lattice too, from the first on or the second, with a layer outside.
	points := 1.0
	for k, length := range [3]float64{box.Size().X, box.Size().Y, box.Size().Z} {
		cells := 2 * (math.Ceil(length/stepMM/2) + 2)
		points *= cells + 1
		if !(points <= mostDepths) {
			return nil, fmt.Errorf("%w: steps of %g mm are too fine for a body of %.0f mm", ErrInset, stepMM, box.Diagonal())
		}
		d.n[k] = int(cells) + 1
	}
	half := r3.Vector{X: float64(d.n[0] - 1), Y: float64(d.n[1] - 1), Z: float64(d.n[2] - 1)}.Mul(stepMM / 2)
	d.origin = box.Centre().Sub(half)
	d.depth = make([]float64, d.n[0]*d.n[1]*d.n[2])
	whole := tree.New(m)
	skin := whole
	if overlaps {
		skin = tree.New(outerSkin(m, whole, stepMM))
	}
	parallel.Blocks(d.n[1]*d.n[2], 8, func(_, from, to int) {
		for row := from; row < to && ctx.Err() == nil; row++ {
			d.measureRow(row, whole, skin)
		}
	})
	for _, x := range d.depth {
		d.deepest = max(d.deepest, x)
	}
	return d, ctx.Err()
}

// measureRow measures the points of one row along x. A neighbour nearer than the
// skin lies on the same side of it; so far outside that no cell with a point inside
// can reach there, a bound does.
func (d *Depths) measureRow(row int, whole, skin *tree.Tree) {
	far := 4 * d.stepMM
	last, inside := 0.0, false // distance of the point before from the skin, and its side
	for i := range d.n[0] {
		at := row*d.n[0] + i
		if !inside && last-d.stepMM > far {
			last -= d.stepMM
			d.depth[at] = -last
			continue
		}
		p := d.point(at)
		_, _, distance := skin.Nearest(p)
		if !(last > d.stepMM*(1+1e-9)) {
			inside = isInside(whole, p)
		}
		last = distance
		if inside {
			d.depth[at] = distance
		} else {
			d.depth[at] = -distance
		}
	}
}

// isInside asks for the winding number; a point on the skin itself counts as outside.
func isInside(t *tree.Tree, p r3.Vector) bool {
	w, ok := t.Winding(p)
	return ok && w >= 1
}

func (d *Depths) point(at int) r3.Vector {
	i, j, k := at%d.n[0], at/d.n[0]%d.n[1], at/d.n[0]/d.n[1]
	return d.origin.Add(r3.Vector{X: float64(i), Y: float64(j), Z: float64(k)}.Mul(d.stepMM))
}

// DeepestMM returns how deep the deepest point of the lattice lies below the skin.
// The deepest place of the body lies at most half a cell's diagonal deeper.
func (d *Depths) DeepestMM() float64 { return d.deepest }

// StepMM returns the step of the lattice.
func (d *Depths) StepMM() float64 { return d.stepMM }

// outerSkin returns what of the facets lies on the skin of the joined body, cut into
// pieces no longer than reach: a piece is skin if nothing fills the space just
// outside of its middle. Where two shells' facets cross, skin is thereby seen up to
// a piece too long or too short. It is a heap of facets, not a surface.
func outerSkin(m *mesh.Mesh, whole *tree.Tree, reach float64) *mesh.Mesh {
	parts := make([]mesh.Mesh, parallel.Count(len(m.Triangles), 256))
	parallel.Blocks(len(m.Triangles), 256, func(block, from, to int) {
		for t := from; t < to; t++ {
			a, b, c := m.Corners(t)
			addSkin(&parts[block], whole, a, b, c, reach)
		}
	})
	skin := &mesh.Mesh{}
	for _, p := range parts {
		first := int32(len(skin.Vertices))
		skin.Vertices = append(skin.Vertices, p.Vertices...)
		for _, t := range p.Triangles {
			skin.Triangles = append(skin.Triangles, [3]int32{t[0] + first, t[1] + first, t[2] + first})
		}
	}
	return skin
}

func addSkin(m *mesh.Mesh, whole *tree.Tree, a, b, c r3.Vector, reach float64) {
	ab, bc, ca := b.Sub(a).Norm(), c.Sub(b).Norm(), a.Sub(c).Norm()
	longest := max(ab, bc, ca)
	if longest > reach {
		switch longest { // halve the longest side
		case bc:
			a, b, c = b, c, a
		case ca:
			a, b, c = c, a, b
		}
		mid := a.Add(b).Mul(0.5)
		addSkin(m, whole, a, mid, c, reach)
		addSkin(m, whole, mid, b, c, reach)
		return
	}
	normal := b.Sub(a).Cross(c.Sub(a))
	size := normal.Norm()
	if size == 0 {
		return
	}
	const outside = 1e-6 // of a piece: next to it, past rounding
	p := a.Add(b).Add(c).Mul(1.0 / 3).Add(normal.Mul(outside * longest / size))
	if isInside(whole, p) {
		return
	}
	n := int32(len(m.Vertices))
	m.Vertices = append(m.Vertices, a, b, c)
	m.Triangles = append(m.Triangles, [3]int32{n, n + 1, n + 2})
}
