package laminate

import (
	"context"
	"fmt"
	"math"

	"bellyline/cavity"
	"bellyline/cavity/units"
)

// LineResult is the colour line as drawn and as the barrels will put it. Heights
// are in model coordinates along the back direction, null without a model.
type LineResult struct {
	AskedMM        *float64 `json:"asked_mm"`
	DeliveredMM    *float64 `json:"delivered_mm"`
	AskedShare     float64  `json:"asked_share"` // belly's
	DeliveredShare float64  `json:"delivered_share"`
	// The same above the lowest point of the bait.
	AskedUpMM     *float64 `json:"asked_up_mm"`
	DeliveredUpMM *float64 `json:"delivered_up_mm"`
	// What the delivered line looks like; null without a model.
	SplitAreaMM2 *float64 `json:"split_area_mm2"`
	LineLengthMM *float64 `json:"line_length_mm"`
	Pieces       *int     `json:"pieces"`
	Lands        *Lands   `json:"lands"` // null unless asked for
}

// leastShare is the least part of a bait that counts as a colour: a millionth of
// 10 mL is a five-thousandth of a drop.
const leastShare = 1e-6

// bothSeen tells whether belly's share leaves both colours a part of the bait.
func bothSeen(belly float64) bool { return belly >= leastShare && 1-belly >= leastShare }

// askLine finds the share of an asked height, or the height of an asked share.
func (j Job) askLine(ctx context.Context) (*LineResult, error) {
	l := &LineResult{AskedShare: j.Line.BellyShare}
	if j.Cavity == nil {
		return l, nil
	}
	h := j.Line.HeightMM
	if !j.Line.ByHeight {
		var err error
		if h, err = j.Cavity.HeightFor(ctx, j.Line.BellyShare); err != nil {
			return nil, err
		}
	}
	low, high := j.Cavity.Heights()
	up := h - low
	l.AskedMM, l.AskedUpMM = &h, &up
	if j.Line.ByHeight {
		s, err := j.Cavity.Level(ctx, h)
		if err != nil {
			return nil, err
		}
		l.AskedShare = s.BelowMM3 / j.Cavity.FillMM3
		if !bothSeen(l.AskedShare) {
			return nil, fmt.Errorf("%w: the line at %.2f mm misses the bait, which reaches from %.2f to %.2f mm", ErrJob, h, low, high)
		}
	}
	return l, nil
}

// deliver moves the line to where the barrels' ratio puts it.
func (l *LineResult) deliver(ctx context.Context, c *cavity.Cavity, share float64) error {
	if !bothSeen(share) {
		return fmt.Errorf("%w: its bores leave belly a share of %.2g", ErrInjector, share)
	}
	l.DeliveredShare = share
	if c == nil {
		return nil
	}
	h := *l.AskedMM
	if share != l.AskedShare {
		var err error
		if h, err = c.HeightFor(ctx, share); err != nil {
			return err
		}
	}
	s, err := c.Level(ctx, h)
	if err != nil {
		return err
	}
	low, _ := c.Heights()
	up := h - low
	l.DeliveredUpMM = &up
	l.DeliveredMM, l.SplitAreaMM2, l.LineLengthMM, l.Pieces = &h, &s.AreaMM2, &s.OutlineMM, &s.Pieces
	return nil
}

// A line that moves by less than this, in mm or in share, is where it was drawn.
const (
	sameMM    = 0.1
	sameShare = 0.005
)

// warnings tells that ganged barrels put the line elsewhere, and the ways out.
func (l *LineResult) warnings() []string {
	moved := math.Abs(l.DeliveredShare-l.AskedShare) > sameShare
	where := ""
	if l.AskedMM != nil && l.DeliveredMM != nil {
		by := *l.DeliveredMM - *l.AskedMM
		moved = moved || math.Abs(by) > sameMM
		where = fmt.Sprintf(", the line %.1f mm %s", math.Abs(by), map[bool]string{true: "higher", false: "lower"}[by > 0])
	}
	if !moved {
		return nil
	}
	return []string{fmt.Sprintf("the ganged barrels give %s belly to back, not %s as drawn%s: draw the line there, change the barrels, or push each plunger by hand",
		units.ShareText(l.DeliveredShare), units.ShareText(l.AskedShare), where)}
}
