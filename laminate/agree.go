package laminate

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"bellyline/cavity/units"
)

// Agreement is how a drawn line and a pair of barrels come to agree, and what the pair
// can deliver. Shares are of the first colour, in the cavity as it fills.
type Agreement struct {
	// Under one handle both plungers travel alike, so the drawn share takes bores whose
	// areas stand in this ratio, the first colour's over the second's.
	BoreAreaRatio float64   `json:"bore_area_ratio"`
	Bores         []BoreFor `json:"bores"` // one barrel changed, the other kept; empty when a bore is not known
	// The ratio of the areas of Bores: another than BoreAreaRatio when a weighed stroke says
	// that the barrels do not give as their bores are. 0 when a bore is not known.
	TakenAreaRatio float64 `json:"taken_area_ratio"`
	Weighed        bool    `json:"stroke_weighed"`
	// By hand each plunger goes its own way; empty when a bore is not known.
	Pushes     []Push `json:"pushes"`
	ByHandFits bool   `json:"by_hand_fits"` // each barrel holds what one shot as drawn takes of its colour
	// What the barrels can fill this mold with in one stroke; both 0 when nothing.
	LeastShare float64 `json:"least_share"`
	MostShare  float64 `json:"most_share"`
	Any        bool    `json:"any_share"` // every share at all
}

// BoreFor is a bore that makes ganged barrels give the drawn share.
type BoreFor struct {
	Colour string  `json:"colour"`
	Barrel string  `json:"barrel"`
	BoreMM float64 `json:"bore_mm"`
	IsMM   float64 `json:"is_mm"` // as it is now
}

// Push is how far one plunger goes for one shot as drawn.
type Push struct {
	Colour   string  `json:"colour"`
	TravelMM float64 `json:"travel_mm"`
	PerFirst float64 `json:"per_first"` // for 1 mm of the first colour's
}

// agree works out what it takes to get the drawn shares, and what the barrels can do.
// Its cost is some hundred sums over the colours.
func (r recipe) agree() *Agreement {
	a := &Agreement{BoreAreaRatio: r.asked[0] / r.asked[1]}
	shot := r.byHand(r.asked).shot()
	a.ByHandFits = r.Injector.smallestLoad(shot) >= 1
	barrels := r.Injector.Barrels
	pair := len(barrels) == 2
	if !slices.ContainsFunc(barrels, func(b Barrel) bool { return b.BoreMM == 0 }) {
		a.Bores = r.bores()
		for i, c := range shot.Colours {
			travel := barrels[i].TravelMM(c.TotalML)
			a.Pushes = append(a.Pushes, Push{Colour: c.Name, TravelMM: travel, PerFirst: travel / barrels[0].TravelMM(shot.Colours[0].TotalML)})
		}
		if pair {
			a.TakenAreaRatio = square(a.Bores[0].BoreMM / barrels[1].BoreMM)
			a.Weighed = r.Weighings.StrokeG != nil
		}
	}
	if pair {
		a.LeastShare, a.MostShare = r.reach()
		a.Any = a.LeastShare == leastShare && a.MostShare == 1-leastShare
	}
	return a
}

// byHand is the job with every plunger pushed by itself until the given shares are met.
func (r recipe) byHand(shares []float64) recipe {
	r.shares, r.fixed = shares, false
	r.cavML = r.cavityML()
	return r
}

// bores finds what makes the barrels give the drawn shares: of a pair each bore while
// the other is kept, of more those beside the first, which is kept. Equal travel gives
// volumes as bores squared, so a bore changes as the root of the odds. Where barrels
// were measured to give something else than their bores say, the change starts from
// what they give.
func (r recipe) bores() []BoreFor {
	var list []BoreFor
	for i, b := range r.Injector.Barrels {
		kept := 0
		if len(r.Injector.Barrels) == 2 {
			kept = 1 - i
		}
		list = append(list, BoreFor{Colour: r.Colours[i].Name, Barrel: b.Name, BoreMM: b.BoreMM * r.boreChange(i, kept), IsMM: b.BoreMM})
	}
	return list
}

