package show

import (
	"fmt"

	"bellyline/cavity"
	"bellyline/cavity/units"
)

// Measured is the answer of the measure command.
type Measured struct {
	Models []*cavity.Measurement `json:"models"`
}

// MeasuredText prints one block a model.
func MeasuredText(p *Page, m Measured) {
	for i, one := range m.Models {
		if i > 0 {
			p.Linef("")
		}
		measuredModel(p, one)
	}
}

func measuredModel(p *Page, m *cavity.Measurement) {
	p.Linef("%s", model(m.File))
	var rows [][]string
	if m.FillVolumeMM3 != nil {
		rows = append(rows, []string{"holds", units.Volume(*m.FillVolumeMM3 / 1000).String(), fmt.Sprintf("%.4f mm3", *m.FillVolumeMM3)})
	}
	if m.MassG != nil {
		rows = append(rows, []string{"weighs", units.Mass(*m.MassG).String()})
	}
	if m.FillVolumeMM3 != nil && *m.VolumeMM3 != *m.FillVolumeMM3 {
		rows = append(rows, []string{"sum of shells", fmt.Sprintf("%.4f mm3", *m.VolumeMM3), "counts overlaps twice"})
	}
	if m.VolumeMM3 != nil {
		rows = append(rows, []string{"known to", fmt.Sprintf("%.2g mm3 by arithmetic,", *m.RoundingMM3), fmt.Sprintf("%.2g mm3 by the steps of the file's numbers", *m.StepMM3)})
	}
	if m.FacetMM3 != nil {
		rows = append(rows, []string{"facets cut off", fmt.Sprintf("about %.3g mm3", *m.FacetMM3), "of the smooth body, if corners lie on it; not added"})
	}
	rows = append(rows,
		[]string{"size", fmt.Sprintf("%.2f x %.2f x %.2f mm", m.SizeMM[0], m.SizeMM[1], m.SizeMM[2])},
		[]string{"area", fmt.Sprintf("%.2f mm2", m.AreaMM2)},
		[]string{"facets", fmt.Sprintf("%d in %d %s, %d corners", m.Triangles, m.Shells, plural(m.Shells, "shell"), m.Vertices)},
		[]string{"closed", closed(m)})
	p.Table(rows)
	for _, n := range m.Notes {
		p.Wrapped("  note: ", Line(n))
	}
	for _, problem := range m.Problems {
		p.Wrapped("  problem: ", fmt.Sprintf("%d %s", problem.Count, plural(problem.Count, words(problem.Kind))))
		for _, where := range problem.Where {
			p.Linef("    %s", where)
		}
	}
	for _, w := range m.Warnings {
		p.Wrapped("  warning: ", w)
	}
	if m.Reason != "" {
		p.Wrapped("  no volume: ", m.Reason)
	}
}

func closed(m *cavity.Measurement) string {
	if len(m.Mends) > 0 {
		return yes(m.Closed) + ", and mended as said below"
	}
	return yes(m.Closed)
}
