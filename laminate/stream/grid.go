package stream

import (
	"math"

	"github.com/golang/geo/r2"
)

// Interface is the line between two colours in a section: level at a height, or
// bowed, that is higher by BowMM at HalfMM on both sides of MidMM.
type Interface struct {
	HeightMM             float64
	BowMM, MidMM, HalfMM float64
}

func (f Interface) at(x float64) float64 {
	if f.BowMM == 0 {
		return f.HeightMM
	}
	t := (x - f.MidMM) / f.HalfMM
	return f.HeightMM + f.BowMM*t*t
}

// viscosities of the two streams, in any one unit.
type viscosities struct{ below, above float64 }

func (v viscosities) side(isAbove bool) float64 {
	if isAbove {
		return v.above
	}
	return v.below
}

// grid is one level of nodes within a section and the equation of each:
// weighted Poisson, div(mu grad u) = -1, u = 0 on the walls (unit pressure
// gradient).
//
// Nodes lie where upright and level lines cross. An arm that meets a wall before
// its neighbour ends there (Shortley and Weller, J. Appl. Phys. 9 (1938) 334, from
// memory). An arm that crosses the interface carries the flux that both streams
// have there, see arm. Rows are laid so that a level interface is half way
// between two of them, in which case that flux is exact for quadratics.
type grid struct {
	cols, rows lattice
	columns    [][]span
	index      []int32 // of the node at (column, row), -1 where there is none
	nodes      []node
}

// node is one point of a grid. Its equation is multiplied by wide*tall, the size
// of its cell, so that it is a balance of fluxes.
type node struct {
	x, y       float64
	mu         float64
	arms       [4]arm // left, right, down, up
	wide, tall float64
	weight     [4]float64 // of each neighbour in the balance
	centre     float64    // the sum of all weights, of walls too
	source     float64
	lean       [2]float64 // of the walls to the left and to the right on its row
}

// arm joins a node to its neighbour, or to a wall. The flux along it, away from
// the node, is gain*(u of the far end - u of the node) + jump.
type arm struct {
	to         int32 // -1: a wall, where u is 0
	length     float64
	gain, jump float64
	half       float64 // how far the node's cell reaches along it
	face       float64 // distance of the interface, 0 where none is crossed
}

const (
	left = iota
	right
	down
	up
)

// nearWall is the part of a step within which a point counts as on the wall.
const nearWall = 1e-6

func newGrid(edges []edge, cols, rows lattice, f Interface, mu viscosities, insulated bool) *grid {
	g := &grid{cols: cols, rows: rows, columns: scanColumns(edges, cols)}
	g.place(scanRows(edges, rows))
	for i := range g.nodes {
		g.join(&g.nodes[i], f, mu, insulated)
	}
	return g
}

// place finds the nodes. Until join the lengths of their arms are those to the walls.
func (g *grid) place(rows [][]span) {
	g.index = make([]int32, g.cols.count*g.rows.count)
	for i := range g.index {
		g.index[i] = -1
	}
	g.nodes = make([]node, 0, g.mostNodes())
	for c, spans := range g.columns {
		x := g.cols.at(g.cols.first + c)
		for _, s := range spans {
			r := max(0, int(math.Floor((s.lo-g.rows.origin)/g.rows.step-0.5))-g.rows.first)
			for ; r < g.rows.count; r++ {
				y := g.rows.at(g.rows.first + r)
				if y >= s.hi-nearWall*g.rows.step {
					break
				}
				across, ok := spanAround(rows[r], x, nearWall*g.cols.step)
				if !ok || y <= s.lo+nearWall*g.rows.step {
					continue
				}
				n := node{x: x, y: y, lean: [2]float64{across.loLean, across.hiLean}}
				n.arms = [4]arm{{length: x - across.lo}, {length: across.hi - x}, {length: y - s.lo}, {length: s.hi - y}}
				g.index[c*g.rows.count+r] = int32(len(g.nodes))
				g.nodes = append(g.nodes, n)
			}
		}
	}
}

