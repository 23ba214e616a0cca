package mesh

import (
	"fmt"
	"math"

	"github.com/golang/geo/r3"
)

// divideNear is how near to a plane, in parts of the model's diagonal, a vertex counts
// as on it: a thousand times the rounding of a new vertex. Else a second division
// along the same plane would cut slivers off at the vertices of the first.
const divideNear = 0x1p-40

// Divide returns the same surface with its facets divided along planes, so that none
// has corners on both sides of one. Unlike a cut it takes nothing away and adds no
// cap: what was closed stays closed, as both facets of an edge share the point in
// which a plane crosses it. Vertices keep their numbers, new ones follow. Facets
// that a plane does not cross keep their order; pieces of the others come last.
//
// Errors wrap ErrPlane. A vertex within divideNear of a plane is on it. Cost: one pass over vertices and facets for each plane.
func (m *Mesh) Divide(planes ...Plane) (*Mesh, error) {
	for _, p := range planes {
		if err := p.check(); err != nil {
			return nil, fmt.Errorf("cannot divide: %w", err)
		}
		m = m.divide(p)
	}
	return m, nil
}

// divider divides the facets of one mesh along one plane.
type divider struct {
	out    *Mesh
	offset []float64 // of the vertices from the plane, 0 for those on it
	points map[[2]int32]int32
}

func (m *Mesh) divide(p Plane) *Mesh {
	d := divider{
		out:    &Mesh{Vertices: append([]r3.Vector(nil), m.Vertices...), Triangles: make([][3]int32, 0, len(m.Triangles))},
		offset: make([]float64, len(m.Vertices)),
		points: map[[2]int32]int32{},
	}
	near := divideNear * m.vertexBox().Diagonal() * p.Normal.Norm()
	inBlocks(len(m.Vertices), cutBlock, func(_, from, to int) {
		for i := from; i < to; i++ {
			if x := p.offset(m.Vertices[i]); math.Abs(x) > near {
				d.offset[i] = x
			}
		}
	})
	var crossed [][3]int32
	for _, t := range m.Triangles {
		a, b, c := d.offset[t[0]], d.offset[t[1]], d.offset[t[2]]
		if min(a, b, c) < 0 && max(a, b, c) > 0 {
			crossed = append(crossed, t)
			continue
		}
		d.out.Triangles = append(d.out.Triangles, t)
	}
	for _, t := range crossed {
		d.add(t)
	}
	return d.out
}

// add adds the two or three pieces of a crossed facet.
func (d *divider) add(t [3]int32) {
	// The corner that is alone on its side, or one on the plane, comes first.
	for range 3 {
		a, b, c := d.offset[t[0]], d.offset[t[1]], d.offset[t[2]]
		if a == 0 || a*b < 0 && a*c < 0 {
			break
		}
		t = [3]int32{t[1], t[2], t[0]}
	}
	if d.offset[t[0]] == 0 {
		p := d.point(t[1], t[2])
		d.out.Triangles = append(d.out.Triangles, [3]int32{t[0], t[1], p}, [3]int32{t[0], p, t[2]})
		return
	}
	p, q := d.point(t[0], t[1]), d.point(t[0], t[2])
	d.out.Triangles = append(d.out.Triangles, [3]int32{t[0], p, q})
	at := d.out.Vertices
	// The shorter diagonal makes the better facets.
	if at[p].Distance(at[t[2]]) <= at[q].Distance(at[t[1]]) {
		d.out.Triangles = append(d.out.Triangles, [3]int32{p, t[1], t[2]}, [3]int32{p, t[2], q})
	} else {
		d.out.Triangles = append(d.out.Triangles, [3]int32{p, t[1], q}, [3]int32{t[1], t[2], q})
	}
}

// point returns the vertex in which the plane crosses the edge from a to b.
func (d *divider) point(a, b int32) int32 {
	if a > b {
		a, b = b, a
	}
	if n, ok := d.points[[2]int32{a, b}]; ok {
		return n
	}
	va, vb := d.out.Vertices[a], d.out.Vertices[b]
	share := d.offset[a] / (d.offset[a] - d.offset[b])
	n := int32(len(d.out.Vertices))
	d.out.Vertices = append(d.out.Vertices, va.Add(vb.Sub(va).Mul(share)))
	d.points[[2]int32{a, b}] = n
	return n
}

// Moved returns the same facets on vertices moved by place. What place does to a
// surface is the caller's to answer for: a turn or a shear keeps it closed and its
// volume, a reflection turns it inside out.
func (m *Mesh) Moved(place func(r3.Vector) r3.Vector) *Mesh {
	out := &Mesh{Vertices: make([]r3.Vector, len(m.Vertices)), Triangles: m.Triangles}
	inBlocks(len(m.Vertices), cutBlock, func(_, from, to int) {
		for i := from; i < to; i++ {
			out.Vertices[i] = place(m.Vertices[i])
		}
	})
	return out
}
