package laminate

import (
	"context"
	"fmt"
	"math"
	"reflect"

	"bellyline/cavity"
)

// Boundary is where two neighbouring colours meet, of one kind: Level, Tilted, Drawn,
// Crosswise, Stripe, Core or Skin. What lies below it is its first colour.
type Boundary interface {
	Kind() Kind
	// Colours names what lies below and above.
	Colours() (below, above string)
	// Streams tells whether two streams shot at once can lay it, one on the other.
	Streams() bool
	// PlaceMM is where it lies, in the one way in which its kind may be moved.
	PlaceMM() float64
	// At returns the same boundary at another place.
	At(placeMM float64) Boundary

	check(byPlace bool) error
	lay(ctx context.Context, c *cavity.Cavity, l Line) (laid, error)
}

// Kind is the name of a kind of boundary.
type Kind string

// The kinds of boundary, and what several of them make.
const (
	KindLevel     Kind = "level"
	KindTilted    Kind = "tilted"
	KindDrawn     Kind = "drawn"
	KindCrosswise Kind = "crosswise"
	KindStripe    Kind = "stripe"
	KindCore      Kind = "core"
	KindSkin      Kind = "skin"
	KindLayers    Kind = "layers"
)

// planeInResults is what results call a level boundary.
const planeInResults = "plane"

// MarshalText names a kind as results do.
func (k Kind) MarshalText() ([]byte, error) {
	if k == KindLevel {
		return []byte(planeInResults), nil
	}
	return []byte(k), nil
}

// UnmarshalText reads a name of a result.
func (k *Kind) UnmarshalText(text []byte) error {
	*k = Kind(text)
	if *k == planeInResults {
		*k = KindLevel
	}
	return nil
}

// article is the kind as a sentence has it.
func (k Kind) article() string {
	switch k {
	case KindStripe, KindCore, KindSkin:
		return "a " + string(k)
	}
	return string(k)
}

// insert is what a boundary takes that two streams shot at once cannot lay.
const insert = "an insert or a second shot"

// Line is a colour line as asked for: its boundary, and whether that lies where it says
// or where it leaves its first colour a share of the bait.
type Line struct {
	Boundary Boundary // nil: Level{}
	ByPlace  bool     // the boundary lies at its own place
	Share    float64  // of what lies below, 0 to 1, otherwise
}

func (l Line) boundary() Boundary {
	if l.Boundary == nil {
		return Level{}
	}
	return l.Boundary
}

// Kind returns the kind of the line's boundary.
func (l Line) Kind() Kind { return l.boundary().Kind() }

// Streams tells whether two streams shot at once can lay the line.
func (l Line) Streams() bool { return l.boundary().Streams() }

// Needs says what the line takes beyond a pair of barrels shot at once; empty if nothing.
func (l Line) Needs() string {
	if l.Streams() {
		return ""
	}
	return insert
}

// Same tells whether two lines are asked for alike.
func (l Line) Same(o Line) bool {
	l.Boundary, o.Boundary = l.boundary(), o.boundary()
	return reflect.DeepEqual(l, o)
}

// lay finds where the line lies in a cavity. A share costs one search, a hinge some ten
// cuts, a core a lattice of depths.
func (l Line) lay(ctx context.Context, c *cavity.Cavity) (laid, error) {
	b := l.boundary()
	if err := b.check(l.ByPlace); err != nil {
		return nil, err
	}
	if !l.ByPlace && !(l.Share > 0 && l.Share < 1) {
		return nil, fmt.Errorf("%w: a share of the bait lies between 0 and 1, not %g", ErrJob, l.Share)
	}
	return b.lay(ctx, c, l)
}

// check says whether a line can be part of a job.
func (l Line) check(hasModel bool) error {
	b := l.boundary()
	switch place := b.PlaceMM(); {
	case !l.ByPlace && !bothSeen(l.Share):
		return fmt.Errorf("%w: the share below a line lies between 0 and 1, not %g", ErrJob, l.Share)
	case l.ByPlace && !hasModel:
		return fmt.Errorf("%w: a line at a height needs a model of the bait; give a share instead", ErrJob)
	case b.Kind() != KindLevel && !hasModel:
		return fmt.Errorf("%w: a %s line needs a model of the bait; give a share of a level line instead", ErrJob, b.Kind())
	case l.ByPlace && !sound(math.Abs(place)):
		return fmt.Errorf("%w: a line at a height of %g mm", ErrJob, place)
	}
	return b.check(l.ByPlace)
}
