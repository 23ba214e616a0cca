package order

import (
	"context"
	"fmt"
	"math"
	"slices"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

// Plan is the answer to an Order.
type Plan struct {
	Name     string       `json:"order"`
	Lines    []LinePlan   `json:"lines"`
	Heatings []Heating    `json:"heatings"`
	Schedule []Shot       `json:"schedule"`
	Colours  []Account    `json:"colours"`
	Mixed    MixedAccount `json:"mixed"`
	Shopping Shopping     `json:"shopping"`
	Rounding Rounding     `json:"rounding"`
	Cost     *Cost        `json:"cost"` // null unless every price was given
	PourS    float64      `json:"pour_s"`
	HandleS  float64      `json:"handle_s"` // trimming, looking over and packing
	Refills  int          `json:"refills"`
	Money    string       `json:"money"`
	Warnings []string     `json:"warnings"`
	Cautions []string     `json:"cautions"`

	LeftoversKept bool `json:"leftovers_kept"` // those of earlier days: with them the order would cost more

	groups [][]int // lines that share their cups
}

// LinePlan is one bait of a plan.
type LinePlan struct {
	Name       string  `json:"name"`
	Bait       string  `json:"bait"`
	Mold       string  `json:"mold"`
	Molds      int     `json:"molds"` // in use: no more than pays
	MoldsGiven int     `json:"molds_given"`
	Cavities   int     `json:"cavities"`
	Ordered    int     `json:"ordered"`
	Packs      int     `json:"packs"`
	Shots      int     `json:"shots"` // without those that warm up
	WarmUps    int     `json:"warm_up_shots"`
	Scrap      int     `json:"scrap_baits"`
	Spare      int     `json:"spare_baits"`
	BaitG      float64 `json:"bait_g"` // the mean of what is poured
	FirstS     float64 `json:"first_s"`
	LastS      float64 `json:"last_s"` // when the last bait has cooled

	Cost *LineCost `json:"cost"`
}

// run is an order being worked off.
type run struct {
	bench    Bench
	measures units.Measures
	colours  []*colour
	tasks    []*task
	mixed    shelf
	barrels  map[string]int // the colour last in each barrel
	clock    float64
	idle     int // heatings in a row that gave no good bait
	heatings []Heating
	shots    []Shot
}

// Plan works an order out, with no more molds than pays, and with what is left over from
// earlier days unless the order costs less without. Its cost grows with the number of
// shots times the number of molds that share a heating.
func (o Order) Plan(ctx context.Context) (*Plan, error) {
	if err := o.check(); err != nil {
		return nil, err
	}
	p, err := o.planMolds(ctx)
	if err != nil || len(o.Leftovers) == 0 {
		return p, err
	}
	fresh := o
	fresh.Leftovers = nil
	if without, err := fresh.planMolds(ctx); err == nil && without.cheaper(p) {
		without.keepLeftovers()
		return without, ctx.Err()
	}
	return p, ctx.Err()
}

// planMolds works an order out with no more molds than pays.
func (o Order) planMolds(ctx context.Context) (*Plan, error) {
	all, err := o.plan(ctx)
	if err != nil {
		if one, errOne := o.withMolds(onesOf(len(o.Lines))).plan(ctx); errOne == nil {
			return one.given(o), nil // more molds only get cold
		}
		return nil, err
	}
	molds := o.fewerMolds(ctx, all)
	if less, err := o.withMolds(molds).plan(ctx); err == nil && less.better(all, o.Bench.LabourPerHour) {
		return less.given(o), nil
	}
	return all.given(o), ctx.Err()
}

func onesOf(n int) []int {
	ones := make([]int, n)
	for i := range ones {
		ones[i] = 1
	}
	return ones
}

// given says how many molds there were to use.
func (p *Plan) given(o Order) *Plan {
	for i := range p.Lines {
		p.Lines[i].MoldsGiven = o.Lines[i].Molds
	}
	return p
}

// plan works an order out with all of its molds.
func (o Order) plan(ctx context.Context) (*Plan, error) {
	colours, own, err := gatherColours(o.Lines)
	if err != nil {
		return nil, err
	}
	r := &run{bench: o.Bench, measures: o.Measures, colours: colours, barrels: map[string]int{}}
	if err := r.shelve(o.Leftovers); err != nil {
		return nil, err
	}
	for i := range o.Lines {
		r.tasks = append(r.tasks, newTask(&o.Lines[i], i, own[i]))
	}
	groups := groupTasks(r.tasks, colours)
	for _, g := range groups {
		for g.left() > 0 {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			if err := r.heat(g); err != nil {
				return nil, err
			}
		}
	}
	p := r.close(o)
	for _, g := range groups {
		p.groups = append(p.groups, g.lines())
	}
	p.Rounding, err = r.rounding()
	return p, err
}

// close closes the accounts.
func (r *run) close(o Order) *Plan {
	p := &Plan{Name: o.Name, Money: o.Money, Heatings: r.heatings, Schedule: r.shots, PourS: r.clock, Cautions: laminate.Cautions()}
	for _, h := range r.heatings {
		p.Refills += h.Refills
	}
	for _, t := range r.tasks {
		good := float64(t.poured - t.scrap)
		for i, part := range t.parts {
			a := &r.colours[part.colour].account
			a.BaitsG += t.goodG[i] * float64(t.Pieces) / good
			a.SpareG += t.goodG[i] * (good - float64(t.Pieces)) / good
		}
		p.HandleS += float64(t.Pieces)*r.bench.HandleS + float64(t.Packs)*r.bench.PackS
		p.Lines = append(p.Lines, t.linePlan(r.shots))
	}
	for _, s := range r.shots {
		p.PourS = max(p.PourS, s.FreeS)
	}
	for _, c := range r.colours {
		a := c.close(r.bench.Reheats)
		p.Colours = append(p.Colours, a)
		p.Mixed.InG += a.ToMixedG
		p.Mixed.OutG += a.MixedInG
	}
	p.Mixed.LeftG = r.mixed.have(r.bench.Reheats).MassG
	p.Mixed.TooOldG = r.mixed.all().MassG - p.Mixed.LeftG
	p.Shopping = r.shopping()
	r.price(p)
	p.Warnings = append(r.warnings(p), o.tooOldWarnings()...)
	return p
}

func (t *task) linePlan(shots []Shot) LinePlan {
	l := LinePlan{
		Name: t.Name, Bait: t.Job.Bait, Mold: t.Job.Mold, Molds: t.moldsUsed(), Cavities: t.Job.Cavities, Ordered: t.Pieces, Packs: t.Packs,
		Shots: t.shots, WarmUps: t.warmed, Scrap: t.scrap, Spare: t.poured - t.scrap - t.Pieces, FirstS: -1,
	}
	for _, g := range t.goodG {
		l.BaitG += g / float64(t.poured-t.scrap)
	}
	for _, s := range shots {
		if s.task != t {
			continue
		}
		if l.FirstS < 0 {
			l.FirstS = s.StartS
		}
		l.LastS = max(l.LastS, s.FreeS)
	}
	return l
}

// sameDensity is by what share weighed baits may differ from their recipe before an
// order says so: less than a kitchen scale tells of a bait.
const sameDensity = 0.005

func (r *run) warnings(p *Plan) []string {
	w := []string{}
	for _, t := range r.tasks {
		if t.OpensAssumed {
			w = append(w, fmt.Sprintf("%s: nobody gave how long its mold takes to cool; taken as %.0f s: time it and set \"opens_after\" in the mold file", t.Name, t.OpensAfterS))
		}
	}
	for _, t := range r.tasks {
		if t.Pour.Start != nil {
			w = append(w, fmt.Sprintf("%s: %s", t.Name, t.Pour.Start.Warning()))
		}
	}
	for _, t := range r.tasks {
		if back := t.Pour.Weighed; back != nil && back.Baits != nil && math.Abs(back.Baits.DenserBy) > sameDensity {
			w = append(w, fmt.Sprintf("%s: by weighing its plastic is %+.1f %% off the recipe in density; the grams of this plan are by the recipe", t.Name, back.Baits.DenserBy*100))
		}
	}
	seen := map[string]bool{}
	once := func(key, text string) {
		if !seen[key] {
			seen[key] = true
			w = append(w, text)
		}
	}
	for _, t := range r.tasks {
		v := t.Job.Vessel
		if TimeConstant(v.Cooling, r.bench.RoomC) == 0 {
			once("v "+v.Name, fmt.Sprintf("vessel %q: nobody read how it cools, so no pouring window is kept; read a thermometer in it twice, full and off the heat, and set \"cooled\" in the shop file", v.Name))
		}
		for _, c := range t.Job.Colours {
			if m := c.Mix.Plastisol; m.Coldest == 0 {
				once("m "+m.Name, fmt.Sprintf("material %q: nobody gave when it is too cold to fill a mold, so no pouring window is kept; note at what temperature the last shots stopped filling thin tails and set \"coldest\" in the shop file", m.Name))
			}
		}
	}
	var cups []laminate.NumberedCup
	for n, h := range p.Heatings {
		for i, a := range h.Cups {
			for _, b := range h.Cups[i+1:] {
				if a.ReadyC == nil || b.ReadyC == nil || math.Abs(*a.ReadyC-*b.ReadyC) <= r.apartC(h) {
					continue
				}
				once(fmt.Sprintf("apart %s %s", a.Name, b.Name), fmt.Sprintf("heating %d: when both are ready %s is at %v and %s at %v, too far apart: heat both at once, or smaller batches",
					n+1, a.Name, units.Celsius(*a.ReadyC), b.Name, units.Celsius(*b.ReadyC)))
			}
		}
		for _, c := range h.Cups {
			cups = append(cups, laminate.NumberedCup{HeatingColour: c.HeatingColour, First: n + 1, Times: 1})
		}
	}
	return append(w, laminate.DoseWarnings(r.measures, cups)...)
}

// apartC is how far apart the colours of a heating may be.
func (r *run) apartC(h Heating) float64 {
	for _, t := range r.tasks {
		same := func(p part, c Cup) bool { return p.colour == c.colour }
		if slices.EqualFunc(t.parts, h.Cups, same) && t.Job.MaxDifferenceC > 0 {
			return t.Job.MaxDifferenceC
		}
	}
	return 1e9
}
