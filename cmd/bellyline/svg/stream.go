package svg

import (
	"fmt"
	"io"
	"slices"

	"bellyline/laminate/stream"
)

const streamStyle = `
.page{fill:#fff}
text{font:13px sans-serif;fill:#222}
.small{font-size:11px}
.back{fill:#4d8a72;stroke:none}
.belly{fill:#efd9a7;stroke:none}
.skin{fill:none;stroke:#222;stroke-width:1.6}
.drawn{fill:none;stroke:#222;stroke-width:1.2;stroke-dasharray:7 5}
.lands{fill:none;stroke:#c2251d;stroke-width:2}
.band{fill:#c2251d;fill-opacity:.25;stroke:none}
.mark{stroke:#888;stroke-width:.8;stroke-dasharray:2 3}
`

// The page, in its own units.
const (
	pageWide  = 900.0
	margin    = 40.0
	headTall  = 46.0
	keyTall   = 34.0
	sectionAt = 34.0 // room for the words over the sections
)

// view maps mm to the page.
type view struct {
	scale      float64
	left, base float64 // page place of the mm place (x0, y0)
	x0, y0     float64
}

func (v view) at(x, y float64) point {
	return point{v.left + (x-v.x0)*v.scale, v.base - (y-v.y0)*v.scale}
}

// Stream draws the side view of a bait with the line as drawn and as it lands, and
// three sections, to one scale.
func Stream(w io.Writer, r *stream.Result) error {
	if len(r.Stations) == 0 {
		return fmt.Errorf("no station to draw")
	}
	first, last := r.Stations[0].XMM, r.Stations[len(r.Stations)-1].XMM
	low, high := r.Stations[0].LowMM, r.Stations[0].HighMM
	for _, s := range r.Stations {
		low, high = min(low, s.LowMM), max(high, s.HighMM)
	}
	long := max(first, last) - min(first, last)
	scale := (pageWide - 2*margin) / max(long, sectionsWide(r), 1e-9)
	tall := (high - low) * scale
	bottom, top := reach(r.Sections)
	c := &canvas{wide: pageWide, tall: headTall + tall + keyTall + sectionAt + (top-bottom)*scale + margin}
	side := view{scale: scale, left: margin, base: headTall + tall, x0: min(first, last), y0: low}
	c.text("", point{margin, 26}, "%s: where the colour line lands, side view", r.File)
	c.sideView(side, r, long)
	c.gate(side, r)
	c.key(headTall+tall+24, r)
	c.sections(headTall+tall+keyTall+sectionAt, bottom, top, scale, r)
	return c.write(w, "where the colour line lands", streamStyle)
}

// sectionsWide is the length that the three sections side by side would take, in mm.
func sectionsWide(r *stream.Result) float64 {
	sum := 0.0
	for _, s := range r.Sections {
		sum += 1.25 * (s.RightMM - s.LeftMM)
	}
	return sum
}

// reach is from the lowest to the highest point of the sections.
func reach(sections []stream.SectionView) (low, high float64) {
	for i, s := range sections {
		if i == 0 {
			low, high = s.LowMM, s.HighMM
		}
		low, high = min(low, s.LowMM), max(high, s.HighMM)
	}
	return low, high
}

