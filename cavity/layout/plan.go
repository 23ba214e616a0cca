package layout

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
)

// Plan is where everything lies in the block, in mm.
type Plan struct {
	Cavities int        `json:"cavities"`
	Rows     int        `json:"rows"`
	Columns  int        `json:"columns"`
	NeedMM   [3]float64 `json:"need_mm"`   // what the layout takes, both halves together
	BlockMM  [3]float64 `json:"block_mm"`  // what is cut from stock
	HalvesMM [2]float64 `json:"halves_mm"` // thickness of the half below and above the parting face
	InStock  bool       `json:"in_stock"`
	Places   []Place    `json:"places"`
	Pins     []Round    `json:"pins"`
	Bolts    []Round    `json:"bolts"`
	Tips     []Tip      `json:"tips"` // of one bait in the parting face, from the gate; the farthest first
	Vents    []Vent     `json:"vents"`
	Runner   Runner     `json:"-"`

	PitchMM float64 `json:"pitch_mm"` // between stations
	FirstMM float64 `json:"first_mm"` // from the edge to the first one
	AxisMM  float64 `json:"axis_mm"`  // of the runner, above the lower edge of the block
}

// Place is one cavity: where its gate enters it, and whether it is turned by half.
type Place struct {
	XMM    float64    `json:"x_mm"`
	YMM    float64    `json:"y_mm"`
	Turned bool       `json:"turned"`
	MinMM  [2]float64 `json:"min_mm"` // of its box
	MaxMM  [2]float64 `json:"max_mm"`
}

// Round is a round hole.
type Round struct {
	XMM        float64 `json:"x_mm"`
	YMM        float64 `json:"y_mm"`
	DiameterMM float64 `json:"diameter_mm"`
}

// mostCavities is past any mold.
const mostCavities = 200

// NewPlan lays out a number of cavities in one or two rows along a central runner:
// in what keeps to the longest block and comes from stock, and of two that do, in the
// one that takes less metal. Errors wrap ErrSize.
func NewPlan(b *Bait, p Practice, cavities int) (*Plan, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	if cavities < 1 || cavities > mostCavities {
		return nil, fmt.Errorf("%w: %d cavities; give 1 to %d", ErrSize, cavities, mostCavities)
	}
	one, err := b.rows(p, cavities, 1)
	if cavities == 1 {
		return one, err
	}
	two, errTwo := b.rows(p, cavities, 2)
	switch {
	case errTwo != nil:
		return one, err
	case err == nil && one.better(two, p):
		return one, nil
	}
	return two, errTwo
}

// better tells which of two layouts of the same cavities is taken.
func (l *Plan) better(o *Plan, p Practice) bool {
	switch long, otherLong := l.longPerOne() > p.LongPerOne, o.longPerOne() > p.LongPerOne; {
	case long != otherLong:
		return otherLong
	case l.InStock != o.InStock:
		return l.InStock
	case long:
		return l.longPerOne() < o.longPerOne()
	}
	return l.volume() < o.volume()
}

// longPerOne is how many times as long as wide the block is that the layout takes.
func (l *Plan) longPerOne() float64 { return l.NeedMM[0] / l.NeedMM[1] }

func (l *Plan) volume() float64 { return l.BlockMM[0] * l.BlockMM[1] * l.BlockMM[2] }

// rows lays out one or two rows.
func (b *Bait) rows(p Practice, cavities, rows int) (*Plan, error) {
	l := &Plan{Cavities: cavities, Rows: rows, Columns: (cavities + rows - 1) / rows, PitchMM: b.widthMM() + p.SpacingMM}
	wide := b.LeftMM
	if rows == 2 {
		wide = max(b.LeftMM, b.RightMM)
	}
	l.FirstMM = p.EdgeMM + wide
	perStation := make([]int, l.Columns)
	for i := range cavities {
		perStation[i/rows]++
	}
	var err error
	if l.Runner, err = sizeRunner(p, p.LandMM+b.MouthMM, l.FirstMM, l.PitchMM, perStation); err != nil {
		return nil, err
	}
	reach := l.Runner.DiameterMM/2 + p.LandMM + b.LengthMM + p.EdgeMM
	l.AxisMM = reach
	l.NeedMM[1] = 2 * reach
	right := b.RightMM
	if rows == 2 {
		right = wide
	} else {
		l.AxisMM = l.Runner.DiameterMM/2 + p.EdgeMM
		l.NeedMM[1] = l.AxisMM + reach
	}
	right = max(right, l.Runner.DiameterMM/2) // the runner ends round
	l.NeedMM[0] = l.FirstMM + l.PitchMM*float64(l.Columns-1) + right + p.EdgeMM
	l.thickness(b, p)
	l.fromStock(p)
	l.place(b, p)
	return l, nil
}

