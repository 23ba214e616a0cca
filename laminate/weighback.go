package laminate

import (
	"fmt"
	"math"
	"slices"

	"bellyline/cavity"
	"bellyline/cavity/units"
	"bellyline/cavity/water"
)

// WeighedBack is what weighing says of the baits and the barrels.
type WeighedBack struct {
	Baits  *BaitsBack  `json:"baits"`  // null when no bait was weighed
	Stroke *StrokeBack `json:"stroke"` // null when no stroke was weighed
}

// BaitsBack is what weighed baits say. Those that are too light are left out of all
// means and spreads.
type BaitsBack struct {
	Weighed int         `json:"weighed"`
	Used    int         `json:"used"` // without those too light
	MeanG   float64     `json:"mean_g"`
	SpreadG *float64    `json:"spread_g"` // sample standard deviation; null for one bait
	MedianG float64     `json:"median_g"` // of all
	LightG  *float64    `json:"light_g"`  // lighter is too light; null for fewer than three
	Light   []LightBait `json:"light"`

	Hung          int      `json:"hung"`
	VolumeML      *float64 `json:"volume_ml"`       // of those hung in water; null when none was
	DensityGML    *float64 `json:"density_g_ml"`    // reached; null when none was hung
	DensitySpread *float64 `json:"density_spread"`  // sample standard deviation, g/mL; null for fewer than two
	DenserBy      float64  `json:"denser_by"`       // than the mix by its recipe, as a share
	WiderBy       float64  `json:"cavity_wider_by"` // than its model, as a share; not 0 only where fed all the way is not enough
	Fed           *float64 `json:"fed"`             // share of the shrinkage drawn; null when the weights cannot tell
	FedGive       *float64 `json:"fed_give"`        // by what it may be off: one standard error and the scale's step
	RecipeG       float64  `json:"recipe_g"`        // what such a bait weighs by recipe and model, fed so
	RecipeUnfedG  float64  `json:"recipe_unfed_g"`  // and fed nothing
	RecipeFedG    float64  `json:"recipe_fed_g"`    // and all
}

// LightBait is one that weighs too little for the spread of the others.
type LightBait struct {
	Bait  int     `json:"bait"` // as listed, counted from 1
	MassG float64 `json:"mass_g"`
}

// StrokeBack is what two weighed cups say of the barrels.
type StrokeBack struct {
	VolumeML    []float64 `json:"volume_ml"` // hot, of each colour
	Shares      []float64 `json:"shares"`    // of each colour, by volume
	BoresShares []float64 `json:"bores_shares"`
}

// LightRule says when a bait is too light.
const LightRule = "more below the median than three robust spreads (1.48 times the median distance from it), one step of the scale and 1 %"

// robustSpreads, and lightest of the median, make the rule. The median absolute
// deviation times 1.4826 estimates the standard deviation of a normal spread (Hampel
// 1974, from memory). A bubble of less than 1 % is nobody's trouble: common practice,
// no source.
const (
	robustSpreads   = 3
	normalDeviation = 1.4826
	leastLight      = 0.01
	fewestForLight  = 3 // baits; two have no middle
)

// tooLight returns the weight below which a bait is too light, and the median.
func tooLight(grams []float64, scaleG float64) (limit, middle float64) {
	middle = median(grams)
	var apart []float64
	for _, g := range grams {
		apart = append(apart, math.Abs(g-middle))
	}
	return middle - max(robustSpreads*normalDeviation*median(apart), scaleG, leastLight*middle), middle
}

func median(of []float64) float64 {
	sorted := slices.Sorted(slices.Values(of))
	n := len(sorted)
	if n%2 == 1 {
		return sorted[n/2]
	}
	return (sorted[n/2-1] + sorted[n/2]) / 2
}

// meanAndSpread returns the mean and the sample standard deviation, null for one.
func meanAndSpread(of []float64) (float64, *float64) {
	mean := 0.0
	for _, x := range of {
		mean += x / float64(len(of))
	}
	if len(of) < 2 {
		return mean, nil
	}
	squares := 0.0
	for _, x := range of {
		squares += (x - mean) * (x - mean)
	}
	spread := math.Sqrt(squares / float64(len(of)-1))
	return mean, &spread
}

// Past these shares weights and recipe cannot be of the same bait. A scale, a spoon and
// a mold worn at its face explain less. Assumed.
const (
	mostDenser   = 0.15
	mostWider    = 0.05
	mostOverFull = 0.10
	leastOfUnfed = 0.70
	mostOfMedian = 1.5
)

// weighBaits sets the mass of a bait to what was weighed: by what the cavity drew, the
// density reached and, where that is not enough, a cavity wider than its model.
func (r *recipe) weighBaits() (*BaitsBack, error) {
	if len(r.Weighings.Baits) == 0 {
		return nil, nil
	}
	b, kept, err := sortBaits(r.Weighings.Baits, r.Measures.ScaleG())
	if err != nil {
		return nil, err
	}
	if r.Cavity == nil {
		r.WeighedBaitG = b.MeanG
	}
	r.cavML = r.cavityML()
	if err := r.hang(b, kept); err != nil {
		return nil, err
	}
	if r.Cavity != nil {
		if err := r.feedBack(b); err != nil {
			return nil, err
		}
	}
	b.RecipeG, b.RecipeUnfedG, b.RecipeFedG = r.massG(r.Fed), r.massG(0), r.massG(1)
	r.applyBack(b)
	return b, nil
}

