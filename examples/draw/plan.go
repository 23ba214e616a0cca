package main

import (
	"math"

	"github.com/golang/geo/r3"
)

// knot is a control corner of a flat-lying body: its place in the parting plane
// and how far the surface is drawn above and below it, in millimetres. On the
// outline up and down count for nothing.
type knot struct {
	x, y, up, down float64
}

func (k knot) plus(o knot) knot {
	return knot{k.x + o.x, k.y + o.y, k.up + o.up, k.down + o.down}
}

func (k knot) times(f float64) knot {
	return knot{k.x * f, k.y * f, k.up * f, k.down * f}
}

// plan is a body seen from above as a net of four-cornered cells, counter-
// clockwise, each corner with its height and depth. No two cells may cover each
// other; then those of the finished body do not either, and both mold halves can
// be pulled off it.
type plan struct {
	knots []knot
	cells [][4]int
}

// row adds knots and returns their numbers.
func (p *plan) row(knots ...knot) []int {
	numbers := make([]int, len(knots))
	for i, k := range knots {
		numbers[i] = len(p.knots)
		p.knots = append(p.knots, k)
	}
	return numbers
}

// join adds the cells between two rows of the same length. Looking along the
// rows from above, to lies on the right of from.
func (p *plan) join(from, to []int) {
	for i := range len(from) - 1 {
		p.cells = append(p.cells, [4]int{from[i], to[i], to[i+1], from[i+1]})
	}
}

// closed returns the net of the whole skin: the plan seen from above and from
// below, joined along the outline, which lies in the parting plane.
func (p *plan) closed() *net {
	outline := p.outline()
	n := &net{}
	below := make([]int, len(p.knots))
	for i, k := range p.knots {
		if outline[i] {
			k.up, k.down = 0, 0
		}
		n.knots = append(n.knots, k)
		below[i] = i
	}
	for i, k := range n.knots[:len(p.knots)] {
		if !outline[i] {
			below[i] = len(n.knots)
			n.knots = append(n.knots, knot{k.x, k.y, -k.up, -k.down})
		}
	}
	for _, c := range p.cells {
		n.cells = append(n.cells, c, [4]int{below[c[3]], below[c[2]], below[c[1]], below[c[0]]})
	}
	return n
}

// outline says which knots lie on a side that only one cell has.
func (p *plan) outline() []bool {
	sides := map[[2]int]int{}
	for _, c := range p.cells {
		for i := range c {
			sides[side(c[i], c[(i+1)%4])]++
		}
	}
	on := make([]bool, len(p.knots))
	for s, cells := range sides {
		if cells == 1 {
			on[s[0]], on[s[1]] = true, true
		}
	}
	return on
}

// draw rounds the plan by the given number of subdivisions and returns its skin.
func (p *plan) draw(rounds int) *skin {
	n := p.closed()
	for range rounds {
		n = n.subdivide()
	}
	s := &skin{}
	for _, k := range n.limit() {
		s.corners = append(s.corners, k.point())
	}
	for _, c := range n.cells {
		s.cells = append(s.cells, [4]int32{int32(c[0]), int32(c[1]), int32(c[2]), int32(c[3])})
	}
	return s
}

// point returns the place of a knot of the skin. Heights and depths were rounded
// as two bodies, each its own mirror image in the parting plane, so the outline
// stays in that plane; the upper half of the one is put upon the lower half
// of the other. Smaller heights than roundingNoise are the outline's.
func (k knot) point() r3.Vector {
	const roundingNoise = 1e-9
	z := k.up
	if z < 0 {
		z = k.down
	}
	if math.Abs(z) < roundingNoise {
		z = 0
	}
	return r3.Vector{X: k.x, Y: k.y, Z: z}
}
