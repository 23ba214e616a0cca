package hollow

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// grows is how much larger and wider a section may be than the smallest of a neck to
// be still of it. Where a gate runs out into a shallow edge its section gets wide
// long before it gets large.
const grows = 1.1

// ofNeck says whether a section belongs to a neck with a given smallest one.
func (c crossed) ofNeck(least crossed) bool {
	return c.areaMM2 <= grows*least.areaMM2 && c.widthMM <= grows*least.widthMM
}

// placeGate finds where a neck ends towards the cavity: along the way through it,
// the last section behind the smallest that is not larger by a tenth. There the
// bait is trimmed.
func (v *view) placeGate(rims []int32, b *basins, k neck) (cutLine, crossed, bool) {
	// Beyond the end of the neck on either side; back into the runner no further than
	// is needed to see the neck.
	const through, back = 1.5, 4 // times the neck's clearance
	way := b.path(k.saddle, int32(k.a), through*k.clearance, back*k.clearance)
	slices.Reverse(way)
	if ahead := b.path(k.saddle, int32(k.b), through*k.clearance, math.Inf(1)); len(ahead) > 1 {
		way = append(way, ahead[1:]...)
	}
	lines := linesAlong(b, way, k.clearance)
	sections := make([]crossed, len(lines))
	least := -1
	for i, l := range lines {
		c, ok := v.section(rims, l)
		if !ok {
			c.areaMM2 = math.Inf(1)
		} else if least < 0 || c.areaMM2 < sections[least].areaMM2 {
			least = i
		}
		sections[i] = c
	}
	if least < 0 {
		return cutLine{}, crossed{}, false
	}
	last := least
	for last+1 < len(lines) && sections[last+1].ofNeck(sections[least]) {
		last++
	}
	at := v.squared(rims, lines[last], sections[last].areaMM2)
	ahead := r2.Point{X: at.along.Y, Y: -at.along.X}
	beyond := cutLine{at: at.at.Add(ahead.Mul(2 * b.d.CellMM)), along: at.along}
	smallest := sections[least]
	if c, ok := v.section(rims, at); ok && c.areaMM2 < smallest.areaMM2 { // squared up it is smaller
		smallest = c
	}
	return v.clearOfCorners(rims, v.endOfNeck(rims, at, beyond, smallest))
}

// squared turns a line about its own point to where its section is smallest. The
// way through a neck is known to some cells, so its direction is a little off.
func (v *view) squared(rims []int32, l cutLine, area float64) cutLine {
	turned := func(angle float64) cutLine {
		c, s := math.Cos(angle), math.Sin(angle)
		return cutLine{at: l.at, along: r2.Point{X: l.along.X*c - l.along.Y*s, Y: l.along.X*s + l.along.Y*c}}
	}
	best := 0.0
	for step := 0.2; step > 1e-7; step /= 2 {
		for _, angle := range [2]float64{best - step, best + step} {
			if c, ok := v.section(rims, turned(angle)); ok && c.areaMM2 < area {
				best, area = angle, c.areaMM2
			}
		}
	}
	return turned(best)
}

// endOfNeck closes in on the last line between two that is still of a neck.
func (v *view) endOfNeck(rims []int32, inNeck, beyond cutLine, least crossed) cutLine {
	lo, hi := 0.0, 1.0
	for range 20 {
		mid := (lo + hi) / 2
		if c, ok := v.section(rims, between(inNeck, beyond, mid)); ok && c.ofNeck(least) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return between(inNeck, beyond, lo)
}

// linesAlong returns lines across a way, a cell apart, each across the mean
// direction of the way over the neck's width.
func linesAlong(b *basins, way []int, clearance float64) []cutLine {
	points := make([]r2.Point, len(way))
	reach := max(2, int(2*clearance/b.d.CellMM))
	for i := range way { // the grid's steps smoothed out
		var at r2.Point
		n := 0
		for k := max(0, i-reach/2); k <= min(len(way)-1, i+reach/2); k++ {
			at = at.Add(b.d.middle(way[k]))
			n++
		}
		points[i] = at.Mul(1 / float64(n))
	}
	var lines []cutLine
	for i := range points {
		d := points[min(len(points)-1, i+reach)].Sub(points[max(0, i-reach)])
		if d.Norm() == 0 {
			continue
		}
		d = d.Mul(1 / d.Norm())
		lines = append(lines, cutLine{at: points[i], along: r2.Point{X: -d.Y, Y: d.X}})
	}
	return lines
}

// between turns and shifts one line into another.
func between(a, b cutLine, x float64) cutLine {
	along := a.along.Mul(1 - x).Add(b.along.Mul(x))
	return cutLine{at: a.at.Mul(1 - x).Add(b.at.Mul(x)), along: along.Mul(1 / along.Norm())}
}

// clearOfCorners moves a line back out of the cavity, by the least part of the
// gate's width, until it runs through no corner of the facets that it crosses: a
// neck often ends at corners.
func (v *view) clearOfCorners(rims []int32, l cutLine) (cutLine, crossed, bool) {
	back := r2.Point{X: -l.along.Y, Y: l.along.X} // the way ran to the right of the line
	step := 0.0
	for range 12 {
		at := cutLine{at: l.at.Add(back.Mul(step)), along: l.along}
		c, ok := v.section(rims, at)
		if ok && v.keepsOff(c, at) {
			return at, c, true
		}
		if step == 0 {
			step = 4 * v.tol
		} else {
			step *= 2
		}
	}
	return l, crossed{}, false
}

// keepsOff says whether a section crosses every edge well between its corners.
func (v *view) keepsOff(c crossed, l cutLine) bool {
	for _, s := range c.sides {
		a, b := v.side(s)
		if math.Abs(l.off(v.plan(a))) < v.tol || math.Abs(l.off(v.plan(b))) < v.tol {
			return false
		}
	}
	return true
}
