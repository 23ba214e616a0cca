package order

import (
	"math"
	"slices"

	"bellyline/laminate"
)

// HeatingGroup is heatings for which the same is measured, heated and shot, wherever
// they stand in the plan.
type HeatingGroup struct {
	Heating           // the first
	Numbers []int     // counted from 1, in rising order
	StartsS []float64 // when each begins
	Cups    []CupGroup
}

// CupGroup is one colour's cup in a group; what goes in again may differ a little.
type CupGroup struct {
	Cup                     // of the first
	BackLeastG, BackMostG   float64
	MixedLeastG, MixedMostG float64
}

// Heatings whose temperatures and waits differ by less than this are worked alike: less
// than a thermometer and a clock in a shop tell.
const sameC, sameS = 0.6, 6

// HeatingGroups puts heatings that are alike together, by where the first of them stands.
func (p *Plan) HeatingGroups() []*HeatingGroup {
	var groups []*HeatingGroup
	for i, h := range p.Heatings {
		k := slices.IndexFunc(groups, func(g *HeatingGroup) bool { return alike(g.Heating, h) })
		if k < 0 {
			k, groups = len(groups), append(groups, &HeatingGroup{Heating: h})
			for _, c := range h.Cups {
				groups[k].Cups = append(groups[k].Cups, CupGroup{c, c.BackG, c.BackG, c.MixedG, c.MixedG})
			}
		}
		groups[k].add(i+1, h)
	}
	return groups
}

func (g *HeatingGroup) add(n int, h Heating) {
	g.Numbers, g.StartsS = append(g.Numbers, n), append(g.StartsS, h.StartS)
	for i, c := range h.Cups {
		cup := &g.Cups[i]
		cup.BackLeastG, cup.BackMostG = min(cup.BackLeastG, c.BackG), max(cup.BackMostG, c.BackG)
		cup.MixedLeastG, cup.MixedMostG = min(cup.MixedLeastG, c.MixedG), max(cup.MixedMostG, c.MixedG)
	}
}

func alike(a, b Heating) bool {
	if a.Shots != b.Shots || a.Refills != b.Refills || len(a.Cups) != len(b.Cups) || !sameMaybe(a.WindowS, b.WindowS, sameS) ||
		math.Abs((a.ReadyS-a.StartS)-(b.ReadyS-b.StartS)) >= sameS || math.Abs((a.DoneS-a.StartS)-(b.DoneS-b.StartS)) >= sameS {
		return false
	}
	sameFill := func(f, g Fill) bool {
		return f.Line == g.Line && f.Molds == g.Molds && f.Shots == g.Shots && f.WarmUps == g.WarmUps
	}
	return slices.EqualFunc(a.Fills, b.Fills, sameFill) && slices.EqualFunc(a.Cups, b.Cups, alikeCups)
}

func alikeCups(a, b Cup) bool {
	sameDose := func(d, e laminate.HeatingDose) bool { return d.Additive == e.Additive && d.Measure == e.Measure }
	return a.colour == b.colour && a.CupsText == b.CupsText && slices.EqualFunc(a.Doses, b.Doses, sameDose) &&
		(a.BackG > 0) == (b.BackG > 0) && (a.MixedG > 0) == (b.MixedG > 0) &&
		math.Abs(a.HeatToC-b.HeatToC) < sameC && math.Abs(a.WaitS-b.WaitS) < sameS && sameMaybe(a.ReadyC, b.ReadyC, sameC)
}

func sameMaybe(a, b *float64, within float64) bool {
	if a == nil || b == nil {
		return a == b
	}
	return math.Abs(*a-*b) < within
}
