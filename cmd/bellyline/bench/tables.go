package bench

import (
	"fmt"

	"bellyline/cavity"
	"bellyline/cavity/hollow"
	"bellyline/cavity/units"
)

// modelRows is the model's own table, in both systems: keys are those of measure.
func modelRows(m *cavity.Measurement) []row {
	var g group
	if m.FillVolumeMM3 != nil {
		c := volumeCell("fill_volume_mm3", *m.FillVolumeMM3)
		g.add(c.Key, "", "holds", c.Metric, c.US)
	}
	c := areaCell("area_mm2", m.AreaMM2)
	g.add(c.Key, "", "skin", c.Metric, c.US)
	for i, side := range [3]string{"size along x", "size along y", "size along z"} {
		g.addLength(fmt.Sprintf("size_mm.%d", i), "", side, m.SizeMM[i])
	}
	g.add("triangles", "", "facets", fmt.Sprint(m.Triangles), "")
	g.add("shells", "", "parts", fmt.Sprint(m.Shells), "")
	g.add("closed", "", "closed", map[bool]string{true: "yes", false: "no"}[m.Closed], "")
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
		depth, inches := both(units.Length(o.DepthMM).String())
		list = append(list, hollowRow{ID: o.ID, Kind: kind, Cells: []row{
			volumeCell(key+"volume_mm3", o.VolumeMM3), areaCell(key+"opening_mm2", o.OpeningMM2),
			{Key: key + "depth_mm", Metric: depth, US: inches}, areaCell(key+"undercut_mm2", o.UndercutMM2),
		}})
	}
	return list
}

// volumeCell shows cubic millimetres beside fluid ounces.
func volumeCell(key string, mm3 float64) row {
	_, us := both(units.Volume(mm3 / 1000).String())
	return row{Key: key, Metric: fmt.Sprintf("%.1f mm³", mm3), US: us}
}

func areaCell(key string, mm2 float64) row {
	const inch2 = float64(units.Inch * units.Inch)
	return row{Key: key, Metric: fmt.Sprintf("%.1f mm²", mm2), US: fmt.Sprintf("%.3f in²", mm2/inch2)}
}
