package laminate

import (
	"fmt"
	"math"

	"bellyline/cavity"
	"bellyline/cavity/units"
)

// Shot is one mold filled once.
type Shot struct {
	VolumeML float64      `json:"volume_ml"` // hot, all colours, topping-up included
	Colours  []ShotColour `json:"colours"`   // from belly to back
}

// ShotColour is what one colour gives to a shot. Volumes are hot unless named cold.
type ShotColour struct {
	Name    string  `json:"name"`
	BaitML  float64 `json:"bait_ml"`  // in the cavities as they fill
	TopUpML float64 `json:"topup_ml"` // drawn while the baits shrink
	FeedML  float64 `json:"feed_ml"`  // runner, sprue, gates, plug
	TotalML float64 `json:"total_ml"`
	MassG   float64 `json:"mass_g"`
	ColdML  float64 `json:"cold_ml"` // the same plastic, mixed and cold
	Cups    float64 `json:"cups"`    // of plastisol that go into it
	Share   float64 `json:"share"`   // of the shot's hot volume

	baitG, feedG float64
}

// Bait is one bait as it will weigh.
type Bait struct {
	VolumeML    float64 `json:"cavity_ml"`
	MassG       float64 `json:"mass_g"`
	MassUnfedG  float64 `json:"mass_unfed_g"` // nothing drawn while it shrinks
	MassFedG    float64 `json:"mass_fed_g"`   // all of its shrinkage drawn
	DensityGML  float64 `json:"density_g_ml"` // cold
	Fed         float64 `json:"fed"`
	FedAssumed  bool    `json:"fed_assumed"`
	FromWeighed bool    `json:"from_weighed"`
	// RejectBelowG is from where on a bait is too light: by the spread of the shop's own
	// weighed baits when these are enough, else what one weighs that draws nothing.
	RejectBelowG float64 `json:"reject_below_g"`
	WeighedBaits int     `json:"weighed_baits"` // that the weight comes from; 0: it is worked out
	// WeighTogether is how many must lie on the shop's scale for its step to be 1 % of them.
	WeighTogether int `json:"weigh_together"`
}

// recipe is a job with its blends and shares worked out.
type recipe struct {
	Job
	blends []cavity.Blend
	asked  []float64 // of each colour in the cavity, as drawn
	shares []float64 // the same as delivered
	fixed  bool      // by ganged barrels
	cavML  float64
	denser float64 // than by recipe, times; weighed
	wider  float64 // than its model, times; weighed
}

// bait weighs one bait, fed as the job says, not at all, and fully.
func (r recipe) bait() Bait {
	b := Bait{VolumeML: r.cavML, Fed: r.Fed, FedAssumed: r.FedAssumed, FromWeighed: r.Cavity == nil}
	coldML := 0.0
	for i, blend := range r.blends {
		b.MassUnfedG += r.baitPartG(i, 0)
		b.MassFedG += r.baitPartG(i, 1)
		grams := r.baitPartG(i, r.Fed)
		b.MassG += grams
		coldML += grams / blend.ColdDensity
	}
	b.DensityGML = b.MassG / coldML
	b.RejectBelowG = b.MassUnfedG
	b.WeighTogether = weighTogether(r.Measures.ScaleG(), b.MassG)
	return b
}

// baitPartG is what colour i weighs in one bait that is fed the given share.
func (r recipe) baitPartG(i int, fed float64) float64 {
	return r.blends[i].HotDensity * r.cavML * (r.shares[i] + r.topUp(i, fed))
}

// topUp returns what one cavity draws of colour i while it shrinks, hot, per
// volume of cavity. Each colour's shrinkage asks for its own; ganged barrels
// answer in their own ratio all the same.
func (r recipe) topUp(i int, fed float64) float64 {
	if !r.fixed {
		return r.shares[i] * r.blends[i].TopUp(fed)
	}
	total := 0.0
	for k, blend := range r.blends {
		total += r.shares[k] * blend.TopUp(fed)
	}
	return r.shares[i] * total
}

// cavityML returns the cavity's volume: from its model, or worked back from a
// weighed bait with the mixes of this job.
func (r recipe) cavityML() float64 {
	if r.Cavity != nil {
		return r.Cavity.FillMM3 / 1000 * r.wider
	}
	r.cavML = 1
	gramsPerML := 0.0
	for i := range r.blends {
		gramsPerML += r.baitPartG(i, r.Fed)
	}
	return r.WeighedBaitG / gramsPerML
}

// shot adds up one stroke. Runner, sprue and plug hold the colours in the
// delivered ratio.
func (r recipe) shot() Shot {
	density := 0.0
	for i, blend := range r.blends {
		density += r.shares[i] * blend.HotDensity
	}
	feedML := r.Feed.HotML(density)
	var s Shot
	for i, blend := range r.blends {
		c := ShotColour{
			Name:    r.Colours[i].Name,
			BaitML:  float64(r.Cavities) * r.cavML * r.shares[i],
			TopUpML: float64(r.Cavities) * r.cavML * r.topUp(i, r.Fed),
			FeedML:  feedML * r.shares[i],
		}
		c.TotalML = c.BaitML + c.TopUpML + c.FeedML
		c.baitG = (c.BaitML + c.TopUpML) * blend.HotDensity
		c.feedG = c.FeedML * blend.HotDensity
		c.MassG = c.baitG + c.feedG
		c.ColdML = c.MassG / blend.ColdDensity
		c.Cups = units.Volume(c.TotalML / blend.HotML).Cups()
		s.VolumeML += c.TotalML
		s.Colours = append(s.Colours, c)
	}
	for i := range s.Colours {
		s.Colours[i].Share = s.Colours[i].TotalML / s.VolumeML
	}
	return s
}

// fits says whether every barrel holds one shot, and if not, how many cavities
// the pair could fill.
func (r recipe) fits(s Shot) error {
	if r.Injector.smallestLoad(s) >= 1 {
		return nil
	}
	for n := r.Cavities - 1; n >= 1; n-- {
		fewer := r
		fewer.Cavities = n
		if r.Injector.smallestLoad(fewer.shot()) >= 1 {
			return r.shotTooLarge(s, fmt.Sprintf("it can fill at most %d of the %d cavities", n, r.Cavities))
		}
	}
	return r.shotTooLarge(s, "it cannot fill even one cavity with this feed")
}

func (r recipe) shotTooLarge(s Shot, advice string) error {
	for i, c := range s.Colours {
		b := r.Injector.Barrels[i]
		if wholeShots(b.usableML(), c.TotalML) < 1 {
			return fmt.Errorf("%w: one shot takes %.1f mL of %s, the %s barrel gives %.1f mL; %s%s",
				ErrInjector, c.TotalML, c.Name, b.Name, b.usableML(), advice, r.otherLine(b, c.TotalML))
		}
	}
	return fmt.Errorf("%w: %s", ErrInjector, advice)
}

// otherLine tells where barrels pushed one by one can put the line in one stroke, and
// the bore that holds a shot as drawn. At the same stroke a barrel holds as its bore squared.
func (r recipe) otherLine(b Barrel, needML float64) string {
	if len(r.Colours) != 2 || r.fixed {
		return ""
	}
	least, most := r.reach()
	if most == 0 {
		return ""
	}
	bore := ""
	if b.BoreMM > 0 {
		bore = fmt.Sprintf(", or take a barrel of %s bore and the same stroke", units.Length(b.BoreMM*math.Sqrt((needML+b.KeepsML)/b.CapacityML)))
	}
	return fmt.Sprintf("; for all of them draw the line between %s and %s%s", units.ShareText(least), units.ShareText(most), bore)
}
