package order

import (
	"cmp"
	"math"
	"slices"
)

// Shot is one mold filled, as the schedule has it. Times count from the start of the
// order in seconds.
type Shot struct {
	Line    int     `json:"line"` // counted from 1
	Mold    int     `json:"mold"` // of those alike, counted from 1
	StartS  float64 `json:"start_s"`
	FreeS   float64 `json:"mold_free_s"` // when the mold has cooled
	WarmUp  bool    `json:"warm_up"`     // the mold was cold: its baits are rejects
	Refill  bool    `json:"refill"`      // the barrels are drawn full before it
	Heating int     `json:"heating"`     // counted from 1
	task    *task
}

// sequence decides which molds are filled in one heating, in turn: always the mold
// that is free first, a warm one before a cold one, the line with most to do before
// others. It ends where a cup would run dry, the window closes or nothing is left.
func (r *run) sequence(g *group, limits []float64, ready, window float64) []Shot {
	s := newSimulation(r, g, ready)
	goal := r.evenShare(g, limits)
	left := map[*task]int{}
	for _, t := range g.tasks {
		left[t] = t.left
	}
	var shots []Shot
	for {
		best := s.pick(left, limits)
		if best.task == nil || len(shots) > 0 && (s.enough(goal) || s.startOf(best) > ready+window) {
			return shots
		}
		shot := s.shoot(best)
		if !shot.WarmUp {
			left[best.task]--
		}
		shots = append(shots, shot)
	}
}

// evenShare returns how much of each colour this heating should take for the
// heatings to come out alike, shots that warm molds up included.
func (r *run) evenShare(g *group, limits []float64) []float64 {
	want := make([]float64, len(limits))
	for _, t := range g.tasks {
		shots := t.left
		for _, m := range t.molds[:min(t.left, len(t.molds))] {
			shots += m.warmFor(r.clock, r.bench)
		}
		for i, p := range t.parts {
			want[i] += float64(shots) * p.totalML
		}
	}
	heatings := 1.0
	for i, w := range want {
		heatings = math.Max(heatings, math.Ceil(w/limits[i]-1e-9))
	}
	for i := range want {
		want[i] /= heatings
	}
	return want
}

// simulation is a heating being poured, without anything being used up.
type simulation struct {
	r        *run
	group    *group
	now      float64
	molds    map[*task][]moldState
	used     []float64 // hot, of each colour
	inBarrel []float64 // hot, what is left to shoot
	purges   bool
}

func newSimulation(r *run, g *group, ready float64) *simulation {
	s := &simulation{r: r, group: g, now: ready, molds: map[*task][]moldState{}, used: make([]float64, len(g.parts())), inBarrel: make([]float64, len(g.parts()))}
	for _, t := range g.tasks {
		s.molds[t] = slices.Clone(t.molds)
	}
	for _, p := range g.parts() {
		s.purges = s.purges || r.purge(p) > 0
	}
	if s.purges {
		s.now += r.bench.RefillS // drawn and pushed out, before the first real draw
	}
	return s
}

// enough tells whether every colour has had its even share.
func (s *simulation) enough(goal []float64) bool {
	for i, g := range goal {
		if s.used[i] < g*(1-1e-9) {
			return false
		}
	}
	return true
}

// pick finds the mold to fill next; its task is nil when there is none.
func (s *simulation) pick(left map[*task]int, limits []float64) (best Shot) {
	bestWarm, bestLeft := 0, 0
	for _, t := range s.group.tasks {
		if left[t] == 0 || !s.fits(t, limits) {
			continue
		}
		for k, m := range s.molds[t] {
			start := math.Max(s.now, m.freeAt)
			warm := m.warmFor(start, s.r.bench)
			sooner := cmp.Or(cmp.Compare(start, best.StartS), cmp.Compare(warm, bestWarm), cmp.Compare(bestLeft, left[t])) < 0
			if best.task == nil || sooner {
				best = Shot{Line: t.index + 1, Mold: k + 1, StartS: start, task: t}
				bestWarm, bestLeft = warm, left[t]
			}
		}
	}
	return best
}

func (s *simulation) fits(t *task, limits []float64) bool {
	for i, p := range t.parts {
		if s.used[i]+p.totalML > limits[i]*(1+1e-9) {
			return false
		}
	}
	return true
}

// dry tells whether the barrels must be drawn full before a shot.
func (s *simulation) dry(t *task) bool {
	for i, p := range t.parts {
		if s.inBarrel[i] < p.totalML*(1-1e-9) {
			return true
		}
	}
	return false
}

// startOf is when a shot can begin: the mold is free and the barrels are full.
func (s *simulation) startOf(next Shot) float64 {
	at := s.now
	if s.dry(next.task) {
		at += s.r.bench.RefillS
	}
	return math.Max(at, s.molds[next.task][next.Mold-1].freeAt)
}

// shoot fills a mold.
func (s *simulation) shoot(next Shot) Shot {
	t := next.task
	next.StartS, next.Refill = s.startOf(next), s.dry(t)
	if next.Refill {
		for i, p := range t.parts {
			s.inBarrel[i] = p.barrel.CapacityML - p.barrel.KeepsML
		}
	}
	m := &s.molds[t][next.Mold-1]
	next.WarmUp = m.shoot(next.StartS, s.r.bench, t.OpensAfterS)
	next.FreeS = m.freeAt
	s.now = next.StartS + s.r.bench.ShotS
	for i, p := range t.parts {
		s.used[i] += p.totalML
		s.inBarrel[i] -= p.totalML
	}
	return next
}

// follow shoots a sequence again, from another time on, up to what would come after
// the window has closed; the first shot always.
func (r *run) follow(g *group, shots []Shot, ready, window float64) ([]Shot, *simulation) {
	s := newSimulation(r, g, ready)
	var out []Shot
	left := map[*task]int{}
	for _, t := range g.tasks {
		left[t] = t.left
	}
	for _, shot := range shots {
		if left[shot.task] == 0 {
			continue // a mold that was thought cold is warm
		}
		if len(out) > 0 && s.startOf(shot) > ready+window {
			break
		}
		shot = s.shoot(shot)
		if !shot.WarmUp {
			left[shot.task]--
		}
		out = append(out, shot)
	}
	return out, s
}
