package show

import (
	"fmt"

	"bellyline/cavity/hollow"
)

// DraftText prints whether a bait can be pulled.
func DraftText(p *Page, d *hollow.Draft) {
	p.Linef("%s", model(d.File))
	p.Linef("  pulled along %s, parted at %s mm: %.1f mm2 undercut, seen along the pull (skin %.1f mm2)",
		hollow.DirectionText(d.Pulled.Pull), heights([]float64{d.Pulled.PartingMM}), d.Pulled.UndercutMM2, d.AreaMM2)
	p.Linef("  least of all pulls: %.1f mm2 along %s, parted at %s mm",
		d.Least.UndercutMM2, hollow.DirectionText(d.Least.Pull), heights([]float64{d.Least.PartingMM}))
	p.Linef("  steepness, from the pull:")
	rows := [][]string{{"degrees", "free", "undercut"}}
	for _, s := range d.Steepness {
		rows = append(rows, []string{fmt.Sprintf("%g to %g", s.FromDeg, s.ToDeg), fmt.Sprintf("%.1f mm2", s.AreaMM2), fmt.Sprintf("%.1f mm2", s.HeldMM2)})
	}
	p.Table(rows)
	if len(d.Undercuts) > 0 {
		p.Linef("  where, the largest first:")
	}
	for _, u := range d.Undercuts {
		p.Linef("  %.2f mm2 at x %.1f to %.1f, y %.1f to %.1f, z %.1f to %.1f mm",
			u.AreaMM2, u.MinMM[0], u.MaxMM[0], u.MinMM[1], u.MaxMM[1], u.MinMM[2], u.MaxMM[2])
	}
	p.Wrapped("  ", "Soft plastic gives way where metal does not: some undercut can be pulled, and how much the first baits tell.")
	for _, w := range d.Warnings {
		p.Wrapped("  warning: ", w)
	}
}
