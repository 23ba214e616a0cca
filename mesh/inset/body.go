package inset

import (
	"fmt"
	"math"

	"bellyline/mesh"

	"github.com/golang/geo/r3"
)

// Inset is what of a body lies at least DepthMM below its skin.
type Inset struct {
	DepthMM   float64
	Body      *mesh.Mesh // closed; empty where nothing lies so deep
	VolumeMM3 float64
	AreaMM2   float64
	Pieces    int
	// ErrorMM3 is how far the volume may be off for the lattice: the larger of the
	// differences to the same inset on every second point, counted from the first and
	// from the second. At a bend the error goes with the square of the step, so either
	// is about three times what is to be expected. Along an edge it goes with the
	// square of the way from the level to the next deeper point, which is the same on
	// one of the two coarse lattices, and longer by a step on the other.
	ErrorMM3 float64
}

// Inset returns what lies at least depthMM, above 0, below the skin: the surface
// where depth has that value, by marching tetrahedra (Doi and Koide, IEICE Trans.
// E74 (1991) 214; from memory), six a cell, which always closes. The error wraps
// ErrInset where no point of the lattice lies so deep.
func (d *Depths) Inset(depthMM float64) (*Inset, error) {
	if !(depthMM > 0) || !(depthMM < d.deepest) {
		return nil, fmt.Errorf("%w: nothing lies %.3g mm below the skin; the deepest place lies %.3g mm below it", ErrInset, depthMM, d.deepest)
	}
	fine := d.march(depthMM, 1, 0)
	moments := fine.Moments()
	off := 0.0
	for first := range 2 {
		off = max(off, math.Abs(d.march(depthMM, 2, first).Moments().VolumeMM3-moments.VolumeMM3))
	}
	return &Inset{
		DepthMM: depthMM, Body: fine, VolumeMM3: moments.VolumeMM3, AreaMM2: moments.AreaMM2,
		Pieces: fine.Check().Shells, ErrorMM3: off,
	}, nil
}

// Outside returns the whole body as the lattice shows it: one closed surface also where
// shells overlap, with edges rounded off by up to a step. An Inset of the same lattice
// lies inside of it.
func (d *Depths) Outside() *mesh.Mesh { return d.march(0, 1, 0) }

// DepthFor returns the depth below which a volume lies, to about 1e-9 of it: the
// inverse of Inset. The error wraps ErrInset where the volume is more than the body
// less its outermost thousandth of a step, or none.
func (d *Depths) DepthFor(volumeMM3 float64) (float64, error) {
	volume := func(t float64) float64 { return d.march(t, 1, 0).Moments().VolumeMM3 }
	low, high := 1e-3*d.stepMM, d.deepest
	if !(volumeMM3 > 0) || volume(low) < volumeMM3 {
		return 0, fmt.Errorf("%w: no core holds %.4g mm3", ErrInset, volumeMM3)
	}
	t := low + (high-low)/4
	for range 60 {
		m := d.march(t, 1, 0).Moments()
		miss := m.VolumeMM3 - volumeMM3
		if math.Abs(miss) <= 1e-9*volumeMM3 {
			break
		}
		if miss > 0 {
			low = t
		} else {
			high = t
		}
		next := t + miss/m.AreaMM2 // dV/dt = -A
		if !(next > low && next < high) {
			next = low + (high-low)/2
		}
		if next == t {
			break
		}
		t = next
	}
	return t, nil
}

// marcher makes the surface of one depth.
type marcher struct {
	d      *Depths
	t      float64
	every  int     // of the lattice's points
	stride [3]int  // in points
	nodes  []int32 // 8 a point: the vertex on the edge that leaves it in a direction, +1
	mesh   *mesh.Mesh
}

// march makes the surface on every n-th point of the lattice along each axis, the first
// of them given. Points of the two outermost layers lie outside.
func (d *Depths) march(t float64, every, first int) *mesh.Mesh {
	r := marcher{d: d, t: t, every: every, stride: [3]int{every, every * d.n[0], every * d.n[0] * d.n[1]},
		nodes: make([]int32, 8*len(d.depth)), mesh: &mesh.Mesh{}}
	for k := first; k+every < d.n[2]; k += every {
		for j := first; j+every < d.n[1]; j += every {
			for i := first; i+every < d.n[0]; i += every {
				r.cell(i + d.n[0]*(j+d.n[1]*k))
			}
		}
	}
	return r.mesh
}

