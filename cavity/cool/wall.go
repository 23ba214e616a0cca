package cool

import (
	"math"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/parallel"
)

// wallCells returns the cells that the facets that touch the mold go through, some of
// them more than once, and the area of all facets in mm2.
func (f frame) wallCells(skin *mesh.Mesh) (cells [][]int32, areaMM2 float64) {
	const block = 256
	cells = make([][]int32, parallel.Count(len(skin.Triangles), block))
	areas := make([]float64, len(cells))
	parallel.Blocks(len(skin.Triangles), block, func(n, from, to int) {
		for t := from; t < to; t++ {
			a, b, c := skin.Corners(t)
			areas[n] += b.Sub(a).Cross(c.Sub(a)).Norm() / 2
			cells[n] = f.mark(cells[n], [3]r3.Vector{a, b, c}, [3]int{f.cellOf(a), f.cellOf(b), f.cellOf(c)})
		}
	})
	for _, mm2 := range areas {
		areaMM2 += mm2
	}
	return cells, areaMM2
}

// mark adds the cells that a facet goes through, given those of its corners: the only
// one, or those of its halves, or that of the middle of a piece no longer than
// longestPiece.
func (f frame) mark(list []int32, p [3]r3.Vector, cells [3]int) []int32 {
	if cells[0] == cells[1] && cells[0] == cells[2] {
		return append(list, int32(cells[0]))
	}
	long, most := 0, 0.0
	for i := range p {
		if d := p[(i+1)%3].Sub(p[i]).Norm2(); d > most {
			long, most = i, d
		}
	}
	if limit := longestPiece * f.h; most <= limit*limit {
		return append(list, int32(f.cellOf(p[0].Add(p[1]).Add(p[2]).Mul(1.0/3))))
	}
	next := (long + 1) % 3
	middle := p[long].Add(p[next]).Mul(0.5)
	cell := f.cellOf(middle)
	first, firstCells := p, cells
	first[next], firstCells[next] = middle, cell
	p[long], cells[long] = middle, cell
	return f.mark(f.mark(list, first, firstCells), p, cells)
}

// filled returns the share of a tetrahedron where the linear function with these
// values at its corners is positive, and the function's integral there over the
// tetrahedron's volume.
func filled(v [4]float64) (share, moment float64) {
	for i := 1; i < 4; i++ { // highest first
		for j := i; j > 0 && v[j] > v[j-1]; j-- {
			v[j], v[j-1] = v[j-1], v[j]
		}
	}
	a, b, c, d := v[0], v[1], v[2], v[3]
	whole := (a + b + c + d) / 4
	switch {
	case d >= 0:
		return 1, whole
	case a <= 0:
		return 0, 0
	case b <= 0: // one corner
		share = a / (a - b) * a / (a - c) * a / (a - d)
		return share, share * a / 4
	case c > 0: // all but one corner
		share = d / (d - a) * d / (d - b) * d / (d - c)
		return 1 - share, whole - share*d/4
	}
	// Two above, two below: a wedge, in three tetrahedra. Along the edges from the
	// two upper corners to the two lower ones the function is zero at these shares.
	ac, ad, bc, bd := a/(a-c), a/(a-d), b/(b-c), b/(b-d)
	first, rest := ac*ad, ad*bc*(1-ac)+bc*bd*(1-ad)
	return first + rest, first*(a+b)/4 + rest*b/4
}

// kuhn are the six tetrahedra of a cube whose corner i has x, y, z in its bits.
var kuhn = [6][4]int{{0, 1, 3, 7}, {0, 1, 5, 7}, {0, 2, 3, 7}, {0, 2, 6, 7}, {0, 4, 5, 7}, {0, 4, 6, 7}}

// halfSpace returns the share of a unit cube that lies in a half space, whose border
// is at a depth from the cube's middle, positive when the middle is inside, and that
// share times the mean depth of it.
func halfSpace(depth float64, inward r3.Vector) (share, moment float64) {
	reach := (math.Abs(inward.X) + math.Abs(inward.Y) + math.Abs(inward.Z)) / 2
	switch {
	case depth >= reach:
		return 1, depth
	case depth <= -reach:
		return 0, 0
	}
	var v [8]float64
	for i := range v {
		corner := r3.Vector{X: float64(i&1) - 0.5, Y: float64(i>>1&1) - 0.5, Z: float64(i>>2) - 0.5}
		v[i] = depth + corner.Dot(inward)
	}
	for _, t := range kuhn {
		s, m := filled([4]float64{v[t[0]], v[t[1]], v[t[2]], v[t[3]]})
		share, moment = share+s/6, moment+m/6
	}
	return share, moment
}
