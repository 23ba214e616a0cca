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

	// Layers are the lines between three colours and more; then the heights above are
	// those of the lowest, and areas and lengths those of all. Null for two.
	Layers []LayerLine `json:"layers"`

	Agree *Agreement `json:"agree"` // null for a line that takes an insert or a second shot

	Kind Kind `json:"kind"` // of the line as drawn; what barrels lay is level
	// What the line takes beyond a pair of barrels shot at once; empty if nothing.
	Needs string `json:"needs"`

	Sheet *Sheet `json:"-"` // the line as drawn, for pictures; nil without a model, for core and skin
}

// leastShare is the least part of a bait that counts as a colour: a millionth of
// 10 mL is a five-thousandth of a drop.
const leastShare = 1e-6

// bothSeen tells whether belly's share leaves both colours a part of the bait.
func bothSeen(belly float64) bool { return belly >= leastShare && 1-belly >= leastShare }

// askLine finds the share of an asked line, or the height of an asked share.
func (j Job) askLine(ctx context.Context) (*LineResult, error) {
	l := &LineResult{AskedShare: j.Line.Share, Kind: j.Line.Kind(), Needs: j.Line.Needs()}
	if j.Cavity == nil {
		return l, nil
	}
	if l.Needs != "" && j.Injector.Drive == Ganged {
		return nil, fmt.Errorf("%w: a line of the kind %s takes %s, and ganged plungers always shoot both colours at once: take an injector whose plungers are pushed one by one, or a level line", ErrInjector, l.Kind, l.Needs)
	}
	at, err := j.Line.lay(ctx, j.Cavity)
	if err != nil {
		return nil, err
	}
	l.Sheet = at.surface()
	if l.Needs != "" {
		err = l.askSection(ctx, j.Cavity, at)
	} else {
		err = l.askHeight(ctx, j, at)
	}
	if err == nil && !bothSeen(l.AskedShare) {
		err = fmt.Errorf("%w: the %s line leaves nothing for one of the colours", ErrJob, l.Kind)
	}
	return l, err
}

// askHeight asks for the height in the middle of the bait of a line that barrels can
// lay, and for its share when that is not given.
func (l *LineResult) askHeight(ctx context.Context, j Job, at laid) error {
	low, _ := j.Cavity.Heights()
	middle := at.lies().HeightMM
	up := *middle - low
	l.AskedMM, l.AskedUpMM = middle, &up
	if !j.Line.ByPlace {
		return nil
	}
	below, err := at.belowMM3(ctx)
	l.AskedShare = below / j.Cavity.FillMM3
	return err
}

// askSection asks for the share of a line that barrels cannot lay, and for what its
// colours join over. It has no one height.
func (l *LineResult) askSection(ctx context.Context, c *cavity.Cavity, at laid) error {
	s, err := at.section(ctx)
	l.AskedShare = s.BelowMM3 / c.FillMM3
	l.SplitAreaMM2, l.LineLengthMM, l.Pieces = &s.AreaMM2, &s.OutlineMM, &s.Pieces
	return err
}

// deliver moves the line to where the barrels' ratio puts it.
func (l *LineResult) deliver(ctx context.Context, c *cavity.Cavity, share float64) error {
	if !bothSeen(share) {
		return fmt.Errorf("%w: its bores leave belly a share of %.2g", ErrInjector, share)
	}
	l.DeliveredShare = share
	if c == nil || l.Needs != "" {
		return nil
	}
	h := *l.AskedMM
	if share != l.AskedShare || l.Kind != KindLevel {
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

// shapeWarnings tells that barrels do not lay the line as it was drawn, and the ways
// out.
func (l *LineResult) shapeWarnings(colours []Colour) []string {
	if l.Needs != "" {
		return []string{fmt.Sprintf("this line is %s: two streams shot at once lie one on the other and cannot make it; it takes %s. The amounts hold: draw and push %s and %s each by itself",
			l.Kind.article(), l.Needs, colours[0].Name, colours[1].Name)}
	}
	if l.Kind == KindLevel {
		return nil
	}
	return []string{fmt.Sprintf("the line is %s, but barrels lay it level: the shares will be right, the line will run at %.1f mm all along; for the line as drawn take an insert or a second shot",
		l.Kind.article(), *l.DeliveredMM)}
}

// warnings tells that ganged barrels put the line elsewhere, and the ways out.
func (l *LineResult) warnings() []string {
	moved := math.Abs(l.DeliveredShare-l.AskedShare) > sameShare
	where := ""
	if l.AskedMM != nil && l.DeliveredMM != nil && l.Kind == KindLevel {
		by := *l.DeliveredMM - *l.AskedMM
		moved = moved || math.Abs(by) > sameMM
		where = fmt.Sprintf(", the line %.1f mm %s", math.Abs(by), map[bool]string{true: "higher", false: "lower"}[by > 0])
	}
	if !moved {
		return nil
	}
	return []string{fmt.Sprintf("the ganged barrels give %s belly to back, not %s as drawn%s; %s",
		units.ShareText(l.DeliveredShare), units.ShareText(l.AskedShare), where, l.waysOut())}
}
