package svg

import (
	"fmt"
	"io"

	"bellyline/laminate"
)

// Sides draws a bait once for each side of the runner: in the hatch of its colour when
// it has one alone, blank when the colours share it.
func Sides(w io.Writer, v *laminate.Views, a *laminate.SideBySide) error {
	if len(v.Side) < 2 || len(a.Sides) == 0 {
		return fmt.Errorf("no side to draw")
	}
	p := stripOf(v.Side, nil)
	n := float64(len(a.Sides))
	p.scale = min(p.scale, (cardWide-2*cardMargin-cardGap*(n-1))/n/max(p.last-p.first, 1e-9))
	c, side := p.begin()
	for _, s := range a.Sides {
		c.text("", point{side.left, cardHead - 6}, "%d: %s", s.Cavities, coloursOf(s))
		c.polygon("skin", placed(side, outlineOf(v.Side)))
		c.polygon(hatchOf(s), placed(side, outlineOf(v.Side)))
		side.left += (p.last-p.first)*p.scale + cardGap
		c.wide = max(c.wide, side.left-cardGap+cardMargin)
	}
	return c.write(w, "the bait of each side of the runner", cardStyle)
}

// hatchOf is that of the one colour that a side gets.
func hatchOf(s laminate.Side) string {
	for i, c := range s.Colours {
		if c.Share == 1 {
			return hatches[i]
		}
	}
	return "blank"
}

// coloursOf is short: the words are on the card.
func coloursOf(s laminate.Side) string {
	for _, c := range s.Colours {
		if c.Share == 1 {
			return "all " + c.Name
		}
	}
	return "both"
}
