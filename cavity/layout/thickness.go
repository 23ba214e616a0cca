package layout

import (
	"context"
	"fmt"
	"math"
	"slices"

	"bellyline/mesh"
)

// Thickness is how thick a bait is: at each facet the diameter of the largest ball
// that touches it from inside. A place counts by its area.
type Thickness struct {
	ThinnestMM   float64     `json:"thinnest_mm"` // a hundredth of the skin is thinner
	ThinnestAtMM [3]float64  `json:"thinnest_at_mm"`
	ThickestMM   float64     `json:"thickest_mm"`
	ThickestAtMM [3]float64  `json:"thickest_at_mm"`
	Histogram    []ThickBand `json:"histogram"`
	Thin         []Thin      `json:"thin"` // against the limits
}

// ThickBand is how much skin is this thick.
type ThickBand struct {
	FromMM  float64 `json:"from_mm"`
	ToMM    float64 `json:"to_mm"`
	AreaMM2 float64 `json:"area_mm2"`
}

// Thin is skin that is thinner than a limit.
type Thin struct {
	What    string     `json:"what"` // does not fill | tears when it is pulled
	LimitMM float64    `json:"limit_mm"`
	AreaMM2 float64    `json:"area_mm2"`
	AtMM    [3]float64 `json:"at_mm"` // the largest facet that is
}

// Limits of thickness. Common practice, no source.
const (
	DefaultFillMM = 1.0 // thinner does not fill by hand
	DefaultPullMM = 1.5 // thinner tears at demolding
)

// thinShare of the skin may be thinner than what is called the thinnest: edges run
// out to nothing in every model.
const thinShare = 0.01

// FindThickness looks at every facet of a bait. Errors wrap ErrSize.
func FindThickness(ctx context.Context, m *mesh.Mesh, fillMM, pullMM float64) (*Thickness, error) {
	local, err := mesh.NewTree(m).Thickness(ctx)
	if err != nil {
		return nil, err
	}
	type place struct {
		mm, area float64
		facet    int
	}
	var list []place
	total := 0.0
	for f, mm := range local {
		a, b, c := m.Corners(f)
		area := b.Sub(a).Cross(c.Sub(a)).Norm() / 2
		if math.IsNaN(mm) || math.IsInf(mm, 0) || !(area > 0) {
			continue
		}
		list = append(list, place{mm, area, f})
		total += area
	}
	if len(list) == 0 {
		return nil, fmt.Errorf("%w: nothing of the surface faces itself: is it a closed bait?", ErrSize)
	}
	slices.SortFunc(list, func(a, b place) int {
		if a.mm != b.mm {
			return int(math.Copysign(1, a.mm-b.mm))
		}
		return a.facet - b.facet
	})
	at := func(f int) [3]float64 {
		a, b, c := m.Corners(f)
		p := a.Add(b).Add(c).Mul(1.0 / 3)
		return [3]float64{p.X, p.Y, p.Z}
	}
	last := list[len(list)-1]
	t := &Thickness{ThickestMM: last.mm, ThickestAtMM: at(last.facet), Thin: []Thin{}}
	sum := 0.0
	for _, p := range list {
		if sum += p.area; sum >= thinShare*total {
			t.ThinnestMM, t.ThinnestAtMM = p.mm, at(p.facet)
			break
		}
	}
	const bands = 10
	for i := range bands {
		t.Histogram = append(t.Histogram, ThickBand{FromMM: last.mm * float64(i) / bands, ToMM: last.mm * float64(i+1) / bands})
	}
	limits := []Thin{{What: "does not fill", LimitMM: fillMM}, {What: "tears when it is pulled", LimitMM: pullMM}}
	largest := [2]float64{}
	for _, p := range list {
		t.Histogram[min(int(p.mm/last.mm*bands), bands-1)].AreaMM2 += p.area
		for i := range limits {
			if p.mm < limits[i].LimitMM {
				limits[i].AreaMM2 += p.area
				if p.area > largest[i] {
					largest[i], limits[i].AtMM = p.area, at(p.facet)
				}
			}
		}
	}
	for _, l := range limits {
		if l.AreaMM2 > thinShare*total {
			t.Thin = append(t.Thin, l)
		}
	}
	return t, nil
}
