package order

import (
	"fmt"
	"strings"
)

// Leftover is plastic of one colour that lies there from earlier days.
type Leftover struct {
	Colour string  // as the plan calls it
	MassG  float64 // with its additives
	Heated int     // how often it has been heated so far, 1 or more
}

// mostLeftG is more than a shop keeps.
const mostLeftG = 1e9

// shelve puts leftovers on the shelves of their colours, where they are used first.
func (r *run) shelve(list []Leftover) error {
	for _, l := range list {
		c := r.named(l.Colour)
		switch {
		case c == nil:
			var names []string
			for _, c := range r.colours {
				names = append(names, c.name)
			}
			return fmt.Errorf("%w: left over is %q, and no bait of the order has that colour; there is: %s", ErrOrder, l.Colour, strings.Join(names, ", "))
		case !(l.MassG > 0 && l.MassG <= mostLeftG):
			return fmt.Errorf("%w: %g g left over of %s", ErrOrder, l.MassG, l.Colour)
		case l.Heated < 1 || l.Heated > mostReheats:
			return fmt.Errorf("%w: what is left over of %s has been heated %d times; at least once, or it is not left over", ErrOrder, l.Colour, l.Heated)
		}
		c.shelf.put(l.Heated, Lot{l.MassG, l.MassG / c.blend.HotDensity})
		c.account.BroughtG += l.MassG
	}
	return nil
}

func (r *run) named(name string) *colour {
	for _, c := range r.colours {
		if c.name == name {
			return c
		}
	}
	return nil
}

// tooOldWarnings tells of leftovers that may not be heated again.
func (o Order) tooOldWarnings() []string {
	var w []string
	for _, l := range o.Leftovers {
		if l.Heated > o.Bench.Reheats {
			w = append(w, fmt.Sprintf("%.0f g left over of %s has been heated %d times, and may be %d times before it is heated again: not used", l.MassG, l.Colour, l.Heated, o.Bench.Reheats))
		}
	}
	return w
}

// cheaper tells whether a plan without leftovers is to be preferred to one with them.
// They can come to nothing: what is put to them grows too old with them.
func (p *Plan) cheaper(with *Plan) bool {
	if p.Cost != nil && with.Cost != nil {
		return p.Cost.Total < with.Cost.Total*(1-1e-9)
	}
	return p.boughtG() < with.boughtG()*(1-1e-9)
}

// keepLeftovers says of a plan without leftovers that they stay on the shelf.
func (p *Plan) keepLeftovers() {
	p.LeftoversKept = true
	p.Warnings = append(p.Warnings, "what is left over from earlier days is not used: with it this order would cost more, as what it is mixed with grows too old; keep it for another order")
}
