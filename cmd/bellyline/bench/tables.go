package bench

import (
	"fmt"

	"bellyline/cavity"
	"bellyline/cavity/hollow"
	"bellyline/cavity/units"
	"bellyline/cmd/bellyline/document"
)

// modelRows is the model's own table, in both systems: keys are those of measure.
func modelRows(m *cavity.Measurement) []row {
	var g group
	if m.FillVolumeMM3 != nil {
		g.add("fill_volume_mm3", "", "holds", volumePair(*m.FillVolumeMM3))
	}
	g.add("area_mm2", "", "skin", document.AreaPair(m.AreaMM2, 1))
	for i, side := range [3]string{"size along x", "size along y", "size along z"} {
		g.add(fmt.Sprintf("size_mm.%d", i), "", side, units.Length(m.SizeMM[i]).Pair())
	}
	g.add("triangles", "", "facets", units.Pair{Metric: fmt.Sprint(m.Triangles)})
	g.add("shells", "", "parts", units.Pair{Metric: fmt.Sprint(m.Shells)})
	g.add("closed", "", "closed", units.Pair{Metric: map[bool]string{true: "yes", false: "no"}[m.Closed]})
	return g.Rows
}

// hollowRow is a hollow of a mold half as its table shows it.
type hollowRow struct {
	ID    int    `json:"id"`
	Kind  string `json:"kind"`
	Cells []row  `json:"cells"` // volume, opening, depth, undercut
}

func hollowRows(h *hollow.Half) []hollowRow {
	list := []hollowRow{}
	for i, o := range h.Hollows {
		kind, key := string(o.Kind), fmt.Sprintf("hollows.%d.", i)
		if o.Through {
			kind += ", through"
		}
		var g group
		g.add(key+"volume_mm3", "", "", volumePair(o.VolumeMM3))
		g.add(key+"opening_mm2", "", "", document.AreaPair(o.OpeningMM2, 1))
		g.add(key+"depth_mm", "", "", units.Length(o.DepthMM).Pair())
		g.add(key+"undercut_mm2", "", "", document.AreaPair(o.UndercutMM2, 1))
		list = append(list, hollowRow{ID: o.ID, Kind: kind, Cells: g.Rows})
	}
	return list
}

// volumePair shows cubic millimetres beside fluid ounces.
func volumePair(mm3 float64) units.Pair {
	return units.Pair{Metric: fmt.Sprintf("%.1f mm³", mm3), US: units.Volume(mm3 / 1000).Pair().US}
}
