package show

import (
	"fmt"
	"strings"

	"bellyline/cavity/layout"
	"bellyline/cavity/units"
)

// SizeText prints a mold as it could be cut, and what else was looked at.
func SizeText(p *Page, r *layout.Result) {
	p.Linef("%s", model(r.File))
	p.Wrapped("  ", "Hot plastisol burns and its fumes harm: the cautions on the pour card come before anything here. Sizes come from common practice: check them before metal is cut.")
	p.Linef("\nTHE MOLD")
	p.Linef("  %d %s in %d %s, a shot takes %s: %.0f %% of what the barrel gives", r.Cavities, plural(r.Cavities, "cavity", "cavities"), r.Layout.Rows, Plural(r.Layout.Rows, "row"), units.Volume(r.ShotML), r.BarrelUse*100)
	if r.Limit != "" {
		p.Wrapped("  ", "no more than that: "+r.Limit)
	}
	p.Linef("  block %s along the runner, %s across, halves %.1f and %.1f mm thick", units.Length(r.BlockMM[0]), units.Length(r.BlockMM[1]), r.Layout.HalvesMM[0], r.Layout.HalvesMM[1])
	metal := fmt.Sprintf("%.2f kg of aluminium", r.BlockKg)
	if r.MetalCost > 0 {
		metal += fmt.Sprintf(", %.2f for the metal", r.MetalCost)
	}
	p.Linef("  %s; filling opens it with up to %.0f N: clamps must hold more", metal, r.OpeningN)
	p.Linef("  runner %.1f mm round, %.1f mm long, %s with gates; the sprue enters at the edge", r.Runner.DiameterMM, r.Runner.LengthMM, units.Volume(r.Runner.VolumeML))
	gates := make([]string, len(r.Runner.GatesMM))
	for i, g := range r.Runner.GatesMM {
		gates[i] = fmt.Sprintf("%.1f", g)
	}
	p.Wrapped("  ", fmt.Sprintf("gates from the sprue on: %s mm round, at the thick end; flows even to %.0f %%", strings.Join(gates, ", "), r.Runner.Uneven*100))
	p.Linef("  vents of %.2f x %.1f mm, one a cavity at its far end; other thin tips want their own", r.Practice.VentMM, r.Practice.VentWideMM)
	if r.OpenAfterS != nil {
		p.Linef("  open after %s, see bellyline cool", seconds(*r.OpenAfterS))
	}
	sizeBait(p, r)
	sizeParting(p, r)
	sizeSetups(p, r)
	for _, f := range r.Files {
		p.Linef("  saved: %s", f)
	}
	for _, w := range r.Warnings {
		p.Wrapped("  warning: ", w)
	}
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

func sizeBait(p *Page, r *layout.Result) {
	p.Linef("\nTHE BAIT")
	p.Linef("  cavity %s, %.2f mm long; the cold bait is %s along its nose", units.Volume(r.BaitML), r.LengthMM, units.Length(r.ColdMM))
	if r.Shrink > 0 {
		p.Linef("  scaled by %.4f for a shrinkage of %.2f %% in length, %.2f %% in volume", r.Scale, r.Shrink*100, r.ShrinkVolume*100)
	}
	t := r.Thickness
	p.Linef("  thinnest %.2f mm round %s", t.ThinnestMM, spot(t.ThinnestAtMM))
	p.Linef("  thickest %.2f mm round %s", t.ThickestMM, spot(t.ThickestAtMM))
	rows := [][]string{{"thickness", "skin"}}
	for _, b := range t.Histogram {
		rows = append(rows, []string{fmt.Sprintf("%.1f to %.1f mm", b.FromMM, b.ToMM), fmt.Sprintf("%.0f mm2", b.AreaMM2)})
	}
	p.Table(rows)
}

func sizeParting(p *Page, r *layout.Result) {
	p.Linef("\nWHERE IT PARTS  (the first is taken; --pull takes another)")
	rows := [][]string{{"pull", "", "plane at", "undercut", "outline strays", "colour line in it"}}
	for _, c := range r.Partings {
		rows = append(rows, []string{direction(c.Pull), c.Name, fmt.Sprintf("%.2f mm", c.HeightMM+0), fmt.Sprintf("%.1f mm2", c.UndercutMM2), fmt.Sprintf("%.2f mm", c.UnevenMM), yes(c.ColourLine)})
	}
	p.Table(rows)
}

func sizeSetups(p *Page, r *layout.Result) {
	p.Linef("\nCOMPARED")
	rows := [][]string{{"barrel", "cavities", "shot", "barrel use", "baits/h", "waste/bait", "refills/100", "block", "fits"}}
	for _, s := range r.Setups {
		fits := "yes"
		if !s.Fits {
			fits = "no"
		}
		rows = append(rows, []string{fmt.Sprintf("%.0f mL", s.BarrelML), fmt.Sprint(s.Cavities), fmt.Sprintf("%.1f mL", s.ShotML), fmt.Sprintf("%.0f %%", s.BarrelUse*100),
			fmt.Sprintf("%.0f", s.BaitsPerHour), fmt.Sprintf("%.2f mL", s.WastePerML), fmt.Sprintf("%.1f", s.RefillsPer100), fmt.Sprintf("%.2f kg", s.BlockKg), fits})
	}
	p.Table(rows)
}