// thickness gives each half the metal behind its cavities and its runner.
func (l *Plan) thickness(b *Bait, p Practice) {
	for i, deep := range [2]float64{b.BelowMM, b.AboveMM} {
		l.HalvesMM[i] = max(deep, l.Runner.DiameterMM/2) + p.FloorMM
	}
	l.NeedMM[2] = l.HalvesMM[0] + l.HalvesMM[1]
}

// fromStock takes the next bar up, and saws it to the full millimetre. The bar may
// lie along the runner or across: whichever takes less metal.
func (l *Plan) fromStock(p Practice) {
	l.InStock = true
	for i, need := range l.HalvesMM {
		thick, ok := atLeast(p.Stock.ThicksMM, need)
		if !ok {
			thick, l.InStock = math.Ceil(need), false
		}
		l.HalvesMM[i] = thick
	}
	l.BlockMM = [3]float64{math.Ceil(l.NeedMM[0]), math.Ceil(l.NeedMM[1]), l.HalvesMM[0] + l.HalvesMM[1]}
	best := math.Inf(1)
	for across := range 2 {
		sawn, need := math.Ceil(l.NeedMM[1-across]), l.NeedMM[across]
		width, ok := atLeast(p.Stock.WidthsMM, need)
		if !ok || p.Stock.LongestMM > 0 && sawn > p.Stock.LongestMM || width*sawn >= best {
			continue
		}
		best = width * sawn
		l.BlockMM[across], l.BlockMM[1-across] = width, sawn
	}
	l.InStock = l.InStock && !math.IsInf(best, 1)
	l.AxisMM += (l.BlockMM[1] - l.NeedMM[1]) / 2 // what is spare goes to both sides
}

// place puts the cavities, pins and vents.
func (l *Plan) place(b *Bait, p Practice) {
	away := l.Runner.DiameterMM/2 + p.LandMM
	for i := range l.Cavities {
		x := l.FirstMM + l.PitchMM*float64(i/l.Rows)
		c := Place{XMM: x, YMM: l.AxisMM + away, Turned: l.Rows == 2 && i%2 == 1}
		c.MinMM = [2]float64{x - b.LeftMM, c.YMM}
		c.MaxMM = [2]float64{x + b.RightMM, c.YMM + b.LengthMM}
		if c.Turned {
			c.YMM = l.AxisMM - away
			c.MinMM = [2]float64{x - b.RightMM, c.YMM - b.LengthMM}
			c.MaxMM = [2]float64{x + b.LeftMM, c.YMM}
		}
		l.Places = append(l.Places, c)
	}
	l.holes(p)
	l.vents(b, p)
}

// holes puts locating pins into two opposite corners and bolts into the others.
func (l *Plan) holes(p Practice) {
	edge := p.EdgeMM / 2
	far := [2]float64{l.BlockMM[0] - edge, l.BlockMM[1] - edge}
	l.Bolts = []Round{}
	l.Pins = []Round{{XMM: edge, YMM: edge, DiameterMM: p.PinMM}, {XMM: far[0], YMM: far[1], DiameterMM: p.PinMM}}
	if p.BoltMM > 0 {
		l.Bolts = []Round{{XMM: far[0], YMM: edge, DiameterMM: p.BoltMM}, {XMM: edge, YMM: far[1], DiameterMM: p.BoltMM}}
	}
}

// inBlock returns where a point of the bait lies in the block for one cavity.
func (c Place) inBlock(x, y float64) r2.Point {
	if c.Turned {
		return r2.Point{X: c.XMM - x, Y: c.YMM - y}
	}
	return r2.Point{X: c.XMM + x, Y: c.YMM + y}
}