// tetrahedra of a cell: the ways from its first corner to its last, as sums of axes
// (bits 1, 2, 4 for x, y, z). Every second one is listed with its middle corners
// exchanged, so that all are the same way round. Neighbouring cells cut their common
// side alike.
var tetrahedra = [6][4]int{{0, 1, 3, 7}, {0, 2, 6, 7}, {0, 4, 5, 7}, {0, 3, 2, 7}, {0, 6, 4, 7}, {0, 5, 1, 7}}

// cell adds the surface in one cell, named by its first point.
func (r *marcher) cell(first int) {
	var at [8]int
	inside := 0
	for c := range at {
		at[c] = first
		for axis := range 3 {
			if c>>axis&1 == 1 {
				at[c] += r.stride[axis]
			}
		}
		if r.inside(at[c]) {
			inside++
		}
	}
	if inside == 0 || inside == 8 {
		return
	}
	for _, tet := range tetrahedra {
		r.tetrahedron(&at, tet)
	}
}

func (r *marcher) inside(at int) bool { return r.d.depth[at] >= r.t }

// tetrahedron adds the surface in one tetrahedron, whose corners are numbered so
// that the last three run clockwise seen from the first.
func (r *marcher) tetrahedron(at *[8]int, tet [4]int) {
	var in, out []int
	for i, c := range tet {
		if r.inside(at[c]) {
			in = append(in, i)
		} else {
			out = append(out, i)
		}
	}
	if len(in) == 0 || len(out) == 0 {
		return
	}
	// The order in, out is an even or an odd one of the four corners.
	order := append(append([]int{}, in...), out...)
	if isOdd(order) {
		if len(in) == 3 {
			order[0], order[1] = order[1], order[0]
		} else {
			order[2], order[3] = order[3], order[2]
		}
	}
	edge := func(a, b int) int32 { return r.node(at, tet[order[a]], tet[order[b]]) }
	switch len(in) {
	case 1:
		r.add(edge(0, 1), edge(0, 2), edge(0, 3))
	case 2:
		p, q, s, u := edge(0, 2), edge(0, 3), edge(1, 3), edge(1, 2)
		r.add(p, q, s)
		r.add(p, s, u)
	case 3:
		r.add(edge(0, 3), edge(1, 3), edge(2, 3))
	}
}

func (r *marcher) add(a, b, c int32) {
	r.mesh.Triangles = append(r.mesh.Triangles, [3]int32{a, b, c})
}

// isOdd tells whether an order of 0 to 3 takes an odd number of exchanges.
func isOdd(order []int) bool {
	odd := false
	for i := range order {
		for j := i + 1; j < len(order); j++ {
			odd = odd != (order[i] > order[j])
		}
	}
	return odd
}

// nearPoint keeps vertices apart that would fall on one point of the lattice, in
// parts of an edge: what it moves is far below what the lattice itself errs.
const nearPoint = 1e-3

// node returns the vertex on an edge between two corners of a cell, one of which
// reaches the other by adding axes.
func (r *marcher) node(at *[8]int, a, b int) int32 {
	if a > b {
		a, b = b, a
	}
	n := &r.nodes[8*at[a]+b-a]
	if *n == 0 {
		da, db := r.d.depth[at[a]], r.d.depth[at[b]]
		s := min(max((r.t-da)/(db-da), nearPoint), 1-nearPoint)
		p, q := r.d.point(at[a]), r.d.point(at[b])
		r.mesh.Vertices = append(r.mesh.Vertices, p.Add(q.Sub(p).Mul(s)))
		*n = int32(len(r.mesh.Vertices))
	}
	return *n - 1
}

// Without returns a body with a closed surface inside of it taken out: both surfaces
// in one mesh, the inner one turned round.
func Without(m *mesh.Mesh, inner *mesh.Mesh) *mesh.Mesh {
	first := int32(len(m.Vertices))
	both := &mesh.Mesh{
		Vertices:  append(append([]r3.Vector{}, m.Vertices...), inner.Vertices...),
		Triangles: append([][3]int32{}, m.Triangles...),
	}
	for _, t := range inner.Triangles {
		both.Triangles = append(both.Triangles, [3]int32{t[0] + first, t[2] + first, t[1] + first})
	}
	return both
}
