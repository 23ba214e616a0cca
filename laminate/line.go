package laminate

import (
	"context"
	"fmt"
	"math"

	"bellyline/cavity"
	"bellyline/cavity/units"
)

// LineResult is where the colours part, as drawn and as the barrels will put it.
type LineResult struct {
	Course        // of the line; of several that of the lowest, but for areas and lengths, which are those of all
	Lands  *Lands `json:"lands"` // null unless asked for

	Layers []LayerLine `json:"layers"` // of several lines each, from the lowest up; null for one

	Agree *Agreement `json:"agree"` // null for a line that takes an insert or a second shot

	Kind Kind `json:"kind"` // of the line as drawn; what barrels lay is level
	// What the line takes beyond a pair of barrels shot at once; empty if nothing.
	Needs string `json:"needs"`
}

// LayerLine is one of several lines, one over the other.
type LayerLine struct {
	Below string `json:"below"` // the colours that meet in it
	Above string `json:"above"`
	Course
}

// Course is how one line runs, as drawn and as the barrels put it. Heights are in model
// coordinates along the back direction, null without a model.
type Course struct {
	AskedMM        *float64 `json:"asked_mm"`
	DeliveredMM    *float64 `json:"delivered_mm"`
	AskedShare     float64  `json:"asked_share"` // of all colours below
	DeliveredShare float64  `json:"delivered_share"`
	// The same above the lowest point of the bait.
	AskedUpMM     *float64 `json:"asked_up_mm"`
	DeliveredUpMM *float64 `json:"delivered_up_mm"`
	// What the delivered line looks like; null without a model.
	SplitAreaMM2 *float64 `json:"split_area_mm2"`
	LineLengthMM *float64 `json:"line_length_mm"`
	Pieces       *int     `json:"pieces"`

	Sheet *Sheet `json:"-"` // the line as drawn, for pictures; nil without a model, for core and skin
}

// Courses are those of all lines, from the lowest up.
func (l *LineResult) Courses() []*Course {
	if len(l.Layers) == 0 {
		return []*Course{&l.Course}
	}
	var list []*Course
	for i := range l.Layers {
		list = append(list, &l.Layers[i].Course)
	}
	return list
}

// leastShare is the least part of a bait that counts as a colour: a millionth of
// 10 mL is a five-thousandth of a drop.
const leastShare = 1e-6

// bothSeen tells whether a share leaves a part of the bait on both sides of a line.
func bothSeen(below float64) bool { return below >= leastShare && 1-below >= leastShare }

// askLines finds the share of every colour as drawn, and the courses of the lines
// between them.
func (j Job) askLines(ctx context.Context) ([]float64, *LineResult, error) {
	var shares []float64
	var layers []LayerLine
	var lines []laid
	below := 0.0
	for i, line := range j.Lines {
		layer := LayerLine{Below: j.Colours[i].Name, Above: j.Colours[i+1].Name, Course: Course{AskedShare: line.Share}}
		if j.Cavity != nil {
			at, err := layer.ask(ctx, j, line)
			if err != nil {
				return nil, nil, err
			}
			lines = append(lines, at)
		}
		shares, below, layers = append(shares, layer.AskedShare-below), layer.AskedShare, append(layers, layer)
	}
	shares = append(shares, 1-below)
	for i, s := range shares {
		if !(s >= leastShare) {
			return nil, nil, fmt.Errorf("%w: the line as drawn leaves nothing for %s", ErrJob, j.Colours[i].Name)
		}
	}
	for i := 1; i < len(lines); i++ {
		if err := checkCrossing(j.Cavity, lines[i-1], lines[i]); err != nil {
			return nil, nil, err
		}
	}
	switch len(layers) {
	case 0:
		return shares, nil, nil
	case 1:
		return shares, &LineResult{Course: layers[0].Course, Kind: j.Lines[0].Kind(), Needs: j.Lines[0].Needs()}, nil
	}
	return shares, &LineResult{Layers: layers, Kind: j.Lines[0].Kind()}, nil
}

