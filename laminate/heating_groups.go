package laminate

import (
	"slices"
)

// HeatingGroup is heatings of the same cups and shots, wherever they stand in the
// order.
type HeatingGroup struct {
	Heating
	Runs  []HeatingRun // in rising order
	Count int          // of heatings
	Index int          // of the first of them in Heatings
}

// HeatingRun is heatings that follow each other, counted from 1.
type HeatingRun struct{ First, Last int }

// HeatingGroups puts heatings of the same cups together, by where the first of them
// stands.
func (p *Pour) HeatingGroups() []HeatingGroup {
	var groups []HeatingGroup
	first := 1
	for at, h := range p.Heatings {
		i := slices.IndexFunc(groups, func(g HeatingGroup) bool { return g.sameCups(h) })
		if i < 0 {
			i, groups = len(groups), append(groups, HeatingGroup{Heating: h, Index: at})
		}
		groups[i].Runs = append(groups[i].Runs, HeatingRun{first, first + h.Times - 1})
		groups[i].Count += h.Times
		first += h.Times
	}
	return groups
}

func (g *HeatingGroup) sameCups(h Heating) bool {
	return g.Shots == h.Shots && slices.EqualFunc(g.Colours, h.Colours,
		func(a, b HeatingColour) bool { return a.Cups == b.Cups })
}

// HeatingCount is how many times the order is heated.
func (p *Pour) HeatingCount() int {
	n := 0
	for _, h := range p.Heatings {
		n += h.Times
	}
	return n
}
