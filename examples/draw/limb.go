package main

// chain is a row of three knots across a limb: edge, middle, edge.
type chain [3]knot

// limb joins one chain after the other to three knots of an outline, in the
// order of join, and returns the numbers of all rows, those of from first.
// Chains are given for the left side (y > 0) and mirrored for the right one.
// The last one is all outline: its middle needs no height. The middle of from
// stops being outline; if it has no height it takes that of the first chain, or
// the limb would be pinched where it leaves the body.
func (p *plan) limb(left bool, from []int, chains []chain) [][]int {
	if !left {
		from = []int{from[2], from[1], from[0]}
	}
	if root := &p.knots[from[1]]; root.up == 0 {
		root.up, root.down = chains[0][1].up, chains[0][1].down
	}
	grown := [][]int{from}
	for _, c := range chains {
		if !left {
			c = c.mirrored()
		}
		to := p.row(c[:]...)
		p.join(from, to)
		from = to
		grown = append(grown, to)
	}
	return grown
}

// mirrored returns the chain on the other side of the plane y = 0, in the order
// in which join wants it there.
func (c chain) mirrored() chain {
	for i := range c {
		c[i].y = -c[i].y
	}
	return chain{c[2], c[1], c[0]}
}
