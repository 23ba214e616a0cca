package layout

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// Injector is what a shop fills molds with.
type Injector struct {
	Name    string
	Barrels []Barrel // one for each colour that is shot at once
}

// Barrel is one barrel of an injector.
type Barrel struct {
	Name    string
	HoldsML float64
	KeepsML float64 // what stays in it
	Share   float64 // of every shot that it gives
}

// Ask is what a mold is sized for. Volumes are mL, at pouring temperature.
type Ask struct {
	Injectors   []Injector // under consideration; the first one is sized for
	HotPerCold  float64    // hot volume over cold: what a fully fed cavity draws in all
	Fed         float64    // share of its shrinkage that a cavity draws
	Cavities    int        // 0: as many as can be
	Compare     []int      // numbers of cavities to compare; empty: half and a quarter of what is sized
	LargestMM   [2]float64 // of the block that the mill allows; 0: any
	Clamps      Clamps
	BetweenS    float64 // from opening to the next shot
	RefillS     float64 // to draw the barrels full
	OpenAfterS  float64 // 0: not known
	PricePerML  float64 // of cold plastic; 0: not known
	LabourPerS  float64 // 0: not known
	PressureMPa float64 // of the hand, for the force that opens the mold
	Practice    Practice
}

// Colours is how many are shot at once.
func (a Ask) Colours() int { return len(a.Injectors[0].Barrels) }

// Setup is one number of cavities with one injector.
type Setup struct {
	Injector      string     `json:"injector"`
	BarrelML      float64    `json:"barrel_ml"` // of the barrel that empties first
	Cavities      int        `json:"cavities"`
	ShotML        float64    `json:"shot_ml"`    // feed and topping-up included
	BarrelUse     float64    `json:"barrel_use"` // of what the barrel that empties first can give
	ShotsPerLoad  int        `json:"shots_per_load"`
	BaitsPerHour  float64    `json:"baits_per_hour"` // one mold, refills included; 0: not known
	RefillsPer100 float64    `json:"refills_per_100_baits"`
	WastePerML    float64    `json:"waste_per_bait_ml"` // runner and sprue, hot
	CostPerBait   float64    `json:"cost_per_bait"`     // plastic, what the runner takes, and labour, as far as prices are known; 0: none is
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
	for i, injector := range a.Injectors {
		count, why := a.Cavities, ""
		if count == 0 {
			count, why = most(b, a, injector)
		}
		for k, n := range counts(count, a.Compare) {
			s, err := b.setup(a, injector, n)
			if err != nil {
				if i == 0 && k == 0 {
					return best, nil, err
				}
				s = Setup{Injector: injector.Name, Cavities: n, Why: unwrapped(err)}
			}
			if k == 0 {
				s.Limit = why
			}
			if i == 0 && k == 0 {
				best = s
			}
			others = append(others, s)
		}
		if i == 0 && !best.Fits {
			if err := b.notOne(a, injector); err != nil {
				return best, nil, err
			}
		}
	}
	return best, others, nil
}

// notOne says why not even one cavity fits, if so.
func (b *Bait) notOne(a Ask, in Injector) error {
	one, err := b.setup(a, in, 1)
	if err != nil || one.Fits {
		return err
	}
	return fmt.Errorf("%w: not even one cavity fits: %s", ErrSize, one.Why)
}

// unwrapped is what an error says but for its kind.
func unwrapped(err error) string { return strings.TrimPrefix(err.Error(), ErrSize.Error()+": ") }

// counts are numbers of cavities to compare, that which is sized first.
func counts(n int, asked []int) []int {
	list := []int{n}
	if len(asked) == 0 {
		asked = []int{n / 2, n / 4}
	}
	for _, m := range asked {
		if m >= 1 && !slices.Contains(list, m) {
			list = append(list, m)
		}
	}
	return list
}

// most returns the largest number of cavities that fits, at least 1, and why it is
// not more. A mold of two rows has an even number.
func most(b *Bait, a Ask, in Injector) (best int, why string) {
	best = 1
	for n := 1; n <= mostCavities; n++ {
		s, err := b.setup(a, in, n)
		if err != nil {
			return best, cmp.Or(why, "a longer runner does not fill evenly")
		}
		switch {
		case s.BarrelUse > 1:
			return best, cmp.Or(why, s.whyNot())
		case !s.Fits:
			why = cmp.Or(why, s.whyNot())
		case n == 1 || s.plan.Rows == 1 || n%2 == 0:
			best, why = n, ""
		}
	}
	return best, why
}

// whyNot says why a setup does not fit, and with how many cavities.
func (s Setup) whyNot() string { return fmt.Sprintf("with %d, %s", s.Cavities, s.Why) }

// setup works out one number of cavities.
func (b *Bait) setup(a Ask, in Injector, cavities int) (Setup, error) {
	plan, err := NewPlan(b, a.Practice, cavities)
	if err != nil {
		return Setup{}, err
	}
	s := Setup{Injector: in.Name, Cavities: cavities, BlockMM: plan.BlockMM, plan: plan, Fits: true}
	bait, drawn := b.VolumeMM3/1000, 1+a.Fed*(a.HotPerCold-1)
	s.ShotML = float64(cavities)*bait*drawn + plan.Runner.VolumeML
	for _, barrel := range in.Barrels {
		if use := s.ShotML * barrel.Share / (barrel.HoldsML - barrel.KeepsML); use >= s.BarrelUse {
			s.BarrelUse, s.BarrelML = use, barrel.HoldsML
		}
	}
	s.ShotsPerLoad = int(math.Floor(1/s.BarrelUse + 1e-9))
	s.WastePerML = plan.Runner.VolumeML / float64(cavities)
	s.BlockKg = plan.volume() / 1e6 * a.Practice.Stock.GML
	s.MetalCost = s.BlockKg * a.Practice.Stock.PerKg
	s.OpeningN = (float64(cavities)*b.ShadowMM2 + plan.Runner.DiameterMM*plan.Runner.LengthMM) * a.PressureMPa
	s.rates(a, bait*drawn)
	s.limits(a)
	return s, nil
}