// ask finds where a line lies, and its share when that is not given.
func (c *Course) ask(ctx context.Context, j Job, l Line) (laid, error) {
	needs := l.Needs()
	if needs != "" && j.Injector.Drive == Ganged {
		return nil, fmt.Errorf("%w: a line of the kind %s takes %s, and ganged plungers always shoot both colours at once: take an injector whose plungers are pushed one by one, or a level line", ErrInjector, l.Kind(), needs)
	}
	at, err := l.lay(ctx, j.Cavity)
	if err != nil {
		return nil, err
	}
	c.Sheet = at.surface()
	if needs != "" {
		return at, c.askSection(ctx, j.Cavity, at)
	}
	low, _ := j.Cavity.Heights()
	middle := at.lies().HeightMM
	up := *middle - low
	c.AskedMM, c.AskedUpMM = middle, &up
	if !l.ByPlace {
		return at, nil
	}
	below, err := at.belowMM3(ctx)
	c.AskedShare = below / j.Cavity.FillMM3
	return at, err
}

// askSection asks for what the colours of a line join over that barrels cannot lay. It
// has no one height.
func (c *Course) askSection(ctx context.Context, bait *cavity.Cavity, at laid) error {
	s, err := at.section(ctx)
	c.AskedShare = s.BelowMM3 / bait.FillMM3
	c.SplitAreaMM2, c.LineLengthMM, c.Pieces = &s.AreaMM2, &s.OutlineMM, &s.Pieces
	return err
}

// deliver moves the lines to where the barrels' ratio puts them.
func (r recipe) deliver(ctx context.Context, l *LineResult) error {
	for i, s := range r.shares {
		if !(s >= leastShare) {
			return fmt.Errorf("%w: its bores leave %s a share of %.2g", ErrInjector, r.Colours[i].Name, s)
		}
	}
	below := 0.0
	for i, c := range l.Courses() {
		below += r.shares[i]
		c.DeliveredShare = below
		if r.Cavity == nil || r.Across != nil || !r.Lines[i].Streams() {
			continue
		}
		if err := c.deliver(ctx, r.Cavity, r.Lines[i].Kind()); err != nil {
			return err
		}
	}
	l.addUp()
	return nil
}

func (c *Course) deliver(ctx context.Context, bait *cavity.Cavity, drawn Kind) error {
	h := *c.AskedMM
	if c.DeliveredShare != c.AskedShare || drawn != KindLevel {
		var err error
		if h, err = bait.HeightFor(ctx, c.DeliveredShare); err != nil {
			return err
		}
	}
	s, err := bait.Level(ctx, h)
	if err != nil {
		return err
	}
	low, _ := bait.Heights()
	up := h - low
	c.DeliveredUpMM = &up
	c.DeliveredMM, c.SplitAreaMM2, c.LineLengthMM, c.Pieces = &h, &s.AreaMM2, &s.OutlineMM, &s.Pieces
	return nil
}

// addUp gives the result of several lines the course of the lowest and the sums of all.
func (l *LineResult) addUp() {
	if len(l.Layers) == 0 {
		return
	}
	l.Course = l.Layers[0].Course
	l.Sheet = nil // each layer has its own
	if l.SplitAreaMM2 == nil {
		return
	}
	area, length, pieces := 0.0, 0.0, 0
	for _, line := range l.Layers {
		area, length, pieces = area+*line.SplitAreaMM2, length+*line.LineLengthMM, pieces+*line.Pieces
	}
	l.SplitAreaMM2, l.LineLengthMM, l.Pieces = &area, &length, &pieces
}

// A line that moves by less than this, in mm or in share, is where it was drawn.
const (
	sameMM    = 0.1
	sameShare = 0.005
)

// shapeWarnings tells that barrels do not lay the line as it was drawn, and the ways
// out.
func (l *LineResult) shapeWarnings(j Job) []string {
	if l.Needs != "" {
		return []string{fmt.Sprintf("this line is %s: two streams shot at once lie one on the other and cannot make it; it takes %s. The amounts hold: draw and push %s and %s each by itself",
			l.Kind.article(), l.Needs, j.Colours[0].Name, j.Colours[1].Name)}
	}
	var w []string
	for i, c := range l.Courses() {
		if kind := j.Lines[i].Kind(); kind != KindLevel {
			w = append(w, fmt.Sprintf("the line is %s, but barrels lay it level: the shares will be right, the line will run at %.1f mm all along; for the line as drawn take an insert or a second shot", kind.article(), *c.DeliveredMM))
		}
	}
	return w
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
