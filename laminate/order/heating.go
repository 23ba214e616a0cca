package order

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"bellyline/cavity/units"
)

// Heating is one heating of an order's plan.
type Heating struct {
	Cups    []Cup   `json:"colours"` // from belly to back
	Shots   int     `json:"shots"`   // warm-up shots included
	StartS  float64 `json:"start_s"`
	ReadyS  float64 `json:"ready_s"` // all colours are hot
	DoneS   float64 `json:"done_s"`
	Refills int     `json:"refills"` // how often barrels are drawn full
	Fills   []Fill  `json:"fills"`   // shots by line
	// WindowS is how long after ReadyS shots may be begun; null when not known.
	WindowS *float64 `json:"window_s"`
}

// Fill is the shots of one line in one heating.
type Fill struct {
	Line    int     `json:"line"` // counted from 1
	Name    string  `json:"name"`
	Molds   int     `json:"molds"` // in use
	Shots   int     `json:"shots"`
	WarmUps int     `json:"warm_up_shots"` // of these
	FirstS  float64 `json:"first_s"`
	FreeS   float64 `json:"free_s"` // when the last of it has cooled
}

// count adds a shot to those of its line.
func (h *Heating) count(s Shot) {
	i := slices.IndexFunc(h.Fills, func(f Fill) bool { return f.Line == s.Line })
	if i < 0 {
		i, h.Fills = len(h.Fills), append(h.Fills, Fill{Line: s.Line, Name: s.task.Name, FirstS: s.StartS})
	}
	f := &h.Fills[i]
	f.Shots++
	f.Molds, f.FreeS = max(f.Molds, s.Mold), max(f.FreeS, s.FreeS)
	if s.WarmUp {
		f.WarmUps++
	}
	if s.Refill {
		h.Refills++
	}
}

// heat plans the next heating of a group and carries it out.
func (r *run) heat(g *group) error {
	limits, t, err := r.smallEnough(g)
	if err != nil {
		return err
	}
	// A heating is not begun before a mold will be free when it is ready.
	start := math.Max(r.clock, g.firstFree()-t.heatS)
	shots := r.sequence(g, limits, start+t.heatS, t.windowS)
	if len(shots) == 0 {
		return r.tooSmall(g, limits)
	}
	for {
		used := usedBy(g, shots)
		if t, err = r.timing(g, used); err != nil {
			return err
		}
		start = math.Max(r.clock, shots[0].task.molds[shots[0].Mold-1].freeAt-t.heatS)
		kept, s := r.follow(g, shots, start+t.heatS, t.windowS)
		if first := kept[0].StartS; first > start+t.heatS+t.windowS {
			return fmt.Errorf("%w: %s: the batch is too cold %.0f s after it is ready, and the first shot cannot begin before %.0f s", ErrOrder, kept[0].task.Name, t.windowS, first-start-t.heatS)
		}
		if len(kept) == len(shots) {
			return r.carryOut(g, kept, s, start, t)
		}
		shots = kept
	}
}

// smallEnough returns the limits of a heating, and its timing when it takes an even
// share of them. A batch that takes so long to heat that the other one gets too cold
// is halved until it does not.
func (r *run) smallEnough(g *group) ([]float64, timing, error) {
	limits := r.limits(g)
	for {
		var guess []float64
		for i, want := range r.evenShare(g, limits) {
			guess = append(guess, math.Min(want, limits[i]))
		}
		t, err := r.timing(g, guess)
		if err == nil {
			return limits, t, nil
		}
		for i := range limits {
			limits[i] = guess[i] / 2
		}
		if !g.anyFits(limits) {
			return limits, t, err
		}
	}
}

// anyFits tells whether there is a shot left to do that the limits allow.
func (g *group) anyFits(limits []float64) bool {
	return slices.ContainsFunc(g.tasks, func(t *task) bool {
		for i, p := range t.parts {
			if t.left == 0 || p.totalML > limits[i] {
				return false
			}
		}
		return true
	})
}

func (g *group) firstFree() float64 {
	first := math.Inf(1)
	for _, t := range g.tasks {
		for _, m := range t.molds {
			if t.left > 0 {
				first = math.Min(first, m.freeAt)
			}
		}
	}
	return first
}

func usedBy(g *group, shots []Shot) []float64 {
	used := make([]float64, len(g.parts()))
	for _, s := range shots {
		for i, p := range s.task.parts {
			used[i] += p.totalML
		}
	}
	return used
}

func (r *run) tooSmall(g *group, limits []float64) error {
	for _, t := range g.tasks {
		for i, p := range t.parts {
			if t.left > 0 && p.totalML > limits[i] {
				return fmt.Errorf("%w: %s: one shot takes %.1f mL of %s, and vessel %q gives %.1f mL hot once cup, barrel and purge have theirs; use a larger vessel or fewer cavities",
					ErrOrder, t.Name, p.totalML, r.colours[p.colour].name, g.vessel.Name, math.Max(0, limits[i]))
			}
		}
	}
	return fmt.Errorf("%w: %s: no shot can be begun", ErrOrder, g.tasks[0].Name)
}

// timing is how the colours of a heating come to be ready together.
type timing struct {
	heatS   float64
	windowS float64 // endless when not known
	waitS   []float64
	heatToC []float64
	readyC  []float64 // NaN when not known
}

