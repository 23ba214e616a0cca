package show

import (
	"fmt"
	"strings"

	"bellyline/cavity/units"
	"bellyline/cmd/bellyline/document"
	"bellyline/laminate"
)

// SplitText prints the colours from back to belly, as they lie on the bench.
func SplitText(p *Page, s *laminate.Split) {
	p.Linef("%s", model(s.File))
	lineText(p, s)
	p.Table(colourRows(s.Colours))
	switch {
	case s.Line.DepthMM != nil:
		p.Linef("  core and skin join over %.1f mm2; the core is %d %s and shows nowhere on the skin", s.SplitAreaMM2, s.Pieces, document.Plural(s.Pieces, "piece"))
		p.Linef("  its volume is right to %s mm3, for depths measured every %.2f mm (step: in the line file makes it finer)", small(*s.Line.ErrorMM3), *s.Line.StepMM)
	default:
		p.Linef("  the colours join over %.1f mm2 in %d %s; the line on the skin is %.1f mm long",
			s.SplitAreaMM2, s.Pieces, document.Plural(s.Pieces, "piece"), s.LineLengthMM)
	}
	if s.Line.Needs != "" {
		p.Linef("  it takes %s: two streams shot at once lie one on the other and cannot make it", s.Line.Needs)
	}
	for _, c := range s.Colours {
		if c.File != "" {
			p.Linef("  %s saved as %s", c.Name, c.File)
		}
	}
	for _, w := range s.Warnings {
		p.Wrapped("  warning: ", w)
	}
}

// lineText says where the line lies.
func lineText(p *Page, s *laminate.Split) {
	l, shares := s.Line, units.ShareText(s.Colours[0].Share)
	first, second := s.Colours[0].Name, s.Colours[len(s.Colours)-1].Name
	along := func() string { return direction(*l.Direction) }
	switch l.Kind {
	case laminate.KindLevel:
		p.Linef("  belly to back %s, the line at %s mm along %s", shares, heights(l.HeightsMM), along())
	case laminate.KindTilted:
		p.Linef("  belly to back %s, the line at %s mm in the middle of the bait, %s", shares, heights(l.HeightsMM), tilts(l))
	case laminate.KindDrawn:
		p.Linef("  belly to back %s, the drawn line moved by %s mm; at %s mm in the middle of the bait", shares, heights([]float64{*l.MovedMM}), heights(l.HeightsMM))
		if l.ChordMM != nil {
			p.Linef("  the smooth line stands as %d straight %s within %.3f mm of it", len(l.PointsMM)-1, document.Plural(len(l.PointsMM)-1, "piece"), *l.ChordMM)
		}
	case laminate.KindCrosswise:
		p.Linef("  tail to head %s, the line at %s mm along %s", shares, heights(l.HeightsMM), along())
	case laminate.KindStripe:
		p.Linef("  body to stripe %s, the stripe %.2f mm wide at its floor at %s mm along %s, flanks leaning %g degrees", shares, *l.WidthMM, heights(l.HeightsMM), along(), *l.DraftDeg)
	case laminate.KindCore, laminate.KindSkin:
		p.Linef("  %s to %s %s, the core %.3f mm and more below the skin", first, second, shares, *l.DepthMM)
	case laminate.KindLayers:
		p.Linef("  %d layers, their lines at %s mm along %s%s", len(s.Colours), heights(l.HeightsMM), along(),
			map[bool]string{true: " in the middle of the bait"}[l.Lines != nil])
	default:
		p.Linef("  %s to %s %s, the line at %s mm along %s", first, second, shares, heights(l.HeightsMM), along())
	}
}

// tilts tells how steeply a plane rises.
func tilts(l laminate.SplitLine) string {
	text := slope(*l.TiltDeg, "to the nose", "to the tail")
	if *l.RollDeg != 0 {
		text += " and " + slope(*l.RollDeg, "to the left", "to the right")
	}
	return "rising " + text
}

func slope(degrees float64, up, down string) string {
	if degrees < 0 {
		return fmt.Sprintf("%.2f degrees %s", -degrees, down)
	}
	return fmt.Sprintf("%.2f degrees %s", degrees, up)
}

func colourRows(colours []laminate.SplitColour) [][]string {
	rows := [][]string{{"colour", "share", "volume", "", "skin"}}
	for i := len(colours) - 1; i >= 0; i-- {
		c := colours[i]
		row := []string{c.Name, fmt.Sprintf("%.1f %%", c.Share*100), units.Volume(c.VolumeMM3 / 1000).String(),
			fmt.Sprintf("%.3f mm3", c.VolumeMM3), fmt.Sprintf("%.1f mm2", c.OutsideMM2)}
		if c.MassG != nil {
			row = append(row, units.Mass(*c.MassG).String())
		}
		rows = append(rows, row)
	}
	if colours[0].MassG != nil {
		rows[0] = append(rows[0], "mass")
	}
	return rows
}

func heights(mm []float64) string {
	var list []string
	for _, h := range mm {
		list = append(list, strings.Replace(fmt.Sprintf("%.3f", h), "-0.000", "0.000", 1))
	}
	return strings.Join(list, ", ")
}

// direction prints +x to -z by name, others by numbers.
func direction(d [3]float64) string {
	for i, name := range []string{"x", "y", "z"} {
		switch d[i] {
		case 1:
			return "+" + name
		case -1:
			return "-" + name
		}
	}
	return fmt.Sprintf("(%.3f, %.3f, %.3f)", d[0], d[1], d[2])
}