// boreChange is how many times wider barrel i must be beside another.
func (r recipe) boreChange(i, kept int) float64 {
	given := square(r.Injector.Barrels[i].BoreMM / r.Injector.Barrels[kept].BoreMM)
	if r.fixed {
		given = r.shares[i] / r.shares[kept]
	}
	return math.Sqrt(r.asked[i] / r.asked[kept] / given)
}

func square(x float64) float64 { return x * x }

// reach finds the least and the most share of the first colour that the barrels can
// fill the mold with in one stroke. What a shot takes of a colour grows with its
// share, so each end is found by halving.
func (r recipe) reach() (least, most float64) {
	if r.fixed {
		if r.Injector.smallestLoad(r.shot()) < 1 {
			return 0, 0
		}
		return r.shares[0], r.shares[0]
	}
	holds := func(colour int, share float64) bool {
		return wholeShots(r.Injector.Barrels[colour].usableML(), r.byHand([]float64{share, 1 - share}).shot().Colours[colour].TotalML) >= 1
	}
	most = farthest(leastShare, 1-leastShare, func(s float64) bool { return holds(0, s) })
	least = farthest(1-leastShare, leastShare, func(s float64) bool { return holds(1, s) })
	if !(least <= most) { // NaN: not even a trace of that colour
		return 0, 0
	}
	return least, most
}

// farthest returns how far one can go from a place that is good towards one that may
// not be, or NaN when the first is not good.
func farthest(from, to float64, good func(float64) bool) float64 {
	switch {
	case !good(from):
		return math.NaN()
	case good(to):
		return to
	}
	for range 60 { // down to rounding
		if mid := (from + to) / 2; good(mid) {
			from = mid
		} else {
			to = mid
		}
	}
	return from
}

// narrowest and widest are the bores that barrels come in, in mm: common practice, no
// source. A way out past them is none.
const narrowest, widest = 5, 100

// waysOut tells what can be done about barrels that do not put the line where it was
// drawn: move it, change the barrels, push by hand.
func (l *LineResult) waysOut() string {
	a := l.Agree
	at := units.ShareText(l.DeliveredShare)
	if l.DeliveredUpMM != nil {
		at += fmt.Sprintf(", %s above the lowest point (%.2f mm in the model)", units.Length(*l.DeliveredUpMM), *l.DeliveredMM)
	}
	return fmt.Sprintf("three ways out: draw the line where they put it, at %s; or %s; or %s", at, a.changeBarrels(), a.pushByHand())
}

func (a *Agreement) changeBarrels() string {
	var fits []string
	for _, b := range a.Bores {
		if b.BoreMM >= narrowest && b.BoreMM <= widest {
			fits = append(fits, fmt.Sprintf("%s's barrel to a bore of %s from %.1f mm", b.Colour, units.Length(b.BoreMM), b.IsMM))
		}
	}
	if len(fits) == 0 {
		return fmt.Sprintf("change the barrels to bores whose areas stand as %.2f to 1, though not with either of these two kept", cmp.Or(a.TakenAreaRatio, a.BoreAreaRatio))
	}
	areas := fmt.Sprintf("areas as %.2f to 1", a.TakenAreaRatio)
	if a.Weighed {
		areas += ", by the stroke that you weighed"
	}
	return fmt.Sprintf("change %s, the other kept (%s)", strings.Join(fits, ", or "), areas)
}

func (a *Agreement) pushByHand() string {
	if !a.ByHandFits {
		return "push each plunger by hand, but in fewer cavities: these barrels do not hold one shot as drawn"
	}
	var each []string
	for _, p := range a.Pushes {
		each = append(each, fmt.Sprintf("%s %s", p.Colour, units.Length(p.TravelMM)))
	}
	return "push each plunger by hand, without the common handle: for one mold " + strings.Join(each, ", ")
}
