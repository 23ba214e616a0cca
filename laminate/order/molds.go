package order

import (
	"context"
	"slices"
)

// A second mold saves time and costs the shots that warm it up. So of a line's molds as
// many are used as cost least, with labour, when all prices and labour are given; else
// only so few that neither time at the bench nor plastic bought grows.

// searchShots bounds the search in each group: shots planned to try fewer molds, over
// those that it needs, and at least searchLeast.
const searchShots, searchLeast = 2, 1000

// better tells whether a plan is to be preferred to another with more molds.
func (p *Plan) better(than *Plan, labour float64) bool {
	if p.Cost != nil && than.Cost != nil && labour > 0 {
		return p.Cost.Total < than.Cost.Total*(1-1e-9)
	}
	fewer := p.warmUps() < than.warmUps()
	return fewer && p.PourS <= than.PourS*(1+1e-9) && p.boughtG() <= than.boughtG()*(1+1e-9)
}

func (p *Plan) warmUps() int {
	n := 0
	for _, l := range p.Lines {
		n += l.WarmUps
	}
	return n
}

func (p *Plan) boughtG() float64 {
	sum := 0.0
	for _, a := range p.Colours {
		sum += a.FreshG
	}
	return sum
}

// withMolds is the order with so many molds for each of its lines.
func (o Order) withMolds(molds []int) Order {
	o.Lines = slices.Clone(o.Lines)
	for i := range o.Lines {
		o.Lines[i].Molds = molds[i]
	}
	return o
}

// only is the order of some of its lines, with nothing left over from before.
func (o Order) only(lines []int) Order {
	all := o.Lines
	o.Lines, o.Leftovers = nil, nil
	for _, i := range lines {
		o.Lines = append(o.Lines, all[i])
	}
	return o
}

// fewerMolds returns how many molds of each line cost least, each group of lines that
// share their cups by itself.
func (o Order) fewerMolds(ctx context.Context, all *Plan) []int {
	molds := make([]int, len(o.Lines))
	for i := range molds {
		molds[i] = all.Lines[i].Molds
	}
	for _, lines := range all.groups {
		s := moldSearch{order: o.only(lines), ctx: ctx}
		for _, i := range lines {
			s.molds = append(s.molds, molds[i])
			s.budget += searchShots * (all.Lines[i].Shots + all.Lines[i].WarmUps)
		}
		s.budget = max(s.budget, searchLeast)
		s.run()
		for k, i := range lines {
			molds[i] = s.molds[k]
		}
	}
	return molds
}

// moldSearch is a search for the number of molds of a few lines.
type moldSearch struct {
	ctx    context.Context
	order  Order
	molds  []int // the best so far
	best   *Plan
	budget int // shots still to be planned
}

func (s *moldSearch) run() {
	most := slices.Max(s.molds)
	if most == 1 || s.order.Bench.WarmUp == 0 {
		return
	}
	given := slices.Clone(s.molds)
	if s.try(given); s.best == nil {
		return
	}
	for limit := most - 1; limit >= 1; limit-- { // no line with more than so many
		capped := slices.Clone(given)
		for i := range capped {
			capped[i] = min(capped[i], limit)
		}
		s.try(capped)
	}
	for i := range s.molds { // and then each by itself
		for n := 1; n <= given[i] && len(given) > 1; n++ {
			one := slices.Clone(s.molds)
			if one[i] = n; !slices.Equal(one, s.molds) {
				s.try(one)
			}
		}
	}
}

// try plans with some numbers of molds and keeps them when they are better.
func (s *moldSearch) try(molds []int) {
	if s.budget <= 0 {
		return
	}
	p, err := s.order.withMolds(molds).plan(s.ctx)
	if err != nil {
		return // too few or too many to be poured at all
	}
	s.budget -= len(p.Schedule)
	if s.best == nil || p.better(s.best, s.order.Bench.LabourPerHour) {
		s.best, s.molds = p, molds
	}
}