// rates are what an hour and a hundred baits take; fillML is what one bait does, hot.
func (s *Setup) rates(a Ask, fillML float64) {
	s.WasteCost = 100 * s.WastePerML / a.HotPerCold * a.PricePerML
	if s.ShotsPerLoad < 1 {
		return // it is never filled
	}
	s.RefillsPer100 = 100 / float64(s.Cavities*s.ShotsPerLoad)
	s.CostPerBait = (fillML + s.WastePerML) / a.HotPerCold * a.PricePerML
	if a.OpenAfterS > 0 {
		cycle := a.OpenAfterS + a.BetweenS + a.RefillS/float64(s.ShotsPerLoad)
		s.BaitsPerHour = 3600 / cycle * float64(s.Cavities)
		s.CostPerBait += cycle / float64(s.Cavities) * a.LabourPerS
	}
}

// limits says why a setup does not fit.
func (s *Setup) limits(a Ask) {
	longer, shorter := max(s.BlockMM[0], s.BlockMM[1]), min(s.BlockMM[0], s.BlockMM[1])
	most, least := max(a.LargestMM[0], a.LargestMM[1]), min(a.LargestMM[0], a.LargestMM[1])
	switch c := a.Clamps; {
	case s.BarrelUse > 1:
		s.Why = fmt.Sprintf("a shot takes %.2f times what the barrel can give", s.BarrelUse)
	case most > 0 && (longer > most || shorter > least):
		s.Why = fmt.Sprintf("the block is larger than %.0f x %.0f mm", most, least)
	case c.OpeningMM > 0 && s.BlockMM[2] > c.OpeningMM:
		s.Why = fmt.Sprintf("the block is %.1f mm thick, and the clamps open to %.1f mm", s.BlockMM[2], c.OpeningMM)
	case c.LengthMM > 0 && longer > c.LengthMM:
		s.Why = fmt.Sprintf("the block is %.0f mm long, and the clamps hold one of %.0f mm", longer, c.LengthMM)
	case c.ForceN > 0 && s.OpeningN > c.ForceN:
		s.Why = fmt.Sprintf("filling opens it with up to %.0f N, and the clamps hold %.0f N", s.OpeningN, c.ForceN)
	case s.plan.longPerOne() > a.Practice.LongPerOne:
		s.Why = fmt.Sprintf("the block is %.1f times as long as wide, more than %.1f", s.plan.longPerOne(), a.Practice.LongPerOne)
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
		{"hot over cold volume", 1, 2, a.HotPerCold}, {"fed share", 0, 1, a.Fed},
		{"time between shots, s,", 0, 1e6, a.BetweenS}, {"time to refill, s,", 0, 1e6, a.RefillS}, {"opening time, s,", 0, 1e9, a.OpenAfterS},
		{"price", 0, 1e9, a.PricePerML}, {"labour", 0, 1e9, a.LabourPerS}, {"pressure, MPa,", 0, 1000, a.PressureMPa},
		{"opening of the clamps, mm,", 0, 1e5, a.Clamps.OpeningMM}, {"length of the clamps, mm,", 0, 1e5, a.Clamps.LengthMM}, {"force of the clamps, N,", 0, 1e9, a.Clamps.ForceN},
	} {
		if !(x.value >= x.low && x.value <= x.high) {
			return fmt.Errorf("%w: %s of %g; it lies between %g and %g", ErrSize, x.name, x.value, x.low, x.high)
		}
	}
	if len(a.Injectors) == 0 {
		return fmt.Errorf("%w: no barrel", ErrSize)
	}
	for _, in := range a.Injectors {
		if err := in.check(); err != nil {
			return err
		}
	}
	for _, n := range append([]int{max(a.Cavities, 1)}, a.Compare...) {
		if n < 1 || n > mostCavities || a.Cavities < 0 {
			return fmt.Errorf("%w: %d cavities; give 1 to %d", ErrSize, n, mostCavities)
		}
	}
	return a.Practice.check()
}

// mostBarrelML is more than any barrel holds.
const mostBarrelML = 1e6

func (in Injector) check() error {
	if n := len(in.Barrels); n != 1 && n != 2 {
		return fmt.Errorf("%w: %d colours; one or two are shot at once", ErrSize, n)
	}
	total := 0.0
	for _, b := range in.Barrels {
		if !(b.HoldsML <= mostBarrelML) {
			return fmt.Errorf("%w: a barrel of %g mL; it holds at most %g", ErrSize, b.HoldsML, float64(mostBarrelML))
		}
		if !(b.KeepsML >= 0 && b.HoldsML > b.KeepsML) {
			return fmt.Errorf("%w: a barrel of %g mL that keeps %g mL gives nothing", ErrSize, b.HoldsML, b.KeepsML)
		}
		if !(b.Share >= 0 && b.Share <= 1) {
			return fmt.Errorf("%w: a barrel that gives %g of a shot; it is a share", ErrSize, b.Share)
		}
		total += b.Share
	}
	const rounding = 1e-9
	if math.Abs(total-1) > rounding {
		return fmt.Errorf("%w: the barrels give %g of a shot together, not all of it", ErrSize, total)
	}
	return nil
}
