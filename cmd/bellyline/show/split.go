package show

import (
	"fmt"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

// SplitText prints the colours from back to belly, as they lie on the bench.
func SplitText(p *Page, s *laminate.Split) {
	p.Linef("%s, %s at %s mm", model(s.File), s.Line.Kind, numbers(s.Line.HeightsMM))
	rows := [][]string{{"colour", "share", "volume", "", "skin", "mass", "file"}}
	for i := len(s.Colours) - 1; i >= 0; i-- {
		c := s.Colours[i]
		row := []string{c.Name, fmt.Sprintf("%.1f %%", c.Share*100), units.Volume(c.VolumeMM3 / 1000).String(),
			fmt.Sprintf("%.3f mm3", c.VolumeMM3), fmt.Sprintf("%.1f mm2", c.OutsideMM2), "", Line(c.File)}
		if c.MassG != nil {
			row[5] = units.Mass(*c.MassG).String()
		}
		rows = append(rows, row)
	}
	p.Table(rows)
	p.Linef("  the colours join over %.1f mm2 in %d %s; the line on the skin is %.1f mm long",
		s.SplitAreaMM2, s.Pieces, plural(s.Pieces, "piece"), s.LineLengthMM)
	for _, w := range s.Warnings {
		p.Wrapped("  warning: ", w)
	}
}

func numbers(xs []float64) string {
	text := ""
	for i, x := range xs {
		if i > 0 {
			text += ", "
		}
		text += fmt.Sprintf("%.3f", x)
	}
	return text
}
