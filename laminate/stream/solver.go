package stream

import (
	"errors"
	"fmt"
	"math"
)

// ErrNoConvergence is wrapped when the equations of a section were not solved to
// the wanted precision.
var ErrNoConvergence = errors.New("the flow in a section was not found")

// hierarchy is a grid and coarser ones of the same section, each with twice the
// step of the one before.
type hierarchy struct {
	fine  *grid
	rows  []matrix
	links []link // links[i] joins rows[i] to rows[i+1]
	work  []workspace
}

// link holds for each node of a grid the four nodes around it on the next coarser
// one, nearest first; the entry past the last where there is none.
type link struct{ around [][4]int32 }

// share of each of them in an interpolated value: bilinear between cell middles.
var shares = [4]float64{9. / 16, 3. / 16, 3. / 16, 1. / 16}

type workspace struct{ x, b, r []float64 }

// A grid of so few nodes is solved by so many sweeps alone.
const (
	smallestGrid   = 40
	coarsestSweeps = 8
)

func newHierarchy(edges []edge, fine *grid, f Interface, mu viscosities, insulated bool) *hierarchy {
	h := &hierarchy{fine: fine, rows: []matrix{fine.stencils()}}
	for g := fine; len(g.nodes) > smallestGrid; {
		coarse := newGrid(edges, g.cols.coarser(), g.rows.coarser(), f, mu, insulated)
		if len(coarse.nodes) == 0 || 2*len(coarse.nodes) > len(g.nodes)+smallestGrid {
			break
		}
		h.links = append(h.links, joinGrids(g, coarse))
		h.rows = append(h.rows, coarse.stencils())
		g = coarse
	}
	for _, m := range h.rows {
		n := len(m) + 1
		h.work = append(h.work, workspace{make([]float64, n), make([]float64, n), make([]float64, n)})
	}
	return h
}

// coarser joins lines by two.
func (l lattice) coarser() lattice {
	first := l.first >> 1
	return lattice{origin: l.origin, step: 2 * l.step, first: first, count: (l.first+l.count-1)>>1 - first + 1}
}

func joinGrids(fine, coarse *grid) link {
	l := link{make([][4]int32, len(fine.nodes))}
	for i := range fine.nodes {
		col, row := fine.cell(&fine.nodes[i])
		// An even line lies in the lower half of its coarse cell.
		dc, dr := 2*(col&1)-1, 2*(row&1)-1
		c, r := col>>1, row>>1
		l.around[i] = [4]int32{coarse.nodeAt(c, r), coarse.nodeAt(c+dc, r), coarse.nodeAt(c, r+dr), coarse.nodeAt(c+dc, r+dr)}
		for k, to := range l.around[i] {
			if to < 0 {
				l.around[i][k] = int32(len(coarse.nodes))
			}
		}
	}
	return l
}

// stencil is a node's row of the equations. Where it has no neighbour it points at
// the entry past the last node, which stays zero.
type stencil struct {
	to     [4]int32
	weight [4]float64
	centre float64
	over   float64 // 1/centre
}

// stencils gathers the rows apart from the nodes: sweeps read nothing else.
func (g *grid) stencils() []stencil {
	list := make([]stencil, len(g.nodes))
	for i := range g.nodes {
		n := &g.nodes[i]
		s := stencil{centre: n.centre, over: 1 / n.centre, weight: n.weight}
		for d := range n.arms {
			if s.to[d] = n.arms[d].to; s.to[d] < 0 {
				s.to[d] = int32(len(g.nodes))
			}
		}
		list[i] = s
	}
	return list
}

func (s *stencil) around(x []float64) float64 {
	return s.weight[0]*x[s.to[0]] + s.weight[1]*x[s.to[1]] + s.weight[2]*x[s.to[2]] + s.weight[3]*x[s.to[3]]
}

