package show

import (
	"fmt"
	"math"

	"bellyline/cavity/hollow"
	"bellyline/cavity/units"
)

// HollowsText prints a mold half: the block, a table of hollows, gates, the pairs
// with the other half, warnings.
func HollowsText(p *Page, m *hollow.Mold) {
	h := m.Half
	p.Linef("%s", model(h.File))
	p.Linef("  block %.1f x %.1f x %.1f mm, pulled off along %s, parting face at %s mm",
		h.BlockMM[0], h.BlockMM[1], h.BlockMM[2], hollow.DirectionText(h.Pull), heights(h.LevelsMM))
	for _, f := range h.Candidates {
		if f.OwnMM3 > 0 && f.Pull != h.Pull {
			p.Linef("  hollows open along %s as well (%.0f mm3); --pull reads those", hollow.DirectionText(f.Pull), f.OwnMM3)
		}
	}
	p.Table(hollowRows(h.Hollows))
	if worst := h.WorstBoundMM3; worst > 0 {
		p.Linef("  as the rims are plane to no better than the file's numbers, volumes are known to %s mm3", small(worst))
	}
	gates := gateRows(h.Hollows)
	if len(gates) > 1 {
		p.Linef("  gates, where the hollows were cut:")
		p.Table(gates)
	}
	for _, c := range h.Connected {
		p.Linef("  %s hang together: %.3f mm3 in all", hollow.IDsText(c.IDs), c.VolumeMM3)
	}
	for _, g := range h.Alike {
		if len(g) > 1 {
			p.Linef("  cavities %s are the same bait, turned in the plane", hollow.IDsText(g))
		}
	}
	if m.Other != nil {
		pairsText(p, m)
	}
	for _, o := range h.Hollows {
		if o.File != "" {
			p.Linef("  %s %d saved under a flat lid as %s", o.Kind, o.ID, o.File)
		}
	}
	for _, w := range h.Warnings {
		p.Wrapped("  warning: ", w)
	}
}

// pairsText prints what the two halves make together.
func pairsText(p *Page, m *hollow.Mold) {
	p.Linef("with %s, laid on it %s:", model(m.Other.File), m.How)
	rows := [][]string{{"half", "other", "kind", "volume", "mm3", "offset x, y mm", "miss by mm"}}
	for _, k := range m.Pairs {
		rows = append(rows, []string{fmt.Sprint(k.Half), fmt.Sprint(k.Other), string(k.Kind), units.Volume(k.VolumeMM3 / 1000).String(),
			fmt.Sprintf("%.3f", k.VolumeMM3), signed(k.OffsetMM[0]) + ", " + signed(k.OffsetMM[1]), fmt.Sprintf("%.3f", k.MismatchMM)})
	}
	p.Table(rows)
	if len(m.Alone) > 0 {
		p.Linef("  without a partner in this half: %s", hollow.IDsText(m.Alone))
	}
	if len(m.AloneOther) > 0 {
		p.Linef("  without a partner in the other half: %s", hollow.IDsText(m.AloneOther))
	}
	for _, k := range m.Pairs {
		if k.File != "" {
			p.Linef("  %s %d saved as %s", k.Kind, k.Half, k.File)
		}
	}
	for _, w := range m.Other.Warnings {
		p.Wrapped("  warning, other half: ", w)
	}
}

func hollowRows(list []hollow.Hollow) [][]string {
	rows := [][]string{{"", "kind", "volume", "mm3", "open mm2", "deep mm", "undercut", "centre"}}
	for _, o := range list {
		kind := string(o.Kind)
		if o.Through && o.Kind == hollow.Hole {
			kind = "through hole"
		}
		rows = append(rows, []string{fmt.Sprint(o.ID), kind, units.Volume(o.VolumeMM3 / 1000).String(), fmt.Sprintf("%.3f", o.VolumeMM3),
			fmt.Sprintf("%.2f", o.OpeningMM2), fmt.Sprintf("%.2f", o.DepthMM), fmt.Sprintf("%.1f", o.UndercutMM2), place(o.CentreMM)})
	}
	return rows
}

// place prints where something is, in mm, with no minus before a zero.
func place(at [2]float64) string {
	return fmt.Sprintf("%.1f, %.1f", math.Round(at[0]*10)/10+0, math.Round(at[1]*10)/10+0)
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