// timing heats the colours one after another, what takes longest first, or at
// once. What waits is heated hotter, up to its ceiling, so that it has its pouring
// temperature when the last is ready.
func (r *run) timing(g *group, usedML []float64) (timing, error) {
	n := len(usedML)
	t := timing{windowS: math.Inf(1), waitS: make([]float64, n)}
	takes := make([]float64, n)
	for i, p := range g.parts() {
		need := usedML[i] + p.barrel.KeepsML + g.vessel.KeepsML + r.purge(p)
		takes[i] = need / r.colours[p.colour].blend.HotML * r.bench.HeatSPerML
	}
	switch {
	case n == 1:
		t.heatS = takes[0]
	case r.bench.AtOnce:
		t.heatS = slices.Max(takes) // they are started so that they end together
	default:
		order := make([]int, n)
		for i := range order {
			order[i] = i
		}
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Or(cmp.Compare(takes[a], takes[b]), cmp.Compare(b, a)) })
		for _, i := range order { // what is heated last waits for nothing
			t.waitS[i] = t.heatS
			t.heatS += takes[i]
		}
	}
	tau := TimeConstant(g.vessel.Cooling, r.bench.RoomC)
	for i, p := range g.parts() {
		m := r.colours[p.colour].mix.Plastisol
		heatTo, ready := float64(m.Pour), math.NaN()
		if tau > 0 {
			heatTo = math.Min(float64(m.Ceiling), HeatTo(float64(m.Pour), t.waitS[i], tau, r.bench.RoomC))
			ready = CooledTo(heatTo, t.waitS[i], tau, r.bench.RoomC)
		}
		t.heatToC, t.readyC = append(t.heatToC, heatTo), append(t.readyC, ready)
		if tau == 0 || m.Coldest == 0 {
			continue
		}
		window := CoolsIn(ready, float64(m.Coldest), tau, r.bench.RoomC)
		if window < 0 {
			return t, fmt.Errorf("%w: %s, heated to its ceiling of %v, has cooled to %v while the other colour was heated, and pours no colder than %v; heat smaller batches, heat both at once or keep the cup warm",
				ErrOrder, r.colours[p.colour].name, units.Celsius(heatTo), units.Celsius(ready), m.Coldest)
		}
		t.windowS = math.Min(t.windowS, window)
	}
	return t, nil
}

// carryOut uses up plastic and time.
func (r *run) carryOut(g *group, shots []Shot, s *simulation, start float64, t timing) error {
	h := Heating{Shots: len(shots), StartS: start, ReadyS: start + t.heatS, DoneS: s.now}
	if !math.IsInf(t.windowS, 1) {
		window := t.windowS
		h.WindowS = &window
	}
	for i, p := range g.parts() {
		cup := r.measure(g, p, s.used[i], r.purge(p))
		cup.HeatToC, cup.WaitS = t.heatToC[i], t.waitS[i]
		if !math.IsNaN(t.readyC[i]) {
			ready := t.readyC[i]
			cup.ReadyC = &ready
		}
		h.Cups = append(h.Cups, cup)
	}
	for i, p := range g.parts() {
		r.spill(h.Cups[i])
		r.barrels[p.barrelName] = p.colour
	}
	if s.purges {
		h.Refills++
	}
	good := 0
	for _, shot := range shots {
		shot.Heating = len(r.heatings) + 1
		r.settle(shot, h.Cups)
		r.shots = append(r.shots, shot)
		h.count(shot)
		if !shot.WarmUp {
			good++
		}
	}
	for i := range h.Cups {
		r.putLeft(&h.Cups[i])
	}
	for task, molds := range s.molds {
		task.molds = molds
	}
	r.clock = s.now
	r.heatings = append(r.heatings, h)
	if good > 0 {
		r.idle = 0
	} else if r.idle++; r.idle > r.bench.WarmUp*r.moldsOf(g) {
		return fmt.Errorf("%w: %s: its molds are cold again before they give a good bait: every heating goes into warm-up shots; heat more at once, or keep the molds warm", ErrOrder, g.tasks[0].Name)
	}
	return nil
}

func (r *run) moldsOf(g *group) int {
	n := 0
	for _, t := range g.tasks {
		n += len(t.molds)
	}
	return n
}

// spill puts a purge into the mixed trimmings: it holds two colours.
func (r *run) spill(cup Cup) {
	lot := Lot{cup.PurgeML * cup.density, cup.PurgeML}
	r.mixed.put(cup.Heats, lot)
	a := &r.colours[cup.colour].account
	a.PurgeG += lot.MassG
	a.ToMixedG += lot.MassG
}

// settle says where the plastic of one shot ends up. What is of one colour goes back
// on that colour's shelf.
func (r *run) settle(shot Shot, cups []Cup) {
	t := shot.task
	scrap := float64(t.scrap) / float64(t.poured)
	if shot.WarmUp {
		scrap = 1
		t.warmed++
	} else {
		t.left--
	}
	heats := 0
	for _, c := range cups {
		heats = max(heats, c.Heats)
	}
	for i, p := range t.parts {
		cup := cups[i]
		waste := Lot{HotML: p.feedML + scrap*p.baitML}
		waste.MassG = waste.HotML * cup.density
		a := &r.colours[p.colour].account
		t.usedG[i] += (p.baitML + p.feedML) * cup.density
		good := (1 - scrap) * p.baitML * cup.density
		t.goodG[i] += good
		a.GoodG += good
		a.FeedG += p.feedML * cup.density
		a.RejectG += scrap * p.baitML * cup.density
		if len(t.parts) > 1 {
			r.mixed.put(heats, waste)
			a.ToMixedG += waste.MassG
		} else {
			r.colours[p.colour].shelf.put(cup.Heats, waste)
			a.ReturnedG += waste.MassG
		}
	}
}
