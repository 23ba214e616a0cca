package stream

import "math"

// flow returns the speeds at the nodes of the finest grid. They are found twice:
// what the first solution shows to be cut off by second differences is the source
// of a second, smaller one (deferred correction; Fox, Proc. R. Soc. A 190 (1947)
// 31, from memory).
func (h *hierarchy) flow(tolerance float64) (u []float64, steps int, err error) {
	g := h.fine
	source := make([]float64, len(g.nodes)+1)
	for i := range g.nodes {
		source[i] = g.nodes[i].source
	}
	goal := tolerance * norm(source)
	if u, steps, err = h.solve(source, goal); err != nil {
		return nil, steps, err
	}
	better, more, err := h.solve(g.cutOff(u), goal)
	if err != nil {
		return nil, steps + more, err
	}
	for i := range u {
		// In a corner of a few cells the correction is no better than what it corrects.
		if math.Abs(better[i]) < u[i]/2 {
			u[i] += better[i]
		}
	}
	return u, steps + more, nil
}

// cutOff returns the source that second differences leave out. The five-point
// operator gives h^2/12 (u_xxxx + u_yyyy) too much, and as u_xx + u_yy is constant
// in a stream, that is -h^2/6 u_xxyy. Next to walls, where a difference would need
// what lies beyond, and beside the interface, where corners with a wall make it
// large, it is left out.
func (g *grid) cutOff(u []float64) []float64 {
	bends := make([]float64, len(g.nodes))
	for i := range bends {
		bends[i] = g.bendUp(i, u)
	}
	out := make([]float64, len(u))
	h2 := g.cols.step * g.cols.step
	for i := range g.nodes {
		n := &g.nodes[i]
		l, r := &n.arms[left], &n.arms[right]
		if l.to < 0 || r.to < 0 || l.face > 0 || r.face > 0 || n.besideInterface() {
			continue
		}
		mixed := (bends[l.to] + bends[r.to] - 2*bends[i]) / h2
		out[i] = n.wide * n.tall * n.mu * h2 / 6 * mixed
	}
	return out
}

// besideInterface tells whether the next node above or below is in the other stream.
func (n *node) besideInterface() bool {
	return n.arms[up].to >= 0 && n.arms[up].face > 0 || n.arms[down].to >= 0 && n.arms[down].face > 0
}
