package svg

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"

	"bellyline/laminate"
	"bellyline/laminate/stream"
)

// cardStyle tells colours by hatching, for paper in black and white: lines for the
// belly, dots for the back, as the card's other marks.
const cardStyle = `
.page{fill:#fff}
svg text{font:15px sans-serif;fill:#000}
.back{fill:url(#cardback);stroke:none}
.belly{fill:url(#cardbelly);stroke:none}
.cross{fill:url(#cardcross);stroke:none}
.blank{fill:#fff;stroke:none}
.edge{fill:none;stroke:#000;stroke-width:3}
.skin{fill:none;stroke:#000;stroke-width:3.2}
.drawn{fill:none;stroke:#000;stroke-width:1.4;stroke-dasharray:8 5}
.lands{fill:none;stroke:#000;stroke-width:3}
.mark{stroke:#000;stroke-width:.8;stroke-dasharray:2 3}
`

const cardHatches = `<defs>
<pattern id="cardbelly" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><rect width="6" height="6" fill="#fff"/><path d="M0 0v6" stroke="#000" stroke-width="1"/></pattern>
<pattern id="cardback" width="6" height="6" patternUnits="userSpaceOnUse"><rect width="6" height="6" fill="#fff"/><circle cx="3" cy="3" r="1.2"/></pattern>
<pattern id="cardcross" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="6" height="6" fill="#fff"/><path d="M0 0v6M0 3h6" stroke="#000" stroke-width="1"/></pattern>
</defs>`

// The card's picture, in its own units: a strip as wide as the sheet.
const (
	cardWide   = 900.0
	cardMargin = 6.0
	cardGap    = 14.0
	cardTall   = 170.0 // at most
	cardHead   = 20.0

	cardSections = 0.4 // of the width, at most, for the sections
)

// Card draws the side view with the line as drawn (dashed) and as it lands (bold), and
// three sections beside it from the tail on, each to scale.
func Card(w io.Writer, v *laminate.Views, r *stream.Result) error {
	if len(v.Side) < 2 || len(r.Stations) == 0 {
		return fmt.Errorf("no station to draw")
	}
	list := slices.SortedFunc(slices.Values(r.Sections), func(a, b stream.SectionView) int { return cmp.Compare(a.XMM, b.XMM) })
	var widths []float64
	for _, s := range list {
		widths = append(widths, s.RightMM-s.LeftMM)
	}
	p := stripOf(v.Side, widths)
	c, side := p.begin()
	lands := landing(v.Side, r)
	low, high := p.low-1, p.high+1
	under := append(slices.Clone(lands), [2]float64{p.last + 1, low}, [2]float64{p.first - 1, low})
	for i := range lands {
		under[i][1] = min(max(under[i][1], low), high)
	}
	c.coloured("side", side, [][][2]float64{outlineOf(v.Side)}, [][][2]float64{under})
	if v.Asked != nil {
		c.line("drawn", placed(side, *v.Asked)...)
	}
	x := p.sectionsFrom()
	for i, s := range list {
		x += cardGap
		at := view{scale: p.across, left: x, base: p.base(), x0: s.LeftMM, y0: p.low}
		c.section(i, at, s)
		p.mark(c, side, i, s.XMM, x+widths[i]*p.across/2, at.at(0, s.HighMM).y)
		x += widths[i] * p.across
	}
	c.wide = x + cardMargin
	return c.write(w, "side view and three sections with the colour line", cardStyle)
}

// landing is where the line lands from tail to nose: between stations straight, at the
// ends as at the station next to them, past the bait where one colour has it all.
func landing(side []laminate.Reach, r *stream.Result) [][2]float64 {
	var line [][2]float64
	for _, s := range r.Stations {
		at := math.Inf(-1)
		switch {
		case s.LineMM != nil:
			at = *s.LineMM
		case s.BackMM == 0:
			at = math.Inf(1)
		}
		line = append(line, [2]float64{s.XMM, at})
	}
	slices.SortFunc(line, func(a, b [2]float64) int { return cmp.Compare(a[0], b[0]) })
	first, last := line[0], line[len(line)-1]
	first[0], last[0] = side[0].AlongMM-1, side[len(side)-1].AlongMM+1
	return append(append([][2]float64{first}, line...), last)
}
