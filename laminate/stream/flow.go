package stream

import (
	"fmt"
	"math"
)

// Flow is the laminar flow through one section under a unit pressure gradient.
type Flow struct {
	TotalMM4 float64 // flow times viscosity over pressure gradient; viscosity in the unit of the viscosities given
	Steps    int     // that the solver took
	Nodes    int

	mu       viscosities
	face     Interface
	profiles []profile
	ends     []rowEnd
	width    float64 // between neighbouring profiles
	tall     float64 // between rows
}

// rowEnd is what the sum over columns lacks where a steep wall ends a row.
type rowEnd struct{ y, flow float64 }

// Options of a solution. The zero value is the default.
type Options struct {
	CellsAcross   int     // the largest inscribed circle; 0: 32
	Tolerance     float64 // of the residual; 0: 1e-9
	LineTolerance float64 // of a line's height, as part of the section's; 0: 1e-6

	insulated bool // walls to the left and to the right do not hold the plastic
}

const (
	defaultCells         = 32
	defaultTolerance     = 1e-9
	defaultLineTolerance = 1e-6

	// A very long thin section gets larger cells past this many on the default grid,
	// or past that many in the box around it.
	mostCells    = 24_000
	mostBoxCells = 4_000_000
)

// solver keeps what all solutions for one section have in common.
type solver struct {
	section   Section
	edges     []edge
	area      float64
	inscribed float64 // diameter of the largest circle within
	low, high float64 // heights
	step      float64
	plain     *Flow // of one fluid, once it is known
	opts      Options
}

func newSolver(s Section, opts Options) (*solver, error) {
	if opts.CellsAcross == 0 {
		opts.CellsAcross = defaultCells
	}
	if opts.Tolerance == 0 {
		opts.Tolerance = defaultTolerance
	}
	if opts.LineTolerance == 0 {
		opts.LineTolerance = defaultLineTolerance
	}
	box := s.Bounds()
	v := &solver{section: s, edges: s.edges(), area: s.AreaMM2(), inscribed: s.InscribedMM(), low: box.Y.Lo, high: box.Y.Hi, opts: opts}
	if !(v.inscribed > 0 && v.area > 0) {
		return nil, fmt.Errorf("%w: it has no area", ErrNoConvergence)
	}
	v.step = v.inscribed / float64(opts.CellsAcross)
	finer := float64(opts.CellsAcross) / defaultCells
	v.step = max(v.step, math.Sqrt(v.area/mostCells)/finer, math.Sqrt(box.X.Length()*box.Y.Length()/mostBoxCells))
	return v, nil
}

// flow solves for an interface and two viscosities.
func (s *solver) flow(f Interface, mu viscosities) (*Flow, error) {
	box := s.section.Bounds()
	mid := box.X.Lo + box.X.Length()/2
	cols := newLattice(mid, s.step, box.X.Lo, box.X.Hi)
	rows := newLattice(f.HeightMM, s.step, box.Y.Lo, box.Y.Hi)
	g := newGrid(s.edges, cols, rows, f, mu, s.opts.insulated)
	out := &Flow{mu: mu, face: f, width: cols.step, tall: rows.step, Nodes: len(g.nodes)}
	u := []float64{}
	if len(g.nodes) > 0 {
		var err error
		if u, out.Steps, err = newHierarchy(s.edges, g, f, mu, s.opts.insulated).flow(s.opts.Tolerance); err != nil {
			return nil, err
		}
	}
	out.profiles = g.profiles(u, f, mu)
	if !s.opts.insulated {
		out.ends = g.rowEnds(u)
	}
	out.TotalMM4 = out.below(math.Inf(1))
	return out, nil
}

// below returns the flow under a height.
func (f *Flow) below(height float64) float64 {
	sum := 0.0
	for i := range f.profiles {
		sum += f.profiles[i].below(height) * f.width
	}
	for _, e := range f.ends {
		sum += e.flow * max(0, min(1, (height-e.y)/f.tall+0.5))
	}
	return sum
}

// Streams returns the flows below and above the interface that was solved for.
func (f *Flow) Streams() (belowMM4, aboveMM4 float64) {
	for i := range f.profiles {
		p := &f.profiles[i]
		low := p.below(f.face.at(p.x))
		belowMM4 += low * f.width
		aboveMM4 += (p.total() - low) * f.width
	}
	for _, e := range f.ends {
		part := max(0, min(1, (f.face.HeightMM-e.y)/f.tall+0.5))
		belowMM4 += e.flow * part
		aboveMM4 += e.flow * (1 - part)
	}
	return belowMM4, aboveMM4
}

