package laminate

import (
	"context"
	"fmt"
	"math"

	"github.com/golang/geo/r2"

	"bellyline/cavity"
)

// Stripe is a groove along the bait that opens to the back, its floor flat, its flanks
// leaning outward so that an insert comes out: body, stripe.
type Stripe struct {
	FloorMM  float64 // along the back direction, in model coordinates
	WidthMM  float64 // of the floor
	AcrossMM float64 // its middle, to the bait's left, in model coordinates
	DraftDeg float64 // how far each flank leans outward
}

func (Stripe) Kind() Kind                    { return KindStripe }
func (Stripe) Colours() (string, string)     { return "body", "stripe" }
func (Stripe) Streams() bool                 { return false }
func (b Stripe) PlaceMM() float64            { return b.FloorMM }
func (b Stripe) At(floorMM float64) Boundary { b.FloorMM = floorMM; return b }

// Bounds of a flank's lean; past them it is a slip.
const leastDraftDeg, mostDraftDeg = 0.5, 60.0

func (b Stripe) check(bool) error {
	switch {
	case !(b.WidthMM > 0 && b.WidthMM <= largest):
		return fmt.Errorf("%w: a stripe of %g mm", ErrJob, b.WidthMM)
	case !sound(math.Abs(b.AcrossMM)):
		return fmt.Errorf("%w: a stripe %g mm across", ErrJob, b.AcrossMM)
	case !(b.DraftDeg >= leastDraftDeg && b.DraftDeg <= mostDraftDeg):
		return fmt.Errorf("%w: the flanks of a stripe lean by %g to %g degrees, not by %g", ErrJob, leastDraftDeg, mostDraftDeg, b.DraftDeg)
	}
	return nil
}

func (b Stripe) lay(ctx context.Context, c *cavity.Cavity, l Line) (laid, error) {
	f, err := c.Frame()
	if err != nil {
		return nil, err
	}
	low, high := c.Heights()
	tall := 2*(high-low) + 1 // the flanks end over the bait wherever the floor lies in it
	lean := tall * math.Tan(b.DraftDeg*math.Pi/180)
	left, right := b.AcrossMM-b.WidthMM/2, b.AcrossMM+b.WidthMM/2
	profile := []r2.Point{{X: left - lean, Y: tall}, {X: left}, {X: right}, {X: right + lean, Y: tall}}
	sheets, err := c.Folds(f.Left, f.Back, profile)
	if err != nil {
		return nil, err
	}
	grooves := planes(sheets, f.Back, "")
	grooves.along, grooves.knots = f.Left, profile
	grooves.says = SplitLine{WidthMM: &b.WidthMM, DraftDeg: &b.DraftDeg, AcrossMM: &b.AcrossMM}
	s, err := grooves.find(ctx, b, l)
	if err == nil && s.level < low {
		err = fmt.Errorf("%w: the stripe's floor at %.3f mm lies below the bait, which reaches from %.3f to %.3f mm: make the stripe wider or its share smaller", ErrJob, s.level, low, high)
	}
	return found(s, err)
}
