package main

// net is a closed skin of four-cornered cells, counter-clockwise seen from outside.
type net struct {
	knots []knot
	cells [][4]int
}

// side names the side of a cell by its ends, the smaller number first.
func side(a, b int) [2]int { return [2]int{min(a, b), max(a, b)} }

// subdivide parts each cell in four and rounds the net (Catmull and Clark,
// Computer-Aided Design 10, 1978, from memory). A new corner comes into each
// cell and onto each side; an old one with n cells about it moves to
// (Q + 2R + (n-3)S)/n, with Q the mean of the new corners of its cells, R the
// mean of the middles of its sides and S its old place.
func (n *net) subdivide() *net {
	fine := &net{knots: make([]knot, len(n.knots))}
	centre := make([]int, len(n.cells))
	for i, c := range n.cells {
		centre[i] = len(fine.knots)
		fine.knots = append(fine.knots, n.mean(c[:]...))
	}
	middle := map[[2]int]int{}
	for i, c := range n.cells {
		for j := range c {
			s := side(c[j], c[(j+1)%4])
			k, seen := middle[s]
			if !seen {
				k = len(fine.knots)
				middle[s] = k
				fine.knots = append(fine.knots, n.mean(s[:]...).times(0.5))
			}
			fine.knots[k] = fine.knots[k].plus(fine.knots[centre[i]].times(0.25))
		}
	}
	n.moveOld(fine, centre)
	for i, c := range n.cells {
		for j := range c {
			after, before := middle[side(c[j], c[(j+1)%4])], middle[side(c[(j+3)%4], c[j])]
			fine.cells = append(fine.cells, [4]int{c[j], after, centre[i], before})
		}
	}
	return fine
}

// moveOld puts the old corners of n where they belong in the finer net. Round a
// corner of a closed net each side has one cell on its left, so the sides are
// gone through by their cells.
func (n *net) moveOld(fine *net, centre []int) {
	var (
		about  = make([]float64, len(n.knots))
		cells  = make([]knot, len(n.knots))
		middle = make([]knot, len(n.knots))
	)
	for i, c := range n.cells {
		for j, v := range c {
			about[v]++
			cells[v] = cells[v].plus(fine.knots[centre[i]])
			middle[v] = middle[v].plus(n.mean(v, c[(j+1)%4]))
		}
	}
	for v, k := range n.knots {
		a := about[v]
		fine.knots[v] = cells[v].times(1 / (a * a)).plus(middle[v].times(2 / (a * a))).plus(k.times((a - 3) / a))
	}
}

// limit returns where the corners of the net end up after subdivisions without
// end: (n^2 S + 4 sum of the neighbours + sum of the far corners)/(n(n+5))
// (Halstead, Kass and DeRose, SIGGRAPH 1993, from memory). The skin so drawn
// has its corners on the smooth surface.
func (n *net) limit() []knot {
	about := make([]float64, len(n.knots))
	sum := make([]knot, len(n.knots))
	for _, c := range n.cells {
		for j, v := range c {
			about[v]++
			sum[v] = sum[v].plus(n.knots[c[(j+1)%4]].times(4)).plus(n.knots[c[(j+2)%4]])
		}
	}
	smooth := make([]knot, len(n.knots))
	for v, k := range n.knots {
		a := about[v]
		smooth[v] = k.times(a * a).plus(sum[v]).times(1 / (a * (a + 5)))
	}
	return smooth
}

// mean returns the mean of the given knots.
func (n *net) mean(numbers ...int) knot {
	var sum knot
	for _, i := range numbers {
		sum = sum.plus(n.knots[i])
	}
	return sum.times(1 / float64(len(numbers)))
}
