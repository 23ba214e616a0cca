package laminate

import (
	"context"
	"fmt"
	"math"

	"github.com/golang/geo/r2"

	"bellyline/cavity"
)

// groove places a stripe: a groove along the bait that opens to the back, its floor
// flat, its flanks leaning outward so that an insert comes out. What fills the groove
// is the stripe.
func (p *placed) groove(ctx context.Context, c *cavity.Cavity, f frame) error {
	low, high := c.Heights()
	tall := 2*(high-low) + 1 // the flanks end over the bait wherever the floor lies in it
	lean := tall * math.Tan(p.line.DraftDeg*math.Pi/180)
	half, at := p.line.WidthMM/2, p.line.AcrossMM
	var err error
	profile := []r2.Point{{X: at - half - lean, Y: tall}, {X: at - half}, {X: at + half}, {X: at + half + lean, Y: tall}}
	p.sheets, err = c.Folds(f.across, f.back, profile)
	if err != nil {
		return err
	}
	if err := p.find(ctx, c, 0, "", p.sheets.HeightFor); err != nil {
		return err
	}
	if p.level < low {
		return fmt.Errorf("%w: the stripe's floor at %.3f mm lies below the bait, which reaches from %.3f to %.3f mm: make the stripe wider or its share smaller", ErrJob, p.level, low, high)
	}
	var knots [][2]float64
	for _, k := range profile {
		knots = append(knots, [2]float64{k.X, k.Y + p.level})
	}
	p.sheet = bentSheet(f.across, f.back, knots)
	return nil
}
