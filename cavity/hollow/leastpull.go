package hollow

import (
	"cmp"
	"context"
	"slices"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s2"
)

// The search over directions begins with the cells of the sphere of one level, 6
// times 4 to the level, some 6 degrees across, and halves the best of them until
// they are finer than anybody sets up a block.
const (
	firstLevel = 4
	lastLevel  = 12
	keptCells  = 6
	mostFacets = 20000 // that the search looks at; more are taken evenly
)

// leastUndercut finds the pull with the least undercut. Directions that leave a
// facet free on one side of the parting form a half sphere, and a pull and its
// opposite are the same mold turned over, so half of the sphere is searched.
func (s *surface) leastUndercut(ctx context.Context) (Pull, error) {
	var facets []int32
	every := max(1, len(s.areas)/mostFacets)
	for t := 0; t < len(s.areas); t += every {
		facets = append(facets, int32(t))
	}
	type tried struct {
		cell     s2.CellID
		dir      r3.Vector
		undercut float64
	}
	half := s2.CapFromCenterHeight(s2.PointFromCoords(1e-3, 2e-3, 1), 1) // a half sphere that ends along no axis
	try := func(id s2.CellID) (tried, bool) {
		p := id.Point()
		if !half.ContainsPoint(p) {
			return tried{}, false
		}
		u, _ := s.roughly(facets, p.Vector)
		return tried{id, p.Vector, u}, true
	}
	better := func(a, b tried) int {
		return cmp.Or(cmp.Compare(a.undercut, b.undercut), cmp.Compare(a.cell, b.cell))
	}
	var best []tried
	for id := s2.CellIDFromFace(0).ChildBeginAtLevel(firstLevel); id != s2.CellIDFromFace(5).ChildEndAtLevel(firstLevel); id = id.Next() {
		if t, ok := try(id); ok {
			best = append(best, t)
		}
		if err := ctx.Err(); err != nil {
			return Pull{}, err
		}
	}
	axes := []r3.Vector{{Z: 1}, {Y: 1}, {X: 1}}
	for level := firstLevel; level < lastLevel && len(best) > 0; level++ {
		slices.SortFunc(best, better)
		best = best[:min(keptCells, len(best))]
		for _, b := range slices.Clone(best) {
			for _, child := range b.cell.Children() {
				if t, ok := try(child); ok {
					best = append(best, t)
				}
			}
		}
		if err := ctx.Err(); err != nil {
			return Pull{}, err
		}
	}
	slices.SortFunc(best, better)
	least := s.pulled(axes[0])
	for _, a := range axes[1:] { // blocks are set up along axes: what ties goes to them
		if p := s.pulled(a); p.UndercutMM2 < least.UndercutMM2 {
			least = p
		}
	}
	if len(best) > 0 {
		if p := s.pulled(best[0].dir); p.UndercutMM2 < least.UndercutMM2*(1-1e-3)-1e-6*s.total {
			least = p
		}
	}
	return least, nil
}
