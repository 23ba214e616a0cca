package show

import (
	"fmt"

	"bellyline/cavity/hollow"
	"bellyline/cavity/units"
)

// HollowsText prints a mold half: the block, a table of hollows, gates, warnings.
func HollowsText(p *Page, h *hollow.Half) {
	p.Linef("%s", model(h.File))
	p.Linef("  block %.1f x %.1f x %.1f mm, pulled off along %s, parting face at %s mm",
		h.BlockMM[0], h.BlockMM[1], h.BlockMM[2], hollow.DirectionText(h.Pull), heights(h.LevelsMM))
	p.Table(hollowRows(h.Hollows))
	gates := gateRows(h.Hollows)
	if len(gates) > 1 {
		p.Linef("  gates, where the hollows were cut:")
		p.Table(gates)
	}
	for _, c := range h.Connected {
		p.Linef("  %s hang together: %.3f mm3 in all", ids(c.IDs), c.VolumeMM3)
	}
	for _, w := range h.Warnings {
		p.Wrapped("  warning: ", w)
	}
}

func hollowRows(list []hollow.Hollow) [][]string {
	rows := [][]string{{"", "kind", "volume", "", "opening", "depth", "undercut", "centre x, y", "known to"}}
	for _, o := range list {
		kind := string(o.Kind)
		if o.Through && o.Kind == hollow.Hole {
			kind = "hole, through"
		}
		rows = append(rows, []string{fmt.Sprint(o.ID), kind, units.Volume(o.VolumeMM3 / 1000).String(), fmt.Sprintf("%.3f mm3", o.VolumeMM3),
			fmt.Sprintf("%.2f mm2", o.OpeningMM2), fmt.Sprintf("%.2f mm", o.DepthMM), fmt.Sprintf("%.1f mm2", o.UndercutMM2),
			fmt.Sprintf("%.1f, %.1f", o.CentreMM[0], o.CentreMM[1]), small(o.BoundMM3) + " mm3"})
	}
	return rows
}

// gateRows lists each gate once, at its cavity.
func gateRows(list []hollow.Hollow) [][]string {
	rows := [][]string{{"cavity", "runner", "width", "area"}}
	for _, o := range list {
		if o.Kind != hollow.Cavity {
			continue
		}
		for _, g := range o.Gates {
			rows = append(rows, []string{fmt.Sprint(o.ID), fmt.Sprint(g.To), fmt.Sprintf("%.2f mm", g.WidthMM), fmt.Sprintf("%.2f mm2", g.AreaMM2)})
		}
	}
	return rows
}

// ids lists numbers in words: "1, 2 and 3".
func ids(list []int) string {
	text := ""
	for i, n := range list {
		switch {
		case i == 0:
		case i == len(list)-1:
			text += " and "
		default:
			text += ", "
		}
		text += fmt.Sprint(n)
	}
	return text
}
