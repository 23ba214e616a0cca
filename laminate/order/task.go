package order

import (
	"fmt"
	"math"
	"strings"

	"bellyline/laminate"
)

// task is a line being worked off.
type task struct {
	*Line
	index  int
	parts  []part
	shots  int // good ones, in all
	poured int // baits that these give
	scrap  int // of these, thrown out
	left   int // good shots still to come
	warmed int // warm-up shots so far
	molds  []moldState
	usedG  []float64 // of each of its colours, in everything that was shot
	goodG  []float64 // of each of its colours, in baits that were not thrown out
}

// part is what one colour gives to a shot of a task, hot.
type part struct {
	colour         int
	baitML, feedML float64 // topping up is in the bait's
	barrel         laminate.Barrel
	barrelName     string
	totalML        float64
}

// moldState is one mold between two shots.
type moldState struct {
	used   bool
	freeAt float64 // when it has cooled
	last   float64 // when it was filled
	warm   int     // rejects still to come
}

// warmFor returns how many rejects are still to come from a shot at a time on.
func (m moldState) warmFor(at float64, b Bench) int {
	if !m.used || b.ColdAfterS > 0 && at-m.last > b.ColdAfterS {
		return b.WarmUp
	}
	return m.warm
}

// shoot fills the mold and says whether the shot warms it up only.
func (m *moldState) shoot(at float64, b Bench, opensAfterS float64) bool {
	warm := m.warmFor(at, b)
	m.used, m.last, m.freeAt, m.warm = true, at, at+b.ShotS+opensAfterS, max(0, warm-1)
	return warm > 0
}

func newTask(l *Line, index int, own []int) *task {
	t := &task{Line: l, index: index}
	t.shots, t.poured, t.scrap = shotsFor(l.Pieces, l.Job.Cavities, l.Scrap)
	t.left = t.shots
	for i, c := range l.Pour.Shot.Colours {
		b := l.Job.Injector.Barrels[i]
		t.parts = append(t.parts, part{
			colour: own[i], baitML: c.BaitML + c.TopUpML, feedML: c.FeedML, totalML: c.TotalML,
			barrel: b, barrelName: l.Job.Injector.Name + " " + b.Name,
		})
	}
	t.molds = make([]moldState, min(l.Molds, t.shots))
	t.usedG, t.goodG = make([]float64, len(t.parts)), make([]float64, len(t.parts))
	return t
}

// shotsFor returns the fewest shots whose baits, less scrap, are as many as ordered.
// Scrap is rounded up to whole baits.
func shotsFor(pieces, cavities int, scrap float64) (shots, poured, thrown int) {
	thrownOf := func(n int) int { return int(math.Ceil(scrap*float64(n*cavities) - 1e-9)) }
	shots = max(1, int(float64(pieces)/(float64(cavities)*(1-scrap)))-1)
	for shots*cavities-thrownOf(shots) < pieces {
		shots++
	}
	return shots, shots * cavities, thrownOf(shots)
}

// group is tasks that are shot from the same two cups.
type group struct {
	tasks  []*task
	vessel laminate.Vessel
}

// groupTasks puts tasks together that have the same colours in the same barrels and
// vessels. Those with a colour that takes mixed trimmings come last, when there are
// some.
func groupTasks(tasks []*task, colours []*colour) []*group {
	var first, last []*group
	byKey := map[string]*group{}
	for _, t := range tasks {
		var key strings.Builder
		fmt.Fprintf(&key, "%q %q %v", t.Job.Injector.Name, t.Job.Vessel.Name, t.Job.Vessel)
		takes := false
		for _, p := range t.parts {
			fmt.Fprintf(&key, " %d %q", p.colour, p.barrelName)
			takes = takes || colours[p.colour].takesMixed > 0
		}
		g := byKey[key.String()]
		if g == nil {
			g = &group{vessel: t.Job.Vessel}
			byKey[key.String()] = g
			if takes {
				last = append(last, g)
			} else {
				first = append(first, g)
			}
		}
		g.tasks = append(g.tasks, t)
	}
	return append(first, last...)
}

// moldsUsed is how many of its molds were filled at all.
func (t *task) moldsUsed() int {
	n := 0
	for _, m := range t.molds {
		if m.used {
			n++
		}
	}
	return n
}

// lines are the places of the group's tasks in the order.
func (g *group) lines() []int {
	var list []int
	for _, t := range g.tasks {
		list = append(list, t.index)
	}
	return list
}

func (g *group) left() int {
	n := 0
	for _, t := range g.tasks {
		n += t.left
	}
	return n
}

// parts are the colours and barrels that all tasks of a group share.
func (g *group) parts() []part { return g.tasks[0].parts }
