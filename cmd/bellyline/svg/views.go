package svg

import (
	"fmt"
	"io"

	"bellyline/laminate"
)

// hatches are those of the colours from below, as the card's marks have them.
var hatches = [...]string{"belly", "back", "cross", "blank"}

// Views draws the side view and the sections of a pour with its colours, from below.
func Views(w io.Writer, v *laminate.Views) error {
	if len(v.Side) < 2 {
		return fmt.Errorf("no side to draw")
	}
	var widths []float64
	for _, s := range v.Sections {
		left, right := widthOf(s)
		widths = append(widths, right-left)
	}
	p := stripOf(v.Side, widths)
	c, side := p.begin()
	var below [][][2]float64
	for _, l := range v.Lines {
		below = append(below, l.Side)
	}
	c.coloured("side", side, [][][2]float64{outlineOf(v.Side)}, below)
	if v.Asked != nil {
		c.line("drawn", placed(side, *v.Asked)...)
	}
	x := p.sectionsFrom()
	for i, s := range v.Sections {
		left, _ := widthOf(s)
		x += cardGap
		at := view{scale: p.across, left: x, base: p.base(), x0: left, y0: p.low}
		below = below[:0]
		for _, l := range v.Lines {
			below = append(below, l.Sections[i])
		}
		c.coloured(fmt.Sprintf("cut%d", i), at, s.Loops, below)
		p.mark(c, side, i, s.AlongMM, x+widths[i]*p.across/2, at.at(0, highest(s)).y)
		x += widths[i] * p.across
	}
	c.wide = x + cardMargin
	return c.write(w, "side view and three sections with the colours", cardStyle)
}

// coloured fills loops with the uppermost colour, then what lies below each line, the
// upper lines first, and draws the lines.
func (c *canvas) coloured(id string, v view, loops [][][2]float64, below [][][2]float64) {
	var shape [][]point
	for _, l := range loops {
		shape = append(shape, placed(v, l))
	}
	c.element(`<clipPath id="%s"><path d="%s"/></clipPath>`, id, pathOf(shape, "Z"))
	c.polygon("skin", shape...) // the fill covers what of it lies inside another loop
	c.polygon(hatches[len(below)%len(hatches)], shape...)
	for i := len(below) - 1; i >= 0; i-- {
		if len(below[i]) == 0 {
			continue
		}
		c.element(`<g clip-path="url(#%s)">`, id)
		c.polygon(hatches[i%len(hatches)], placed(v, below[i]))
		c.polygon("edge", placed(v, below[i]))
		c.element(`</g>`)
	}
}

func placed(v view, list [][2]float64) []point {
	var points []point
	for _, p := range list {
		points = append(points, v.at(p[0], p[1]))
	}
	return points
}

// outlineOf goes along the top and back along the bottom.
func outlineOf(side []laminate.Reach) [][2]float64 {
	var top, bottom [][2]float64
	for i, s := range side {
		top = append(top, [2]float64{s.AlongMM, s.HighMM})
		r := side[len(side)-1-i]
		bottom = append(bottom, [2]float64{r.AlongMM, r.LowMM})
	}
	return append(top, bottom...)
}

func widthOf(s laminate.CutAcross) (left, right float64) {
	first := true
	for _, l := range s.Loops {
		for _, p := range l {
			if first {
				left, right, first = p[0], p[0], false
			}
			left, right = min(left, p[0]), max(right, p[0])
		}
	}
	return left, right
}

func highest(s laminate.CutAcross) float64 {
	high := 0.0
	for i, l := range s.Loops {
		for k, p := range l {
			if i == 0 && k == 0 {
				high = p[1]
			}
			high = max(high, p[1])
		}
	}
	return high
}