// sweep is one pass of Gauss and Seidel forwards and one backwards.
func (m matrix) sweep(x, b []float64) {
	for i := range m {
		x[i] = (b[i] + m[i].around(x)) * m[i].over
	}
	for i := len(m) - 1; i >= 0; i-- {
		x[i] = (b[i] + m[i].around(x)) * m[i].over
	}
}

// apply returns A x in out.
func (m matrix) apply(x, out []float64) {
	for i := range m {
		out[i] = m[i].centre*x[i] - m[i].around(x)
	}
}

// matrix holds the equations of one grid. Vectors have one entry more than it has
// rows, which is zero.
type matrix []stencil

// cycle improves x[level] for its b by one V-cycle, starting from zero.
func (h *hierarchy) cycle(level int) {
	g, w := h.rows[level], &h.work[level]
	clear(w.x)
	if level == len(h.rows)-1 {
		for range coarsestSweeps {
			g.sweep(w.x, w.b)
		}
		return
	}
	g.sweep(w.x, w.b)
	g.apply(w.x, w.r)
	next := &h.work[level+1]
	clear(next.b)
	links := h.links[level].around
	for i := range links {
		next.b[links[i][0]] += w.b[i] - w.r[i]
	}
	next.b[len(next.b)-1] = 0
	h.cycle(level + 1)
	for i := range links {
		l := &links[i]
		w.x[i] += shares[0]*next.x[l[0]] + shares[1]*next.x[l[1]] + shares[2]*next.x[l[2]] + shares[3]*next.x[l[3]]
	}
	g.sweep(w.x, w.b)
}

// precondition sets out to about the solution of A out = b.
func (h *hierarchy) precondition(b, out []float64) {
	copy(h.work[0].b, b)
	h.cycle(0)
	copy(out, h.work[0].x)
}

// mostSteps is far more than a solvable section takes; ten are usual.
const mostSteps = 200

// solve returns the solution for a source on the finest grid, its residual below
// goal: stabilised biconjugate gradients (van der Vorst, SIAM J. Sci.
// Stat. Comput. 13 (1992) 631, from memory) with one V-cycle as preconditioner.
// Arms cut at walls make the equations unsymmetric, so plain conjugate gradients
// do not serve. The cost of a step is a fixed number of operations a node.
func (h *hierarchy) solve(source []float64, goal float64) (u []float64, steps int, err error) {
	g := h.rows[0]
	n := len(g) + 1
	u = make([]float64, n)
	r, r0, p, v, t := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	ph, sh := make([]float64, n), make([]float64, n)
	copy(r, source)
	copy(r0, r)
	rho, alpha, omega := 1.0, 1.0, 1.0
	for steps = 0; steps < mostSteps && norm(r) > goal; steps++ {
		rhoNew := dot(r0, r)
		if math.Abs(rhoNew) < 1e-290 || omega == 0 { // start anew from where we are
			copy(r0, r)
			clear(p)
			clear(v)
			rho, alpha, omega = 1, 1, 1
			rhoNew = dot(r0, r)
		}
		beta := rhoNew / rho * alpha / omega
		rho = rhoNew
		for i := range p {
			p[i] = r[i] + beta*(p[i]-omega*v[i])
		}
		h.precondition(p, ph)
		g.apply(ph, v)
		alpha = rho / dot(r0, v)
		for i := range r {
			r[i] -= alpha * v[i]
			u[i] += alpha * ph[i]
		}
		if norm(r) <= goal {
			continue
		}
		h.precondition(r, sh)
		g.apply(sh, t)
		omega = dot(t, r) / dot(t, t)
		for i := range r {
			u[i] += omega * sh[i]
			r[i] -= omega * t[i]
		}
	}
	if !(norm(r) <= goal) {
		return nil, steps, fmt.Errorf("%w: %d nodes, residual %.2g after %d steps", ErrNoConvergence, n-1, norm(r), steps)
	}
	return u, steps, nil
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

func norm(a []float64) float64 { return math.Sqrt(dot(a, a)) }