// mostNodes is how many nodes the columns have room for.
func (g *grid) mostNodes() int {
	n := 0
	for _, spans := range g.columns {
		for _, s := range spans {
			n += int((s.hi-s.lo)/g.rows.step) + 1
		}
	}
	return n
}

func spanAround(spans []span, x, margin float64) (span, bool) {
	for _, s := range spans {
		if x > s.lo+margin && x < s.hi-margin {
			return s, true
		}
	}
	return span{}, false
}

// nodeAt returns the node at a column and a row, counted from the lattices' origins.
func (g *grid) nodeAt(col, row int) int32 {
	c, r := col-g.cols.first, row-g.rows.first
	if c < 0 || r < 0 || c >= g.cols.count || r >= g.rows.count {
		return -1
	}
	return g.index[c*g.rows.count+r]
}

// cell returns the column and the row of a node.
func (g *grid) cell(n *node) (col, row int) {
	return int(math.Floor((n.x - g.cols.origin) / g.cols.step)), int(math.Floor((n.y - g.rows.origin) / g.rows.step))
}

var directions = [4]struct {
	col, row int
	dir      r2.Point
}{{-1, 0, r2.Point{X: -1}}, {1, 0, r2.Point{X: 1}}, {0, -1, r2.Point{Y: -1}}, {0, 1, r2.Point{Y: 1}}}

// join makes the equation of a node.
func (g *grid) join(n *node, f Interface, mu viscosities, insulated bool) {
	above := n.y > f.at(n.x)
	n.mu = mu.side(above)
	col, row := g.cell(n)
	for i := range n.arms {
		a := &n.arms[i]
		step, d := g.cols.step, directions[i]
		if i >= down {
			step = g.rows.step
		}
		a.to = -1
		if to := g.nodeAt(col+d.col, row+d.row); to >= 0 && a.length >= step {
			a.to = to
		}
		a.length = min(a.length, step)
		end := r2.Point{X: n.x, Y: n.y}.Add(d.dir.Mul(a.length))
		if (end.Y > f.at(end.X)) != above {
			a.face = f.crossedAfter(n, end, a.length)
		}
		a.carry(n.mu, mu.side(!above))
		if insulated && i < down && a.to < 0 {
			a.gain, a.jump = 0, 0
			a.half = a.length
		}
	}
	n.wide, n.tall = n.arms[left].half+n.arms[right].half, n.arms[down].half+n.arms[up].half
	n.source = n.wide * n.tall
	for i, a := range n.arms {
		size := n.tall
		if i >= down {
			size = n.wide
		}
		n.centre += a.gain * size
		n.source += a.jump * size
		if a.to >= 0 {
			n.weight[i] = a.gain * size
		}
	}
}

// crossedAfter returns how far from the node an arm meets the interface: exactly
// where that is level, else as if it were straight along the arm.
func (f Interface) crossedAfter(n *node, end r2.Point, length float64) float64 {
	here, there := math.Abs(n.y-f.at(n.x)), math.Abs(end.Y-f.at(end.X))
	return length * here / (here + there)
}

// carry finds the flux along an arm. One that crosses the interface after a, with
// b beyond it, carries q where
//
//	u_far - u_near = q (a/mu + b/other) - (b^2/other - a^2/mu)/2 - (b^2 - a^2) u_xx/2 :
//
// u and q are continuous there, each stream's second derivative along the arm is
// -1/mu less the one across it, which is continuous too. The last term is zero
// where a = b and left out elsewhere.
func (a *arm) carry(mu, other float64) {
	switch {
	case a.face > 0:
		near, far := a.face, a.length-a.face
		a.gain = 1 / (near/mu + far/other)
		a.jump = a.gain * (far*far/other - near*near/mu) / 2
		a.half = near
	default:
		a.gain = mu / a.length
		a.half = a.length / 2
	}
}
