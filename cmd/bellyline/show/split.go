package show

import (
	"fmt"
	"strings"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

// SplitText prints the colours from back to belly, as they lie on the bench.
func SplitText(p *Page, s *laminate.Split) {
	p.Linef("%s", model(s.File))
	if len(s.Colours) == 2 {
		p.Linef("  belly to back %s, the line at %s mm along %s", units.ShareText(s.Colours[0].Share), heights(s.Line.HeightsMM), direction(s.Line.Direction))
	} else {
		p.Linef("  %d layers, their lines at %s mm along %s", len(s.Colours), heights(s.Line.HeightsMM), direction(s.Line.Direction))
	}
	p.Table(colourRows(s.Colours))
	p.Linef("  the colours join over %.1f mm2 in %d %s; the line on the skin is %.1f mm long",
		s.SplitAreaMM2, s.Pieces, Plural(s.Pieces, "piece"), s.LineLengthMM)
	for _, c := range s.Colours {
		if c.File != "" {
			p.Linef("  %s saved as %s", c.Name, c.File)
		}
	}
	for _, w := range s.Warnings {
		p.Wrapped("  warning: ", w)
	}
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