// bendUp is the second derivative along a column, as the balance of a node has it;
// bendAside that along its row.
func (g *grid) bendUp(i int, u []float64) float64    { return g.bend(i, u, down, up) }
func (g *grid) bendAside(i int, u []float64) float64 { return g.bend(i, u, left, right) }

func (g *grid) bend(i int, u []float64, one, other int) float64 {
	n := &g.nodes[i]
	return (g.flux(i, u, one) + g.flux(i, u, other)) / (n.mu * (n.arms[one].half + n.arms[other].half))
}

// flux along an arm, away from its node.
func (g *grid) flux(i int, u []float64, d int) float64 {
	a := &g.nodes[i].arms[d]
	far := 0.0
	if a.to >= 0 {
		far = u[a.to]
	}
	return a.gain*(far-u[i]) + a.jump
}

// profiles joins the nodes of every column into speeds from wall to wall.
func (g *grid) profiles(u []float64, f Interface, mu viscosities) []profile {
	var list []profile
	for c, spans := range g.columns {
		x := g.cols.at(g.cols.first + c)
		nodes := g.index[c*g.rows.count : (c+1)*g.rows.count]
		for _, s := range spans {
			p := newProfile(x, int((s.hi-s.lo)/g.rows.step)+5)
			last := int32(-1)
			for _, i := range nodes {
				if i < 0 || g.nodes[i].y < s.lo || g.nodes[i].y > s.hi {
					continue
				}
				g.extend(&p, s, last, i, u)
				last = i
			}
			if last < 0 {
				list = append(list, slitProfile(x, s.lo, s.hi, f.at(x), mu))
				continue
			}
			g.finish(&p, s, last, u)
			list = append(list, p)
		}
	}
	return list
}

// extend adds the way from node last, or from the lower wall, to node i.
func (g *grid) extend(p *profile, s span, last, i int32, u []float64) {
	n := &g.nodes[i]
	bend := g.bendUp(int(i), u)
	if last < 0 {
		p.add(s.lo, 0, 0)
		g.passFace(p, int(i), u, down, bend)
		p.add(n.y, u[i], bend)
		return
	}
	if face := g.nodes[last].arms[up].face; face > 0 {
		g.passFace(p, int(last), u, up, g.bendUp(int(last), u))
		p.add(n.y, u[i], bend)
		return
	}
	p.add(n.y, u[i], (bend+g.bendUp(int(last), u))/2)
}

// finish adds the way from the last node to the upper wall.
func (g *grid) finish(p *profile, s span, last int32, u []float64) {
	bend := g.bendUp(int(last), u)
	if g.nodes[last].arms[up].face > 0 {
		g.passFace(p, int(last), u, up, bend)
		bend = -1 / g.otherMu(int(last), up)
	}
	p.add(s.hi, 0, bend)
}

// passFace adds the knot where an arm of node i crosses the interface. Going up
// the piece before it is the node's; going down it is the other stream's, between
// the wall and the interface.
func (g *grid) passFace(p *profile, i int, u []float64, d int, bend float64) {
	n := &g.nodes[i]
	a := n.arms[d].face
	if a == 0 {
		return
	}
	speed := max(0, u[i]+a*g.flux(i, u, d)/n.mu-a*a/2*bend) // the flux is that at the interface
	if d == up {
		p.add(n.y+a, speed, bend)
		return
	}
	p.add(n.y-a, speed, -1/g.otherMu(i, d))
}

// otherMu is the viscosity beyond the interface that an arm crosses, from its gain.
func (g *grid) otherMu(i, d int) float64 {
	a := &g.nodes[i].arms[d]
	return (a.length - a.face) / (1/a.gain - a.face/g.nodes[i].mu)
}

// steep is how far a wall may lean, sideways over up, and still end rows as one:
// others cross many columns, so that what the sum lacks there cancels.
const steep = 0.25

// rowEnds returns what the sum over columns lacks at steep walls (Euler and
// Maclaurin's formula with the wall anywhere between two columns).
func (g *grid) rowEnds(u []float64) []rowEnd {
	var list []rowEnd
	h := g.cols.step
	for i := range g.nodes {
		n := &g.nodes[i]
		for d := left; d <= right; d++ {
			if n.arms[d].to >= 0 || n.lean[d] > steep {
				continue
			}
			s := n.arms[d].length
			bend := g.bendAside(i, u)
			slope := u[i]/s - bend*s/2
			t := s / h
			lack := h*h/2*(t*t-t+1./6)*slope + h*h*h/6*t*(t-0.5)*(t-1)*bend
			list = append(list, rowEnd{n.y, lack * g.rows.step})
		}
	}
	return list
}
