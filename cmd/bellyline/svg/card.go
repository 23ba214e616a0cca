package svg

import (
	"fmt"
	"io"

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
.skin{fill:none;stroke:#000;stroke-width:1.6}
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
// the three sections beside it, each to scale. asked is the line as drawn, places along
// the bait with their heights; nil for a level one.
func Card(w io.Writer, r *stream.Result, asked [][2]float64) error {
	if len(r.Stations) == 0 {
		return fmt.Errorf("no station to draw")
	}
	first, last := r.Stations[0].XMM, r.Stations[len(r.Stations)-1].XMM
	low, high := reach(r.Sections)
	for _, s := range r.Stations {
		low, high = min(low, s.LowMM), max(high, s.HighMM)
	}
	long := max(first, last) - min(first, last)
	sections := 0.0
	for _, s := range r.Sections {
		sections += s.RightMM - s.LeftMM
	}
	room := cardWide - 2*cardMargin - cardGap*float64(len(r.Sections))
	// Sections of a wide bait are drawn smaller than its side.
	across := min(room/max(long+sections, 1e-9), cardSections*room/max(sections, 1e-9))
	scale := min((room-sections*across)/max(long, 1e-9), cardTall/max(high-low, 1e-9))
	across = min(across, scale)
	c := &canvas{wide: cardWide, tall: cardHead + (high-low)*scale + cardMargin}
	c.element("%s", cardHatches)
	base := cardHead + (high-low)*scale
	c.sideView(view{scale: scale, left: cardMargin, base: base, x0: min(first, last), y0: low}, r, long, asked)
	x := cardMargin + long*scale
	for i, s := range r.Sections {
		x += cardGap
		c.section(i, view{scale: across, left: x, base: base, x0: s.LeftMM, y0: low}, s)
		c.text("", point{x + (s.RightMM-s.LeftMM)*across/2 - 4, base - (s.HighMM-low)*across - 5}, "%d", i+1)
		x += (s.RightMM - s.LeftMM) * across
	}
	c.wide = x + cardMargin
	return c.write(w, "side view and three sections with the colour line", cardStyle)
}