// sortBaits parts the baits that are too light from the others.
func sortBaits(baits []WeighedBait, scaleG float64) (*BaitsBack, []WeighedBait, error) {
	var all, used []float64
	for _, w := range baits {
		all = append(all, w.AirG)
	}
	limit, middle := tooLight(all, scaleG)
	b := &BaitsBack{Weighed: len(baits), MedianG: middle, Light: []LightBait{}}
	if len(baits) >= fewestForLight {
		b.LightG = &limit
	}
	var kept []WeighedBait
	for i, w := range baits {
		switch {
		case w.AirG > mostOfMedian*middle:
			return nil, nil, fmt.Errorf("%w: weighed bait %d: %.4g g, and the median of all is %.4g g: is its point, and its unit, right?", ErrJob, i+1, w.AirG, middle)
		case b.LightG != nil && w.AirG < limit-1e-9*middle: // rounding is no air
			b.Light = append(b.Light, LightBait{i + 1, w.AirG})
		default:
			kept, used = append(kept, w), append(used, w.AirG)
		}
	}
	b.Used = len(used)
	b.MeanG, b.SpreadG = meanAndSpread(used)
	return b, kept, nil
}

// massG is what one bait weighs by recipe and model, fed the given share.
func (r *recipe) massG(fed float64) float64 {
	sum := 0.0
	for i := range r.blends {
		sum += r.baitPartG(i, fed)
	}
	return sum
}

// coldML is the volume of one bait once set, fed the given share.
func (r *recipe) coldML(fed float64) float64 {
	sum := 0.0
	for i, blend := range r.blends {
		sum += r.baitPartG(i, fed) / blend.ColdDensity
	}
	return sum
}

// hang finds volume and density of the baits that hung in water.
func (r *recipe) hang(b *BaitsBack, kept []WeighedBait) error {
	waterGML := water.Water{TempC: r.Weighings.WaterC}.DensityKgM3() / 1000
	var volumes, densities []float64
	for _, w := range kept {
		if w.Hung {
			v := w.volumeML(waterGML)
			volumes, densities = append(volumes, v), append(densities, w.AirG/v)
		}
	}
	if b.Hung = len(volumes); b.Hung == 0 {
		return nil
	}
	volume, _ := meanAndSpread(volumes)
	density, spread := meanAndSpread(densities)
	b.VolumeML, b.DensityGML, b.DensitySpread = &volume, &density, spread
	fed := r.Fed
	if r.Cavity != nil {
		step := 2 * r.Measures.ScaleG() / waterGML // both weighings may be a step off
		if low, high := r.coldML(0)*leastOfUnfed-step, r.cavML*(1+mostWider)+step; volume < low || volume > high {
			return fmt.Errorf("%w: hung in water the baits have %.2f mL, and set they must have %.2f to %.2f mL in a cavity of %.2f mL; check the scale's unit, the sinker and the model's",
				ErrJob, volume, r.coldML(0), r.coldML(1), r.cavML)
		}
		fed = within01(shareOfWay(r.coldML(0), r.coldML(1), volume, r.Fed))
	}
	mix := r.massG(fed) / r.coldML(fed)
	if b.DenserBy = density/mix - 1; math.Abs(b.DenserBy) > mostDenser {
		return fmt.Errorf("%w: in air and hung in water the baits come to %.3f g/mL, and their mix is %.3f g/mL: one of them is wrong; check the sinker, the colours and their doses", ErrJob, density, mix)
	}
	return nil
}

// shareOfWay returns which share of the way from low to high x lies; otherwise when there is
// no way.
func shareOfWay(low, high, x, otherwise float64) float64 {
	if high-low <= 1e-9*high {
		return otherwise
	}
	return (x - low) / (high - low)
}

// feedBack finds how much of its shrinkage a bait has drawn.
func (r *recipe) feedBack(b *BaitsBack) error {
	denser := 1 + b.DenserBy
	unfed, full := denser*r.massG(0), denser*r.massG(1)
	step := r.Measures.ScaleG()
	if b.MeanG > full*(1+mostOverFull)+step || b.MeanG < unfed*leastOfUnfed-step {
		return fmt.Errorf("%w: the weighed baits have %.2f g each, and by model and mix one has %.2f to %.2f g; check the unit of the scale and of the model, and that no hook was weighed", ErrJob, b.MeanG, unfed, full)
	}
	fed := shareOfWay(unfed, full, b.MeanG, math.NaN())
	if math.IsNaN(fed) { // what does not shrink draws nothing
		r.Fed = 0
	} else {
		r.Fed = within01(fed)
		give := step / math.Sqrt(12) // the standard deviation of what is rounded to a step
		if b.SpreadG != nil {
			give = math.Hypot(give, *b.SpreadG/math.Sqrt(float64(b.Used)))
		}
		known, off := r.Fed, give/(full-unfed)
		b.Fed, b.FedGive = &known, &off
	}
	switch rest := b.MeanG / (denser * r.massG(r.Fed)); {
	case r.Fed == fed: // the weight lies within what feeding can do
	case b.Hung == 0:
		b.DenserBy = rest - 1
	default:
		b.WiderBy = rest - 1
	}
	return nil
}

