package laminate

import (
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// Kind is the shape of a colour line.
type Kind string

// The kinds of line. What lies below a line is its first colour.
const (
	Level     Kind = "plane"     // across the back direction: belly, back
	Tilted    Kind = "tilted"    // a plane that rises to the nose or to one side: belly, back
	Drawn     Kind = "drawn"     // points in side view, extruded across the bait: belly, back
	Crosswise Kind = "crosswise" // a plane across the nose direction: tail, head
	Stripe    Kind = "stripe"    // a groove along the back: body, stripe
	Core      Kind = "core"      // what lies deeper than so many mm below the skin: core, skin
	Skin      Kind = "skin"      // the same seen from outside: skin, core
)

// Line is a colour line as asked for: its shape, and where it lies or what share of
// the bait its first colour takes.
type Line struct {
	Kind Kind // empty: Level

	// HeightMM is used when ByHeight. For a plane it is the height along the
	// cavity's back direction, for a tilted one that in the middle of the bait; how
	// far a drawn line is moved up; the place along the nose direction of a crosswise
	// line; the height of a stripe's floor; how thick the skin is round a core.
	HeightMM   float64
	ByHeight   bool
	BellyShare float64 // of the first colour, 0 to 1, otherwise

	TiltDeg float64 // tilted: how steeply the line rises to the nose, -80 to 80
	RollDeg float64 // tilted: how steeply it rises to the bait's left
	Hinge   *Hinge  // tilted: where the line stays while its tilt is found for the share

	Points []r2.Point // drawn: along the nose direction and height, in mm, from tail to nose
	Smooth bool       // drawn: a smooth curve through the points

	WidthMM  float64 // stripe: width of its floor
	AcrossMM float64 // stripe: middle, to the bait's left, in model coordinates
	DraftDeg float64 // stripe: how far each flank leans outward

	StepMM float64 // core, skin: step of the lattice of depths; 0: fit to the bait
}

// Hinge is a place in side view, in mm along the nose and the back direction.
type Hinge struct{ AlongMM, HeightMM float64 }

// Same tells whether two lines are asked for alike.
func (l Line) Same(o Line) bool {
	points, hinge := slices.Equal(l.Points, o.Points), l.Hinge == o.Hinge || l.Hinge != nil && o.Hinge != nil && *l.Hinge == *o.Hinge
	return points && hinge && l.kind() == o.kind() && l.HeightMM == o.HeightMM && l.ByHeight == o.ByHeight && l.BellyShare == o.BellyShare &&
		l.TiltDeg == o.TiltDeg && l.RollDeg == o.RollDeg && l.Smooth == o.Smooth &&
		l.WidthMM == o.WidthMM && l.AcrossMM == o.AcrossMM && l.DraftDeg == o.DraftDeg && l.StepMM == o.StepMM
}

func (l Line) kind() Kind {
	if l.Kind == "" {
		return Level
	}
	return l.Kind
}

// names returns the colours below and above the line.
func (k Kind) names() (below, above string) {
	switch k {
	case Crosswise:
		return "tail", "head"
	case Stripe:
		return "body", "stripe"
	case Core:
		return "core", "skin"
	case Skin:
		return "skin", "core"
	}
	return "belly", "back"
}

// Needs says what a line takes beyond a pair of barrels shot at once, which lay one
// colour on the other in the height of the stack; empty if nothing.
func (k Kind) Needs() string {
	switch k {
	case Crosswise, Stripe, Core, Skin:
		return "an insert or a second shot"
	}
	return ""
}

// word is the kind as people say it.
func (k Kind) word() string {
	if k == Level {
		return "level"
	}
	return string(k)
}

// article is the kind as a sentence has it.
func (k Kind) article() string {
	switch k {
	case Stripe, Core, Skin:
		return "a " + string(k)
	}
	return k.word()
}

// layered tells whether lines of this kind can lie one over the other.
func (k Kind) layered() bool { return k == Level || k == Tilted || k == Drawn }

// Bounds of what a line may be; past them it is a slip.
const (
	steepestDeg   = 80.0
	leastDraftDeg = 0.5
	mostDraftDeg  = 60.0
	mostPoints    = 1000
)

// check says whether the numbers of a line are ones that can be.
func (l Line) check() error {
	if l.holdsForeign() {
		return fmt.Errorf("%w: a %s line is given numbers that only lines of other kinds have", ErrJob, l.kind())
	}
	switch k := l.kind(); k {
	case Level, Crosswise:
	case Tilted:
		if !(math.Abs(l.TiltDeg) <= steepestDeg && math.Abs(l.RollDeg) <= steepestDeg) {
			return fmt.Errorf("%w: a line tilts by at most %g degrees, not by %g and %g", ErrJob, steepestDeg, l.TiltDeg, l.RollDeg)
		}
		if l.Hinge != nil && (l.ByHeight || !sound(math.Abs(l.Hinge.AlongMM)) || !sound(math.Abs(l.Hinge.HeightMM))) {
			return fmt.Errorf("%w: a line on a hinge needs the hinge's place and a share", ErrJob)
		}
	case Drawn:
		if n := len(l.Points); n < 2 || n > mostPoints {
			return fmt.Errorf("%w: a drawn line has 2 to %d points, not %d", ErrJob, mostPoints, n)
		}
		for i, p := range l.Points {
			if !sound(math.Abs(p.X)) || !sound(math.Abs(p.Y)) {
				return fmt.Errorf("%w: point %d of the line is (%g, %g)", ErrJob, i+1, p.X, p.Y)
			}
			if i > 0 && !(p.X > l.Points[i-1].X) {
				return fmt.Errorf("%w: point %d of the line at %g mm must lie nearer the nose than the one before it, at %g mm", ErrJob, i+1, p.X, l.Points[i-1].X)
			}
		}
	case Stripe:
		switch {
		case !(l.WidthMM > 0 && l.WidthMM <= largest):
			return fmt.Errorf("%w: a stripe of %g mm", ErrJob, l.WidthMM)
		case !sound(math.Abs(l.AcrossMM)):
			return fmt.Errorf("%w: a stripe %g mm across", ErrJob, l.AcrossMM)
		case !(l.DraftDeg >= leastDraftDeg && l.DraftDeg <= mostDraftDeg):
			return fmt.Errorf("%w: the flanks of a stripe lean by %g to %g degrees, not by %g", ErrJob, leastDraftDeg, mostDraftDeg, l.DraftDeg)
		}
	case Core, Skin:
		if l.ByHeight && !(l.HeightMM > 0 && l.HeightMM <= largest) {
			return fmt.Errorf("%w: a skin %g mm thick", ErrJob, l.HeightMM)
		}
		if !sound(l.StepMM) {
			return fmt.Errorf("%w: a lattice of %g mm", ErrJob, l.StepMM)
		}
	default:
		return fmt.Errorf("%w: no line is of the kind %q", ErrJob, l.Kind)
	}
	return nil
}

// holdsForeign tells whether a number is set that the line's kind does not use.
func (l Line) holdsForeign() bool {
	k := l.kind()
	return k != Tilted && (l.TiltDeg != 0 || l.RollDeg != 0 || l.Hinge != nil) ||
		k != Drawn && (len(l.Points) > 0 || l.Smooth) ||
		k != Stripe && (l.WidthMM != 0 || l.AcrossMM != 0 || l.DraftDeg != 0) ||
		k != Core && k != Skin && l.StepMM != 0
}
