package layout

import (
	"cmp"
	"fmt"
	"math"
)

// Ask is what a mold is sized for. Volumes are mL, at pouring temperature.
type Ask struct {
	BarrelML    []float64  // what a barrel of each injector under consideration holds; the first one is sized for
	KeepsML     float64    // what stays in each
	Colours     int        // barrels that are shot at once
	BellyShare  float64    // of two colours; the larger share empties its barrel first
	HotPerCold  float64    // hot volume over cold: what a fully fed cavity draws in all
	Fed         float64    // share of its shrinkage that a cavity draws
	Cavities    int        // 0: as many as can be
	LargestMM   [2]float64 // of the block that the mill or the stock allows; 0: any
	BetweenS    float64    // from opening to the next shot
	OpenAfterS  float64    // 0: not known
	MetalGML    float64    // density of the block
	PricePerKg  float64    // of the block's metal; 0: not known
	PricePerML  float64    // of plastic; 0: not known
	PressureMPa float64    // of the hand, for the force that opens the mold
	Practice    Practice
}

// Setup is one number of cavities with one injector.
type Setup struct {
	BarrelML      float64    `json:"barrel_ml"`
	Cavities      int        `json:"cavities"`
	ShotML        float64    `json:"shot_ml"`    // feed and topping-up included
	BarrelUse     float64    `json:"barrel_use"` // of what the barrel that empties first can give
	ShotsPerLoad  int        `json:"shots_per_load"`
	BaitsPerHour  float64    `json:"baits_per_hour"` // one mold; 0: not known
	RefillsPer100 float64    `json:"refills_per_100_baits"`
	WastePerML    float64    `json:"waste_per_bait_ml"` // runner and sprue
	BlockMM       [3]float64 `json:"block_mm"`
	BlockKg       float64    `json:"block_kg"`
	MetalCost     float64    `json:"metal_cost"`
	WasteCost     float64    `json:"waste_cost_per_100_baits"`
	OpeningN      float64    `json:"opening_n"` // force that clamps must hold
	Fits          bool       `json:"fits"`
	Limit         string     `json:"limit,omitempty"` // why there are no more
	Why           string     `json:"why,omitempty"`   // it does not fit

	plan *Plan
}

// Plan returns the layout of a setup.
func (s Setup) Plan() *Plan { return s.plan }

// Size lays out the mold: the number asked for, or the largest number of cavities
// that every limit allows. It returns that setup and others to compare it with:
// half as many, one, and all for the other barrels. Errors wrap ErrSize.
func Size(b *Bait, a Ask) (best Setup, others []Setup, err error) {
	if err := a.check(); err != nil {
		return best, nil, err
	}
	for i, barrel := range a.BarrelML {
		count, why := a.Cavities, ""
		if count == 0 {
			count, why = most(b, a, barrel)
		}
		for k, n := range counts(count) {
			s, err := b.setup(a, barrel, n)
			if err != nil {
				if i == 0 && k == 0 {
					return best, nil, err
				}
				continue
			}
			if k == 0 {
				s.Limit = why
			}
			if i == 0 && k == 0 {
				best = s
			}
			others = append(others, s)
		}
	}
	return best, others, nil
}

// counts are three numbers of cavities to compare.
func counts(n int) []int {
	list := []int{n}
	for _, m := range []int{n / 2, n / 4} {
		if m >= 1 && m < list[len(list)-1] {
			list = append(list, m)
		}
	}
	return list
}

// most returns the largest number of cavities that fits, at least 1, and why it is
// not more. A mold of two rows has an even number.
func most(b *Bait, a Ask, barrel float64) (best int, why string) {
	best = 1
	for n := 1; n <= mostCavities; n++ {
		s, err := b.setup(a, barrel, n)
		if err != nil {
			return best, cmp.Or(why, "a longer runner does not fill evenly")
		}
		if s.Fits && (n == 1 || s.plan.Rows == 1 || n%2 == 0) {
			best = n
		}
		if !s.Fits {
			if why == "" {
				why = s.Why
			}
			if s.BarrelUse > 1 {
				return best, why
			}
		}
	}
	return best, why
}

