package svg

import "bellyline/laminate"

// strip is the card's picture: a side view, tail to the left, and sections beside it.
type strip struct {
	first, last, low, high float64 // of the bait, in mm
	scale, across          float64 // of the side and of the sections
}

// stripOf fits a side and sections of widths in mm. Sections of a wide bait are drawn
// smaller than its side.
func stripOf(side []laminate.Reach, widths []float64) strip {
	p := strip{first: side[0].AlongMM, last: side[len(side)-1].AlongMM, low: side[0].LowMM, high: side[0].HighMM}
	for _, s := range side {
		p.low, p.high = min(p.low, s.LowMM), max(p.high, s.HighMM)
	}
	sections := 0.0
	for _, w := range widths {
		sections += w
	}
	room := cardWide - 2*cardMargin - cardGap*float64(len(widths))
	p.across = min(room/max(p.last-p.first+sections, 1e-9), cardSections*room/max(sections, 1e-9))
	p.scale = min((room-sections*p.across)/max(p.last-p.first, 1e-9), cardTall/max(p.high-p.low, 1e-9))
	p.across = min(p.across, p.scale)
	return p
}

func (p strip) base() float64 { return cardHead + (p.high-p.low)*p.scale }

// sectionsFrom is where the side view ends on the page.
func (p strip) sectionsFrom() float64 { return cardMargin + (p.last-p.first)*p.scale }

// begin begins the picture and returns the view of the side.
func (p strip) begin() (*canvas, view) {
	c := &canvas{tall: p.base() + cardMargin}
	c.element("%s", cardHatches)
	return c, view{scale: p.scale, left: cardMargin, base: p.base(), x0: p.first, y0: p.low}
}

// mark numbers section i over itself and where it is cut from the side.
func (p strip) mark(c *canvas, side view, i int, alongMM, middle, top float64) {
	c.text("", point{middle - 4, top - 5}, "%d", i+1)
	at := side.at(alongMM, 0).x
	c.text("", point{at - 4, cardHead - 6}, "%d", i+1)
	c.line("mark", side.at(alongMM, p.low), side.at(alongMM, p.high))
}