// applyBack makes the recipe give what was weighed.
func (r *recipe) applyBack(b *BaitsBack) {
	if r.Cavity != nil {
		r.FedAssumed = false
	}
	r.denser *= 1 + b.DenserBy
	r.wider *= 1 + b.WiderBy
	for i := range r.blends {
		r.blends[i] = denserBlend(r.blends[i], 1+b.DenserBy)
	}
	r.cavML = r.cavityML()
}

// weighStroke takes the ratio of the barrels from two weighed cups.
func (r *recipe) weighStroke() (*StrokeBack, error) {
	g := r.Weighings.StrokeG
	if g == nil {
		return nil, nil
	}
	s := &StrokeBack{BoresShares: r.shares}
	total := 0.0
	for i, blend := range r.blends {
		v := g[i] / blend.HotDensity
		if b := r.Injector.Barrels[i]; v > b.usableML()*(1+mostOverFull) {
			return nil, fmt.Errorf("%w: one stroke cannot have pushed %.1f g of %s, hot %.1f mL: its barrel gives %.1f mL", ErrInjector, g[i], r.Colours[i].Name, v, b.usableML())
		}
		s.VolumeML = append(s.VolumeML, v)
		total += v
	}
	for _, v := range s.VolumeML {
		s.Shares = append(s.Shares, v/total)
	}
	r.shares = s.Shares
	return s, nil
}

// strokeOff is by how much of a share barrels may differ from their bores before it
// is said that something is wrong with them. Assumed.
const strokeOff = 0.05

// off is the largest difference of a share from what the bores say.
func (s *StrokeBack) off() float64 {
	most := 0.0
	for i := range s.Shares {
		most = max(most, math.Abs(s.Shares[i]-s.BoresShares[i]))
	}
	return most
}

func (w *WeighedBack) warnings(r recipe, bait Bait) []string {
	if w == nil {
		return nil
	}
	var list []string
	if s := w.Stroke; s != nil && s.off() > strokeOff {
		list = append(list, fmt.Sprintf("one stroke, weighed, gives %s, and the bores %s: a plunger that leaks, air in a barrel, or one that is not full", units.SharesText(s.Shares), units.SharesText(s.BoresShares)))
	}
	if w.Baits != nil {
		list = append(list, w.Baits.warnings(r, bait)...)
	}
	return list
}

func (b *BaitsBack) warnings(r recipe, bait Bait) []string {
	var list []string
	for _, l := range b.Light {
		list = append(list, fmt.Sprintf("weighed bait %d, %.4g g, is lighter than %.2f g: air in it, or not filled; left out of the mean (too light: %s)", l.Bait, l.MassG, *b.LightG, LightRule))
	}
	off := b.DenserBy
	if b.Hung == 0 && math.Abs(off) > 1e-9 {
		fed, word := "that draws nothing", "lighter"
		if off > 0 {
			fed, word = "that draws all it can", "denser"
		}
		list = append(list, fmt.Sprintf("the weighed baits have %.2f g, and by model and mix one %s has %.2f g: the mix is taken as %.1f %% %s; hang some in water to see whether it is that", b.MeanG, fed, b.RecipeG, math.Abs(off)*100, word))
	}
	if math.Abs(b.WiderBy) > 1e-9 {
		list = append(list, fmt.Sprintf("by their volume in water the weighed baits lie %.1f %% outside of what a cavity of %.2f mL can give: it is taken as %.2f mL", math.Abs(b.WiderBy)*100, r.cavML/r.wider, bait.VolumeML))
	}
	return list
}

// denserBlend is a blend as if all of it were so many times as dense.
func denserBlend(b cavity.Blend, times float64) cavity.Blend {
	b.ColdDensity *= times
	b.HotDensity *= times
	b.MassG *= times
	return b
}

// fewestForReject is how many weighed baits make a limit for all that follow. Assumed.
const fewestForReject = 5

// weighedBait is the bait as it was weighed, or as it is worked out.
func (r recipe) weighedBait(w *WeighedBack) Bait {
	bait := r.bait()
	if w == nil || w.Baits == nil {
		return bait
	}
	b := w.Baits
	bait.WeighedBaits = b.Used
	if b.Weighed >= fewestForReject {
		bait.RejectBelowG = *b.LightG
	} else {
		bait.RejectBelowG = min(bait.MassUnfedG, b.MeanG-r.Measures.ScaleG())
	}
	return bait
}
