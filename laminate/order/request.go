package order

import (
	"errors"
	"fmt"
	"math"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

// Order is what is to be poured together.
type Order struct {
	Name  string
	Lines []Line
	Bench Bench
	Money string

	Measures units.Measures // how finely the shop measures

	Leftovers []Leftover // one colour each, from earlier days
}

// Line is one bait of an order, from one mold or several alike.
type Line struct {
	Name   string
	Job    laminate.Job   // its number of baits is not looked at
	Pour   *laminate.Pour // of that job
	Pieces int            // good baits ordered
	Packs  int            // bags; 0 when sold loose
	Molds  int            // alike, 1 or more; no more of them are used than pays
	Scrap  float64        // share of baits thrown out, 0 to less than 1

	OpensAfterS  float64 // from the shot until the mold is free again
	OpensAssumed bool    // nobody gave it
	BagPrice     float64 // for one
}

// Bench is how a shop works. Times are in seconds.
type Bench struct {
	ShotS      float64 // for one shot
	RefillS    float64 // to draw the barrels full
	HeatSPerML float64 // of plastisol, cold
	AtOnce     bool    // both colours are heated at once
	RoomC      float64

	WarmUp     int     // shots that a cold mold spoils
	ColdAfterS float64 // a mold not used for longer is cold; 0: it stays warm
	PurgeML    float64 // hot, shot away through a barrel that changes its colour
	Reheats    int     // how often plastic may be heated again

	HandleS       float64 // trim and look over one bait
	PackS         float64 // fill and close one bag
	LabourPerHour float64
	TaxShare      float64 // on everything bought and on labour
}

// ErrOrder is wrapped by errors about an order that cannot be planned.
var ErrOrder = errors.New("cannot plan this order")

// Past anything at a bench; a number beyond is a slip.
const (
	longestS    = 1e6
	dearest     = 1e9
	mostPurgeML = 1e6
	mostMolds   = 1000
	mostWarmUps = 100
	mostLines   = 10_000
	mostBaits   = 1_000_000
	mostScrap   = 0.9
	mostReheats = 1000
)

func (o Order) check() error {
	if len(o.Lines) < 1 || len(o.Lines) > mostLines {
		return fmt.Errorf("%w: it has %d lines; 1 to %d can be planned", ErrOrder, len(o.Lines), mostLines)
	}
	if err := o.Bench.check(); err != nil {
		return err
	}
	if !o.Measures.Sound() {
		return fmt.Errorf("%w: %v are no measures", ErrOrder, o.Measures)
	}
	total := 0
	for _, l := range o.Lines {
		if err := l.check(); err != nil {
			return err
		}
		if wrong := checkCooling(l.Job.Vessel.Cooling, o.Bench.RoomC); wrong != "" {
			return fmt.Errorf("%w: vessel %q: %s", ErrOrder, l.Job.Vessel.Name, wrong)
		}
		if total += l.Pieces; total > mostBaits {
			return fmt.Errorf("%w: more than %d baits in all; plan it in parts", ErrOrder, mostBaits)
		}
	}
	return nil
}

func (l Line) check() error {
	fail := func(format string, args ...any) error {
		return fmt.Errorf("%w: %s: %s", ErrOrder, l.Name, fmt.Sprintf(format, args...))
	}
	switch {
	case l.Pour == nil:
		return fail("its pour has not been worked out")
	case l.Pour.Across != nil:
		return fail("its streams stand across the parting face, so it gives no laminate: %s", l.Pour.Across.Remedy)
	case l.Pieces < 1:
		return fail("%d pieces", l.Pieces)
	case l.Packs < 0 || l.Packs > l.Pieces:
		return fail("%d pieces in %d packs", l.Pieces, l.Packs)
	case l.Molds < 1 || l.Molds > mostMolds:
		return fail("%d molds; 1 to %d can be planned", l.Molds, mostMolds)
	case !(l.Scrap >= 0 && l.Scrap <= mostScrap):
		return fail("a scrap rate of %g; it lies between 0 and %g", l.Scrap, mostScrap)
	case !within(l.OpensAfterS, longestS):
		return fail("it opens after %g s", l.OpensAfterS)
	case !within(l.BagPrice, dearest):
		return fail("a bag costs %g", l.BagPrice)
	}
	for _, c := range l.Job.Colours {
		if !(c.TakesMixed >= 0 && c.TakesMixed <= 1) {
			return fail("%s takes %g of mixed trimmings; a share lies between 0 and 1", c.Name, c.TakesMixed)
		}
	}
	return nil
}

func (b Bench) check() error {
	for _, x := range []struct {
		what       string
		value, top float64
	}{
		{"a shot takes %g s", b.ShotS, longestS}, {"a draw takes %g s", b.RefillS, longestS},
		{"heating takes %g s a mL", b.HeatSPerML, longestS}, {"a mold is cold after %g s", b.ColdAfterS, longestS},
		{"a purge takes %g mL", b.PurgeML, mostPurgeML}, {"a bait takes %g s", b.HandleS, longestS}, {"a bag takes %g s", b.PackS, longestS},
		{"labour costs %g an hour", b.LabourPerHour, dearest}, {"a tax of %g", b.TaxShare, 10},
	} {
		if !within(x.value, x.top) {
			return fmt.Errorf("%w: "+x.what, ErrOrder, x.value)
		}
	}
	switch {
	case math.IsNaN(b.RoomC) || math.Abs(b.RoomC) > 100:
		return fmt.Errorf("%w: a room at %g C", ErrOrder, b.RoomC)
	case b.WarmUp < 0 || b.WarmUp > mostWarmUps:
		return fmt.Errorf("%w: %d warm-up shots; 0 to %d can be planned", ErrOrder, b.WarmUp, mostWarmUps)
	case b.Reheats < 0 || b.Reheats > mostReheats:
		return fmt.Errorf("%w: %d reheats", ErrOrder, b.Reheats)
	}
	return nil
}

// within tells whether x is a number from 0 to top; NaN is not.
func within(x, top float64) bool { return x >= 0 && x <= top }
