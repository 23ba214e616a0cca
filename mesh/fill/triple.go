package fill

import (
	"context"
	"math/big"
	"slices"

	"bellyline/mesh/halfedge"
	"bellyline/mesh/internal/lattice"
)

// findCuts finds the points that three facets have in common. Each is looked for
// once, so the three segments that meet there agree about it.
func (a *arrangement) findCuts(ctx context.Context) error {
	for i, t := range a.triples() {
		if i%1024 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		if err := a.cutTriple(t); err != nil {
			return err
		}
	}
	for i := range a.seams {
		if err := a.sortCuts(&a.seams[i]); err != nil {
			return err
		}
	}
	return nil
}

// triples returns all sets of three facets that cross each other pairwise, each in
// rising order. Every segment is run from the facet with fewer segments to that
// with more, so that one big facet crossed by many costs no more than they do.
func (a *arrangement) triples() [][3]int32 {
	count := map[int32]int{}
	for _, s := range a.seams {
		count[s.f]++
		count[s.g]++
	}
	out := map[int32][]int32{}
	var from []int32
	for _, s := range a.seams {
		f, g := s.f, s.g
		if count[g] < count[f] {
			f, g = g, f
		}
		if out[f] == nil {
			from = append(from, f)
		}
		out[f] = append(out[f], g)
	}
	var found [][3]int32
	for _, f := range from {
		for i, g := range out[f] {
			for _, h := range out[f][:i] {
				if a.find(g, h) >= 0 {
					t := [3]int32{f, g, h}
					slices.Sort(t[:])
					found = append(found, t)
				}
			}
		}
	}
	return found
}

// cutTriple adds the point that three facets have in common, if there is one. It is
// in f and g if it is on their segment, which it is if the ends of that are on
// different sides of h; likewise with f and h; then it is in all three.
func (a *arrangement) cutTriple(t [3]int32) error {
	if corner := commonCorner(a.s.ids[t[0]], a.s.ids[t[1]]); corner >= 0 && halfedge.HasCorner(a.s.ids[t[2]], corner) {
		return nil // their planes meet there and nowhere else
	}
	var cuts [3]cut
	var segments [3]int
	for k := range 3 {
		third := t[2-k] // segments of 0 and 1, 0 and 2, 1 and 2
		segments[k] = a.find(t[(k+1)/3], t[(k+3)/2])
		seg := &a.seams[segments[k]]
		from, fromWeight := a.heightOf(third, seg.start)
		to, toWeight := a.heightOf(third, seg.end)
		switch {
		case from.Sign() == 0 || to.Sign() == 0:
			return lattice.ErrFlat
		case from.Sign() == to.Sign():
			if k == 2 {
				return errInconsistent
			}
			return nil
		}
		x, y := from.V/fromWeight, to.V/toWeight
		cuts[k] = cut{
			facet: third, sign: int8(from.Sign()), from: from, to: to,
			at: between(a.place(seg.start), a.place(seg.end), x/(x-y)),
		}
	}
	for k := range 3 {
		cuts[k].at = cuts[0].at
		seg := &a.seams[segments[k]]
		seg.cuts = append(seg.cuts, cuts[k])
	}
	return nil
}

// sortCuts puts the cuts of a segment in their order along it.
func (a *arrangement) sortCuts(seg *seam) error {
	var err error
	slices.SortFunc(seg.cuts, func(x, y cut) int {
		if x.facet == y.facet {
			return 0
		}
		order := a.alongSeam(seg, &x, &y)
		if order == 0 {
			err = lattice.ErrFlat
		}
		return order
	})
	return err
}

// alongSeam returns -1 if x comes before y on a segment, +1 if after, exactly.
// The segment is cut at the share from/(from-to) of its length, up to the weights
// of its ends, so the sign wanted is that of y.from x.to - x.from y.to over
// (x.from-x.to).(y.from-y.to), and the weights are positive factors of it.
func (a *arrangement) alongSeam(seg *seam, x, y *cut) int {
	sign := y.from.Times(x.to).Minus(x.from.Times(y.to)).Sign()
	if sign == 0 {
		sign = lattice.BigDeterminant(a.exactHeightOf(y.facet, seg.start), a.exactHeightOf(x.facet, seg.end),
			a.exactHeightOf(x.facet, seg.start), a.exactHeightOf(y.facet, seg.end)).Sign()
	}
	if (x.from.V > 0) != (y.from.V > 0) {
		return -sign
	}
	return sign
}

// exactHeightOf is heightOf as a whole number.
func (a *arrangement) exactHeightOf(facet int32, e seamEnd) *big.Int {
	if e.piercing < 0 {
		return a.s.exactCornerHeight(facet, e.corner)
	}
	return a.s.exactHeightAt(facet, &a.list[e.piercing])
}
