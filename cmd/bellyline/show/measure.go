package show

import (
	"fmt"

	"bellyline/cavity"
	"bellyline/cavity/units"

	"bellyline/cmd/bellyline/document"
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
	p.Table(append(volumeRows(m), surfaceRows(m)...))
	for _, n := range m.Notes {
		p.Wrapped("  note: ", n)
	}
	for _, problem := range m.Problems {
		p.Wrapped("  problem: ", fmt.Sprintf("%d %s", problem.Count, document.Plural(problem.Count, words(problem.Kind))))
		for _, where := range problem.Where {
			p.Wrapped("    ", where)
		}
	}
	for _, w := range m.Warnings {
		p.Wrapped("  warning: ", w)
	}
	if m.Reason != "" {
		p.Wrapped("  no volume: ", m.Reason)
	}
}

// volumeRows say what the model holds and how well that is known.
func volumeRows(m *cavity.Measurement) [][]string {
	var rows [][]string
	add := func(what, format string, args ...any) {
		rows = append(rows, []string{what, fmt.Sprintf(format, args...)})
	}
	if m.FillVolumeMM3 != nil {
		add("holds", "%v, %.3f mm3", units.Volume(*m.FillVolumeMM3/1000), *m.FillVolumeMM3)
	}
	if m.MassG != nil {
		add("weighs", "%v", units.Mass(*m.MassG))
	}
	switch {
	case m.VolumeMM3 == nil:
	case m.FillVolumeMM3 == nil:
		add("sum of shells", "%.3f mm3", *m.VolumeMM3)
	case *m.VolumeMM3 != *m.FillVolumeMM3:
		add("sum of shells", "%.3f mm3, which counts overlaps twice", *m.VolumeMM3)
	}
	if m.VolumeMM3 != nil {
		add("known to", "%s mm3 by the steps of the file's numbers; arithmetic adds %s mm3", small(*m.StepMM3), small(*m.RoundingMM3))
	}
	if m.FacetMM3 != nil {
		add("facets cut off", "about %s mm3 of the smooth body, if corners lie on it; not added", small(*m.FacetMM3))
	}
	return rows
}

// surfaceRows say what the surface is.
func surfaceRows(m *cavity.Measurement) [][]string {
	return [][]string{
		{"size", fmt.Sprintf("%.2f x %.2f x %.2f mm", m.SizeMM[0], m.SizeMM[1], m.SizeMM[2])},
		{"area", fmt.Sprintf("%.2f mm2", m.AreaMM2)},
		{"facets", fmt.Sprintf("%d in %d %s, %d corners", m.Triangles, m.Shells, document.Plural(m.Shells, "shell"), m.Vertices)},
		{"closed", closed(m)},
	}
}

func closed(m *cavity.Measurement) string {
	if len(m.Mends) > 0 {
		return yes(m.Closed) + ", and mended as said below"
	}
	return yes(m.Closed)
}
