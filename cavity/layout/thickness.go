package layout

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/tree"
	"bellyline/mesh/vector"
)

// Thickness is how thick a bait is: at each facet the diameter of the largest ball
// that touches it from inside. A place counts by its area.
type Thickness struct {
	ThinnestMM   float64     `json:"thinnest_mm"` // a hundredth of the skin is thinner
	ThinnestAtMM [3]float64  `json:"thinnest_at_mm"`
	ThickestMM   float64     `json:"thickest_mm"`
	ThickestAtMM [3]float64  `json:"thickest_at_mm"`
	Histogram    []ThickBand `json:"histogram"`
	Thin         []Thin      `json:"thin"` // features under the limits, the largest first
	Limits       Limits      `json:"limits"`
}

// ThickBand is how much skin is this thick.
type ThickBand struct {
	FromMM  float64 `json:"from_mm"`
	ToMM    float64 `json:"to_mm"`
	AreaMM2 float64 `json:"area_mm2"`
}

// Limits of thickness.
type Limits struct {
	FillMM float64 `json:"fill_mm"` // thinner does not fill by hand
	PullMM float64 `json:"pull_mm"` // thinner tears at demolding
}

// DefaultLimits returns common practice, no source.
func DefaultLimits() Limits { return Limits{FillMM: 1, PullMM: 1.5} }

// place is one facet with how thick the bait is there.
type place struct {
	mm, area float64
	facet    int
}

// thinShare of the skin may be thinner than what is called the thinnest: edges run
// out to nothing in every model.
const thinShare = 0.01

// FindThickness looks at every facet of a bait, which lies with its back and nose as
// told. Of a model whose solids overlap, what lies inside another solid is left out, and
// skin near where they join reads too thin. Errors wrap ErrSize. The cost is that of a thickness for each facet.
func FindThickness(ctx context.Context, m *mesh.Mesh, limits Limits, back, nose r3.Vector, overlaps bool) (*Thickness, error) {
	if !(limits.FillMM >= 0 && limits.PullMM >= 0 && limits.FillMM < 1000 && limits.PullMM < 1000) {
		return nil, fmt.Errorf("%w: limits of %g and %g mm for thin features; give 0 to 1000", ErrSize, limits.FillMM, limits.PullMM)
	}
	tree := tree.New(m)
	local, err := tree.Thickness(ctx)
	if err != nil {
		return nil, err
	}
	if overlaps {
		dropBuried(m, tree, local)
	}
	list, total := places(m, local)
	if len(list) == 0 {
		return nil, fmt.Errorf("%w: nothing of the surface faces itself: is it a closed bait?", ErrSize)
	}
	last := list[len(list)-1]
	t := &Thickness{ThickestMM: last.mm, ThickestAtMM: middleOf(m, last.facet), Thin: []Thin{}, Limits: limits}
	sum := 0.0
	for _, p := range list {
		if sum += p.area; sum >= thinShare*total {
			t.ThinnestMM, t.ThinnestAtMM = p.mm, middleOf(m, p.facet)
			break
		}
	}
	const bands = 10
	for i := range bands {
		t.Histogram = append(t.Histogram, ThickBand{FromMM: last.mm * float64(i) / bands, ToMM: last.mm * float64(i+1) / bands})
	}
	for _, p := range list {
		t.Histogram[min(int(p.mm/last.mm*bands), bands-1)].AreaMM2 += p.area
	}
	f := featureFinder{m: m, list: list, total: total, where: newWhere(m, back, nose)}
	t.Thin = append(t.Thin, f.under(limits.FillMM, "does not fill")...)
	t.Thin = append(t.Thin, f.under(limits.PullMM, "tears when it is pulled")...)
	return t, nil
}

// dropBuried forgets facets that lie inside another solid of the model.
func dropBuried(m *mesh.Mesh, tree *tree.Tree, local []float64) {
	just := 1e-6 * m.Bounds().Diagonal() // outside of its own solid
	for f := range local {
		a, b, c := m.Corners(f)
		n := b.Sub(a).Cross(c.Sub(a))
		if n.Norm() == 0 {
			continue
		}
		out := a.Add(b).Add(c).Mul(1.0 / 3).Add(n.Mul(just / n.Norm()))
		if w, ok := tree.Winding(out); ok && w > 0 {
			local[f] = math.NaN()
		}
	}
}

// places lists facets from thin to thick.
func places(m *mesh.Mesh, local []float64) (list []place, total float64) {
	for f, mm := range local {
		a, b, c := m.Corners(f)
		area := b.Sub(a).Cross(c.Sub(a)).Norm() / 2
		if math.IsNaN(mm) || math.IsInf(mm, 0) || !(area > 0) {
			continue
		}
		list = append(list, place{mm, area, f})
		total += area
	}
	slices.SortFunc(list, func(a, b place) int { return cmp.Or(cmp.Compare(a.mm, b.mm), cmp.Compare(a.facet, b.facet)) })
	return list, total
}

func middleOf(m *mesh.Mesh, f int) [3]float64 {
	a, b, c := m.Corners(f)
	return vector.XYZ(a.Add(b).Add(c).Mul(1.0 / 3))
}
