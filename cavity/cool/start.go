package cool

import (
	"cmp"
	"math"

	"bellyline/mesh/parallel"
)

// A bait begins hot up to its wall. That jump is not seen by a grid: how much of
// the cells at the wall counts as near to it would hang on how they lie. So the
// grid begins a moment later, with the layer at the wall as it is on a half space
// (Carslaw and Jaeger, Conduction of Heat in Solids, 1959, 2.5 and 2.7; from
// memory). In that moment a layer of two cells or so cools, and how the wall bends
// changes it by the square of that.

// startShare is that moment's time by diffusivity over pitch squared.
const startShare = 1.0

// startDepth is how deep the layer is looked for, in steps from cell to cell: at
// 1/sqrt(3) of it, along a diagonal, 3e-4 of the jump are left.
const startDepth = 9

// layer returns the share of the jump between melt and mold that is left at a depth
// in a half space, with startShare, all lengths in cells; contact as thickness.
func layer(depth, contact float64) float64 {
	root := math.Sqrt(startShare)
	eta := depth / (2 * root)
	left := math.Erf(eta)
	if contact > 0 {
		left += math.Exp(-eta*eta) * scaledErfc(eta+root/contact)
	}
	return min(left, 1)
}

// scaledErfc returns exp(x^2) erfc(x) for x of at least 0.
func scaledErfc(x float64) float64 {
	const far = 20 // erfc is about to run out of exponents; the next term is 1e-8
	if x > far {
		s := 1 / (x * x)
		return (1 - s/2*(1-s*1.5)) / (x * math.Sqrt(math.Pi))
	}
	return math.Exp(x*x) * math.Erfc(x)
}

// findStart works out what is left of the jump at each unknown, a moment after the
// bait was poured.
func (g *Grid) findStart() {
	g.start = make([]float64, len(g.cellOf))
	contact := g.contactMM / g.h
	parallel.Blocks(len(g.start), 1024, func(_, from, to int) {
		for u := from; u < to; u++ {
			g.start[u] = 1
		}
	})
	if math.IsInf(g.contactMM, 1) {
		return
	}
	for u, mm := range g.depths {
		if mm >= 0 {
			g.start[u] = layer(mm/g.h, contact)
		}
	}
}

// findDepths finds how deep the unknowns within startDepth steps of the wall lie: at the wall by the nearest point, further in by the planes that
// their neighbours nearer to the wall found, which is right to how much the wall
// bends in a cell.
func (g *cellSet) findDepths() {
	g.depths = make([]float64, len(g.cellOf))
	for u := range g.depths {
		g.depths[u] = -1
	}
	front := make([]footOf, len(g.feet))
	for i, c := range g.near {
		front[i] = footOf{c, g.feet[i]}
		if g.active[c] {
			g.depths[g.owner[c]] = g.feet[i].depth
		}
	}
	place := make([]int32, len(g.cellOf)) // in the next front; 0 none
	for range startDepth {
		next := g.deeper(front, place)
		for _, n := range next {
			g.depths[g.owner[n.cell]] = max(n.depth, 0)
		}
		front = next
	}
}

// footOf is the plane of the wall next to a cell.
type footOf struct {
	cell int32
	foot
}

// deeper returns the neighbours of a front whose depth is not known yet, each with
// the nearest of the planes that its own neighbours have.
func (g *cellSet) deeper(front []footOf, place []int32) []footOf {
	next := []footOf{{}} // nobody has place 0
	for _, f := range front {
		for _, step := range g.strides() {
			for _, c := range [2]int32{f.cell - int32(step), f.cell + int32(step)} {
				if !g.active[c] || g.depths[g.owner[c]] >= 0 {
					continue
				}
				found := footOf{c, foot{f.at, f.inward, g.node(int(c)).Sub(f.at).Dot(f.inward)}}
				if at := &place[g.owner[c]]; *at == 0 {
					*at = int32(len(next))
					next = append(next, found)
				} else if other := &next[*at]; found.nearer(other.foot) {
					*other = found
				}
			}
		}
	}
	return next[1:]
}

// nearer orders feet, whatever the order in which they are found.
func (f foot) nearer(o foot) bool {
	return cmp.Or(cmp.Compare(f.depth, o.depth), f.at.Cmp(o.at), f.inward.Cmp(o.inward)) < 0
}
