package cool

import (
	"math"
	"sync"

	"github.com/golang/geo/r3"
)

// field is temperatures at one time: one for each unknown.
type field struct {
	grid      *Grid
	now, then []float64
	workers   int
}

// newField begins startShare after a bait of one temperature met its wall.
func newField(g *Grid, melt, wall float64, workers int) *field {
	f := &field{grid: g, now: make([]float64, len(g.cellOf)), then: make([]float64, len(g.cellOf)), workers: workers}
	for u := range f.now {
		f.now[u] = wall + (melt-wall)*g.start[u]
	}
	return f
}

// smallWork is how many unknowns one goroutine steps faster than two.
const smallWork = 20_000

// step goes one step on, the wall at a temperature.
func (f *field) step(wall float64) {
	p := f.grid.plan
	if f.workers < 2 || len(f.now) < smallWork {
		for b := range p.blocks {
			p.step(b, f.now, f.then, wall)
		}
	} else {
		f.stepTogether(wall)
	}
	f.now, f.then = f.then, f.now
}

// stepTogether shares the blocks out among goroutines. Each block writes its own
// unknowns, so who does which does not matter.
func (f *field) stepTogether(wall float64) {
	p := f.grid.plan
	share := func(w int) {
		for b := w; b < len(p.blocks); b += f.workers {
			p.step(b, f.now, f.then, wall)
		}
	}
	var wait sync.WaitGroup
	for w := 1; w < f.workers; w++ {
		wait.Go(func() { share(w) })
	}
	share(0)
	wait.Wait()
}

// step does one block.
func (p *plan) step(b int, now, then []float64, wall float64) {
	k := p.blocks[b]
	for _, r := range p.runs[k.run:k.runEnd] {
		stepRun(r, now, then)
	}
	stepCuts(p.cuts[k.cut:k.cutEnd], now, then, wall)
}

// stepRun is the inner loop: seven reads, one write a cell.
func stepRun(r run, now, then []float64) {
	n := int(r.count)
	mid := now[r.first-1:][: n+2 : n+2]
	ym, yp := now[r.ym:][:n:n], now[r.yp:][:n:n]
	zm, zp := now[r.zm:][:n:n], now[r.zp:][:n:n]
	out := then[r.first:][:n:n]
	last := mid[0]
	here := mid[1]
	for i := range out {
		next := mid[i+2]
		out[i] = stepShare * (here + (last + next) + (ym[i] + yp[i]) + (zm[i] + zp[i]))
		last, here = here, next
	}
}

func stepCuts(cuts []cut, now, then []float64, wall float64) {
	for i := range cuts {
		c := &cuts[i]
		t := now[c.u]
		t += (c.share[0]*(now[c.next[0]]-t) + c.share[1]*(now[c.next[1]]-t)) +
			(c.share[2]*(now[c.next[2]]-t) + c.share[3]*(now[c.next[3]]-t)) +
			(c.share[4]*(now[c.next[4]]-t) + c.share[5]*(now[c.next[5]]-t))
		then[c.u] = t - c.wall*(t-wall)
	}
}

// mean returns the mean temperature, the wall being at one.
func (f *field) mean(wall float64) float64 { return f.heat(wall) / f.grid.total }

// heat returns the sum of temperatures over cells, compensated.
func (f *field) heat(wall float64) float64 {
	sum, rest := 0.0, 0.0
	for u, v := range f.grid.volume {
		y := v*(wall+f.grid.own[u]*(f.now[u]-wall)) - rest
		t := sum + y
		rest = (t - sum) - y
		sum = t
	}
	return sum
}

// hottest returns the highest temperature and where it is: the hottest node, and
// the top of the parabolas through it and its neighbours.
func (f *field) hottest() (degrees float64, at r3.Vector) {
	best := 0
	for u, t := range f.now {
		if t > f.now[best] {
			best = u
		}
	}
	g := f.grid
	c := int(g.cellOf[best])
	degrees, at = f.now[best], g.node(c)
	for axis, step := range g.strides() {
		if !g.active[c-step] || !g.active[c+step] {
			continue
		}
		low, high := f.now[g.owner[c-step]], f.now[g.owner[c+step]]
		bend := 2*f.now[best] - low - high
		if bend > 1e-12*math.Abs(degrees) {
			off := min(max((high-low)/(2*bend), -0.5), 0.5)
			degrees += (high - low) * off / 4
			switch axis {
			case 0:
				at.X += off * g.h
			case 1:
				at.Y += off * g.h
			default:
				at.Z += off * g.h
			}
		}
	}
	return degrees, g.body.back(at)
}
