package layout

import (
	"fmt"
	"math"
	"slices"

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
	Vents    []Line     `json:"vents"`
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

// Round is a round hole; Line a straight groove.
type Round struct {
	XMM        float64 `json:"x_mm"`
	YMM        float64 `json:"y_mm"`
	DiameterMM float64 `json:"diameter_mm"`
}

// Line is a groove from one place to another.
type Line struct {
	FromMM [2]float64 `json:"from_mm"`
	ToMM   [2]float64 `json:"to_mm"`
	WideMM float64    `json:"wide_mm"`
	DeepMM float64    `json:"deep_mm"`
}

// mostCavities is past any mold.
const mostCavities = 200

// NewPlan lays out a number of cavities in one or two rows along a central runner,
// whichever takes the smaller block. Errors wrap ErrSize.
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
	case err == nil && one.area() < two.area():
		return one, nil
	}
	return two, errTwo
}

func (l *Plan) area() float64 { return l.BlockMM[0] * l.BlockMM[1] }

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
	if l.Runner, err = sizeRunner(p, l.FirstMM, l.PitchMM, perStation); err != nil {
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

// fromStock takes the next bar up; lengths are sawn to the full millimetre.
func (l *Plan) fromStock(p Practice) {
	l.InStock = true
	next := func(list []float64, need float64) float64 {
		if i, _ := slices.BinarySearch(list, need); i < len(list) {
			return list[i]
		}
		l.InStock = false
		return math.Ceil(need)
	}
	l.BlockMM[0] = math.Ceil(l.NeedMM[0])
	l.BlockMM[1] = next(p.WidthsMM, l.NeedMM[1])
	for i := range l.HalvesMM {
		l.HalvesMM[i] = next(p.ThicksMM, l.HalvesMM[i])
	}
	l.BlockMM[2] = l.HalvesMM[0] + l.HalvesMM[1]
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
		tip := c.inBlock(b.TipMM, b.LengthMM)
		vent := Line{WideMM: p.VentWideMM, DeepMM: p.VentMM, FromMM: [2]float64{tip.X, tip.Y}, ToMM: [2]float64{tip.X, l.BlockMM[1]}}
		if c.Turned {
			vent.ToMM[1] = 0
		}
		l.Vents = append(l.Vents, vent)
	}
	edge := p.EdgeMM / 2
	for _, at := range [][2]float64{{edge, edge}, {l.BlockMM[0] - edge, edge}, {edge, l.BlockMM[1] - edge}, {l.BlockMM[0] - edge, l.BlockMM[1] - edge}} {
		l.Pins = append(l.Pins, Round{XMM: at[0], YMM: at[1], DiameterMM: p.PinMM})
	}
}

// inBlock returns where a point of the bait lies in the block for one cavity.
func (c Place) inBlock(x, y float64) r2.Point {
	if c.Turned {
		return r2.Point{X: c.XMM - x, Y: c.YMM - y}
	}
	return r2.Point{X: c.XMM + x, Y: c.YMM + y}
}
