package show

import (
	"fmt"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

func pourWater(p *Page, r *laminate.Pour) {
	if len(r.Water.Falls) == 0 { // baits that do not weigh alike
		return
	}
	with := ""
	if r.Water.HookG > 0 {
		with = fmt.Sprintf(", with %s of hook", units.Mass(r.Water.HookG))
	}
	p.Linef("\nIN WATER  (at %s%s)", units.Celsius(r.Water.Falls[0].TempC), with)
	speeds := false
	var rows [][]string
	for _, f := range r.Water.Falls {
		row := []string{f.Water, string(f.Way), "", ""}
		if f.LevelMMS > 0 {
			row[2] = "level " + speed(f.LevelMMS)
			row[3] = "nose first " + speed(f.NoseFromMMS) + " and more"
			speeds = true
		}
		rows = append(rows, row)
	}
	p.Table(rows)
	if speeds {
		p.Linef("  Speeds give or take %.0f %%; a bait that flutters is slower.", r.Water.Spread*100)
	}
}

// speed prints mm/s as people say it.
func speed(mmS float64) string {
	return fmt.Sprintf("%.1f cm/s (%.1f in/s)", mmS/10, mmS/units.Inch.MM())
}