func (c *canvas) sideView(v view, r *stream.Result, long float64) {
	var lands, bandLow, bandHigh []point
	flush := func() {
		c.line("lands", lands...)
		if len(bandLow) > 1 {
			c.polygon("band", slices.Concat(bandLow, reversed(bandHigh)))
		}
		lands, bandLow, bandHigh = nil, nil, nil
	}
	var top, mid, bottom []point
	for _, s := range r.Stations {
		line := s.LowMM // all back
		switch {
		case s.LineMM != nil:
			line = *s.LineMM
		case s.BackMM == 0:
			line = s.HighMM
		}
		top, mid, bottom = append(top, v.at(s.XMM, s.HighMM)), append(mid, v.at(s.XMM, line)), append(bottom, v.at(s.XMM, s.LowMM))
	}
	c.polygon("back", slices.Concat(top, reversed(mid)))
	c.polygon("belly", slices.Concat(mid, reversed(bottom)))
	c.polygon("skin", slices.Concat(top, reversed(bottom)))
	for _, s := range r.Stations {
		if s.LineMM == nil {
			flush()
			continue
		}
		lands = append(lands, v.at(s.XMM, *s.LineMM))
		if s.LineLowMM != nil {
			bandLow, bandHigh = append(bandLow, v.at(s.XMM, *s.LineLowMM)), append(bandHigh, v.at(s.XMM, *s.LineHighMM))
		}
	}
	flush()
	c.line("drawn", v.at(v.x0, r.DrawnMM), v.at(v.x0+long, r.DrawnMM))
	for i, s := range r.Sections {
		c.line("mark", v.at(s.XMM, s.LowMM), v.at(s.XMM, s.HighMM))
		c.text("small", point{v.at(s.XMM, 0).x + 3, v.at(0, s.HighMM).y - 4}, "%d", i+1)
	}
}

func (c *canvas) gate(v view, r *stream.Result) {
	gate := r.Stations[0].XMM
	at := v.at(gate, v.y0)
	c.text("small", point{min(at.x, pageWide-margin-60), v.base + 14}, "gate %.1f mm", gate)
}

func (c *canvas) key(y float64, r *stream.Result) {
	x := margin
	for _, k := range []struct{ class, words string }{{"back", "back"}, {"belly", "belly"}} {
		c.element(`<rect class="%s" x="%.2f" y="%.2f" width="14" height="11"/>`, k.class, x, y)
		c.text("small", point{x + 19, y + 10}, "%s", k.words)
		x += 75
	}
	c.line("drawn", point{x, y + 6}, point{x + 34, y + 6})
	c.text("small", point{x + 40, y + 10}, "as drawn, %.2f mm", r.DrawnMM)
	x += 165
	c.line("lands", point{x, y + 6}, point{x + 34, y + 6})
	words := "where it lands; a trial shot decides"
	if r.Ratio.Low != r.Ratio.High {
		words += "; shaded: what the viscosities leave open"
	}
	c.text("small", point{x + 40, y + 10}, "%s", words)
}

// sections draws them side by side, seen against the flow.
func (c *canvas) sections(y, low, high, scale float64, r *stream.Result) {
	x := margin
	for i, s := range r.Sections {
		c.text("small", point{x, y - 10}, "%d: section at %.1f mm", i+1, s.XMM)
		c.section(i, view{scale: scale, left: x, base: y + (high-low)*scale, x0: s.LeftMM, y0: low}, s)
		x += max(1.25*(s.RightMM-s.LeftMM)*scale, 150)
	}
}

// section draws section i in its two colours.
func (c *canvas) section(i int, v view, s stream.SectionView) {
	var loops [][]point
	for _, loop := range s.Loops {
		var to []point
		for _, p := range loop {
			to = append(to, v.at(p[0], p[1]))
		}
		loops = append(loops, to)
	}
	c.polygon("skin", loops...) // the fill covers what of it lies inside another loop
	c.polygon("back", loops...)
	for k, p := range s.Parts {
		c.clipped(fmt.Sprintf("s%dp%d", i, k), "belly", partOf(loops, p.Loops), v.at(s.LeftMM, p.LineMM), v.at(s.RightMM, v.y0))
	}
	for _, p := range s.Parts {
		if p.Shared {
			c.line("lands", v.at(p.LeftMM, p.LineMM), v.at(p.RightMM, p.LineMM))
		}
	}
}

func partOf(loops [][]point, numbers []int) [][]point {
	var part [][]point
	for _, i := range numbers {
		part = append(part, loops[i])
	}
	return part
}

func reversed(points []point) []point {
	list := slices.Clone(points)
	slices.Reverse(list)
	return list
}
