package cool

import (
	"math"

	"github.com/golang/geo/r3"

	"bellyline/mesh/parallel"
)

// field is temperatures at one time: one for each unknown.
type field struct {
	grid  *Grid
	now   []float64
	spare [2][]float64 // what a cycle is at in between
}

// newField begins startShare after a bait of one temperature met its wall.
func newField(g *Grid, melt, wall float64) *field {
	f := &field{grid: g, now: make([]float64, len(g.cellOf))}
	for i := range f.spare {
		f.spare[i] = make([]float64, len(g.cellOf))
	}
	for u := range f.now {
		f.now[u] = wall + (melt-wall)*g.start[u]
	}
	return f
}

// advance goes so many short steps on, the wall at a temperature.
func (f *field) advance(steps int, wall float64) {
	if steps > singly {
		f.cycle(cycleOf(steps), wall)
		return
	}
	short := sweep{stay: 1, move: 1}
	for range steps {
		f.eachBlock(func(b block) { f.grid.plan.sweep(b, short, f.now, f.now, f.spare[0], wall) })
		f.now, f.spare[0] = f.spare[0], f.now
	}
}

// cycle does many short steps at once.
func (f *field) cycle(c cycle, wall float64) {
	p := f.grid.plan
	last, next := f.now, f.spare[0]
	old := f.now
	for i := 1; i <= c.sweeps; i++ {
		s := c.sweepAt(i)
		f.eachBlock(func(b block) {
			p.sweep(b, s, last, old, next, wall)
			if i == c.sweeps {
				f.blend(b, next, c.part)
			}
		})
		old, last = last, next
		// What was two sweeps ago is needed no more, but for the field itself.
		next = f.spare[i%2]
	}
}

// blend moves a block of the field so far to another.
func (f *field) blend(b block, to []float64, part float64) {
	now, to := f.now[b.first:b.end], to[b.first:b.end]
	for i, t := range to {
		now[i] += part * (t - now[i])
	}
}

// eachBlock shares the blocks out. Each writes its own unknowns, so who does which
// does not matter.
func (f *field) eachBlock(work func(b block)) {
	blocks := f.grid.plan.blocks
	parallel.Blocks(len(blocks), 1, func(n, _, _ int) { work(blocks[n]) })
}

// sweep does one block.
func (p *plan) sweep(b block, s sweep, now, old, next []float64, wall float64) {
	for _, r := range p.runs[b.run:b.runEnd] {
		sweepRun(r, s, now, old, next)
	}
	sweepCuts(p.cuts[b.cut:b.cutEnd], s, now, old, next, wall)
}

// sweepRun is the inner loop: eight reads, one write a cell.
func sweepRun(r run, s sweep, now, old, next []float64) {
	n := int(r.count)
	mid := now[r.first-1:][: n+2 : n+2]
	ym, yp := now[r.ym:][:n:n], now[r.yp:][:n:n]
	zm, zp := now[r.zm:][:n:n], now[r.zp:][:n:n]
	was, out := old[r.first:][:n:n], next[r.first:][:n:n]
	last := mid[0]
	here := mid[1]
	aside := stepShare * s.move
	centre := s.stay - 6*aside
	for i := range out {
		ahead := mid[i+2]
		out[i] = aside*((last+ahead)+(ym[i]+yp[i])+(zm[i]+zp[i])) + (centre*here - s.old*was[i])
		last, here = here, ahead
	}
}

func sweepCuts(cuts []cut, s sweep, now, old, next []float64, wall float64) {
	for i := range cuts {
		c := &cuts[i]
		t := now[c.u]
		flow := c.share[0]*((now[c.next[0]]-t)+(now[c.next[1]]-t)) +
			c.share[1]*((now[c.next[2]]-t)+(now[c.next[3]]-t)) +
			c.share[2]*((now[c.next[4]]-t)+(now[c.next[5]]-t))
		change := flow - c.wall*(t+flow-wall)
		next[c.u] = s.stay*t + s.move*change - s.old*old[c.u]
	}
}

// mean returns the mean temperature, the wall being at one.
func (f *field) mean(wall float64) float64 { return f.heat(wall) / f.grid.total }

// heatBlock is how many unknowns are summed without looking after what is lost.
const heatBlock = 1024

// heat returns the sum of temperatures over cells.
func (f *field) heat(wall float64) float64 {
	g := f.grid
	sums := make([]float64, parallel.Count(len(f.now), heatBlock))
	parallel.Blocks(len(f.now), heatBlock, func(n, from, to int) {
		now, volume, own := f.now[from:to], g.volume[from:to], g.own[from:to]
		sum := 0.0
		for i, t := range now {
			sum += volume[i] * (wall + own[i]*(t-wall))
		}
		sums[n] = sum
	})
	sum, rest := 0.0, 0.0
	for _, s := range sums {
		y := s - rest
		t := sum + y
		rest = (t - sum) - y
		sum = t
	}
	return sum
}

// hottest returns the highest temperature and where it is: the hottest node, and
// the top of the parabolas through it and its neighbours.
func (f *field) hottest() (degrees float64, at r3.Vector) {
	best := f.hottestNode()
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

// hottestNode returns the first unknown of those that are hottest.
func (f *field) hottestNode() int {
	const size = 16384
	tops := make([]int, parallel.Count(len(f.now), size))
	parallel.Blocks(len(f.now), size, func(n, from, to int) {
		best := from
		for u, t := range f.now[from:to] {
			if t > f.now[best] {
				best = from + u
			}
		}
		tops[n] = best
	})
	best := tops[0]
	for _, u := range tops[1:] {
		if f.now[u] > f.now[best] {
			best = u
		}
	}
	return best
}