// setup works out one number of cavities.
func (b *Bait) setup(a Ask, barrel float64, cavities int) (Setup, error) {
	plan, err := NewPlan(b, a.Practice, cavities)
	if err != nil {
		return Setup{}, err
	}
	s := Setup{BarrelML: barrel, Cavities: cavities, BlockMM: plan.BlockMM, plan: plan, Fits: true}
	baits := float64(cavities) * b.VolumeMM3 / 1000
	s.ShotML = baits*(1+a.Fed*(a.HotPerCold-1)) + plan.Runner.VolumeML
	usable := barrel - a.KeepsML
	each := s.ShotML
	if a.Colours == 2 {
		each *= max(a.BellyShare, 1-a.BellyShare)
	}
	s.BarrelUse = each / usable
	s.ShotsPerLoad = int(math.Floor(1/s.BarrelUse + 1e-9))
	s.WastePerML = plan.Runner.VolumeML / float64(cavities)
	s.WasteCost = 100 * s.WastePerML / a.HotPerCold * a.PricePerML
	if s.ShotsPerLoad > 0 {
		s.RefillsPer100 = 100 / float64(cavities*s.ShotsPerLoad)
	}
	if a.OpenAfterS > 0 {
		s.BaitsPerHour = 3600 / (a.OpenAfterS + a.BetweenS) * float64(cavities)
	}
	s.BlockKg = plan.BlockMM[0] * plan.BlockMM[1] * plan.BlockMM[2] / 1e6 * a.MetalGML
	s.MetalCost = s.BlockKg * a.PricePerKg
	s.OpeningN = (float64(cavities)*b.ShadowMM2 + plan.Runner.DiameterMM*plan.Runner.LengthMM) * a.PressureMPa
	s.limits(a)
	return s, nil
}

// limits says why a setup does not fit.
func (s *Setup) limits(a Ask) {
	longer, shorter := max(s.BlockMM[0], s.BlockMM[1]), min(s.BlockMM[0], s.BlockMM[1])
	most, least := max(a.LargestMM[0], a.LargestMM[1]), min(a.LargestMM[0], a.LargestMM[1])
	switch {
	case s.BarrelUse > 1:
		s.Why = fmt.Sprintf("a shot takes %.2f times what the barrel can give", s.BarrelUse)
	case most > 0 && (longer > most || shorter > least):
		s.Why = fmt.Sprintf("the block is larger than %.0f x %.0f mm", most, least)
	case !s.plan.InStock:
		s.Why = "no bar of the stock is large enough"
	default:
		return
	}
	s.Fits = false
}

func (a Ask) check() error {
	for _, x := range []struct {
		name             string
		low, high, value float64
	}{
		{"what stays in the barrel, mL,", 0, 1e6, a.KeepsML}, {"hot over cold volume", 1, 2, a.HotPerCold},
		{"fed share", 0, 1, a.Fed}, {"belly's share", 0, 1, a.BellyShare}, {"time between shots, s,", 0, 1e6, a.BetweenS},
		{"opening time, s,", 0, 1e9, a.OpenAfterS}, {"density of the metal, g/mL,", 0.1, 25, a.MetalGML},
		{"price", 0, 1e9, a.PricePerKg}, {"price", 0, 1e9, a.PricePerML}, {"pressure, MPa,", 0, 1000, a.PressureMPa},
	} {
		if !(x.value >= x.low && x.value <= x.high) {
			return fmt.Errorf("%w: %s of %g; it lies between %g and %g", ErrSize, x.name, x.value, x.low, x.high)
		}
	}
	if len(a.BarrelML) == 0 {
		return fmt.Errorf("%w: no barrel", ErrSize)
	}
	for _, v := range a.BarrelML {
		if !(v > a.KeepsML && v <= 1e6) {
			return fmt.Errorf("%w: a barrel of %g mL that keeps %g mL gives nothing", ErrSize, v, a.KeepsML)
		}
	}
	if a.Colours != 1 && a.Colours != 2 {
		return fmt.Errorf("%w: %d colours; one or two are shot at once", ErrSize, a.Colours)
	}
	if a.Cavities < 0 || a.Cavities > mostCavities {
		return fmt.Errorf("%w: %d cavities; give 1 to %d", ErrSize, a.Cavities, mostCavities)
	}
	return a.Practice.check()
}
