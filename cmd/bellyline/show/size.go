package show

import (
	"fmt"
	"strings"

	"bellyline/cavity/layout"
	"bellyline/cavity/units"

	"bellyline/cmd/bellyline/document"
)

// SizeText prints a mold as it could be cut, and what else was looked at.
func SizeText(p *Page, r *layout.Result) {
	p.Linef("%s", model(r.File))
	p.Wrapped("  ", "Hot plastisol burns and its fumes harm: the cautions on the pour card come before anything here. Sizes come from common practice: check them before metal is cut.")
	p.Linef("\nTHE MOLD")
	p.Linef("  %d %s in %d %s, a shot takes %s: %.0f %% of what the barrel gives", r.Cavities, plural(r.Cavities, "cavity", "cavities"), r.Layout.Rows, document.Plural(r.Layout.Rows, "row"), units.Volume(r.ShotML), r.BarrelUse*100)
	if r.Limit != "" {
		p.Wrapped("  ", "no more than these "+fmt.Sprint(r.Cavities)+": "+r.Limit)
	}
	p.Linef("  block %s along the runner, %s across", units.Length(r.BlockMM[0]), units.Length(r.BlockMM[1]))
	metal := fmt.Sprintf("%.2f kg of %s from stock", r.BlockKg, r.Practice.Stock.Metal)
	if !r.Layout.InStock {
		metal = fmt.Sprintf("%.2f kg of %s, and no bar of the stock is large enough", r.BlockKg, r.Practice.Stock.Metal)
	}
	if r.MetalCost > 0 {
		metal += fmt.Sprintf(", %s for the metal", strings.TrimSpace(fmt.Sprintf("%.2f %s", r.MetalCost, r.Money)))
	}
	p.Wrapped("  ", fmt.Sprintf("halves %.1f and %.1f mm thick; %s", r.Layout.HalvesMM[0], r.Layout.HalvesMM[1], metal))
	p.Linef("  filling these %d opens the mold with up to %.0f N: clamps must hold more", r.Cavities, r.OpeningN)
	p.Wrapped("  ", fmt.Sprintf("runner %.1f mm round, %.1f mm long, %s with gates; the sprue enters at the edge", r.Runner.DiameterMM, r.Runner.LengthMM, units.Volume(r.Runner.VolumeML)))
	gates := make([]string, len(r.Runner.GatesMM))
	for i, g := range r.Runner.GatesMM {
		gates[i] = fmt.Sprintf("%.1f", g)
	}
	p.Wrapped("  ", fmt.Sprintf("gates from the sprue on: %s mm round, at the thick end; flows even to %.0f %%", strings.Join(gates, ", "), r.Runner.Uneven*100))
	sizeTips(p, r)
	if r.OpenAfterS != nil {
		p.Linef("  open after %s, see bellyline cool", seconds(*r.OpenAfterS))
	}
	sizeBait(p, r)
	sizeParting(p, r)
	sizeSetups(p, r)
	sizePractice(p, r)
	for _, f := range r.Files {
		p.Linef("  saved: %s", f)
	}
	if r.RunnerSaved {
		p.Wrapped("  ", "the saved halves have cavities, runner and gates; vents, pins and bolts are drilled and cut along the drawing")
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
	p.Linef("  thinnest: a hundredth of the skin is under %.2f mm, as round %s", t.ThinnestMM, spot(t.ThinnestAtMM))
	p.Linef("  thickest %.2f mm round %s", t.ThickestMM, spot(t.ThickestAtMM))
	rows := [][]string{{"thickness", "skin"}}
	for _, b := range t.Histogram {
		rows = append(rows, []string{fmt.Sprintf("%.1f to %.1f mm", b.FromMM, b.ToMM), fmt.Sprintf("%.0f mm2", b.AreaMM2)})
	}
	p.Table(rows)
	p.Linef("  limits: under %.2g mm it does not fill, under %.2g mm it tears when it is pulled", t.Limits.FillMM, t.Limits.PullMM)
}

// sizeTips lists the ends of a bait, and whether air gets out of them.
func sizeTips(p *Page, r *layout.Result) {
	l := r.Layout
	p.Wrapped("  ", fmt.Sprintf("vents of %.2f x %.1f mm at %d of %d %s of each cavity: at the one farthest from the gate, and at every other that is thinner than %.1f mm", r.Practice.VentMM, r.Practice.VentWideMM, l.VentedTips(), len(l.Tips), document.Plural(len(l.Tips), "tip"), r.Practice.ThinTipMM))
	rows := [][]string{{"tip", "from the gate", "across", "thick", "vent"}}
	for i, t := range l.Tips {
		rows = append(rows, []string{fmt.Sprint(i + 1), fmt.Sprintf("%.1f mm", t.AtMM[1]), fmt.Sprintf("%.1f mm", t.AtMM[0]+0), fmt.Sprintf("%.1f mm", t.ThickMM), yes(t.Vented)})
	}
	p.Table(rows)
}

func sizeParting(p *Page, r *layout.Result) {
	p.Linef("\nWHERE IT PARTS  (* is taken; --parting N takes another)")
	rows := [][]string{{"", "pull", "", "plane at", "undercut", "outline over", "colour line", "against it"}}
	for _, c := range r.Partings {
		taken := " "
		if c.Number == r.Parting.Number {
			taken = "*"
		}
		line := "-"
		switch {
		case c.LineAwayMM != nil:
			line = fmt.Sprintf("%.2f mm away", *c.LineAwayMM)
		case c.Penalty.Line > 0:
			line = "on edge"
		}
		rows = append(rows, []string{fmt.Sprintf("%d%s", c.Number, taken), direction(c.Pull), c.Name, fmt.Sprintf("%.2f mm", c.HeightMM+0), fmt.Sprintf("%.1f mm2", c.UndercutMM2), fmt.Sprintf("%.2f mm", c.UnevenMM), line, fmt.Sprintf("%.1f", c.Penalty.Sum)})
	}
	p.Table(rows)
	p.Wrapped("  ", "against it: undercut in % of what is seen along the pull, plus the heights that the outline runs over and the colour line's distance from the plane, both in % of the bait's longest side; 100 for colours on edge. The sprue enters at the block's edge in the parting face, runner and gates lie half in each half.")
}

func sizeSetups(p *Page, r *layout.Result) {
	p.Linef("\nCOMPARED")
	rows := [][]string{{"injector", "cavities", "shot", "use", "baits/h", "cost", "lost", "refills", "block", "metal", "fits"}}
	var notes []string
	for _, s := range r.Setups {
		fits := "yes"
		if !s.Fits {
			fits = "no"
			notes = append(notes, fmt.Sprintf("%s, %d: %s", s.Injector, s.Cavities, s.Why))
		}
		rows = append(rows, []string{s.Injector, fmt.Sprint(s.Cavities), fmt.Sprintf("%.1f mL", s.ShotML), fmt.Sprintf("%.0f %%", s.BarrelUse*100),
			known("%.0f", s.BaitsPerHour), known("%.3f", s.CostPerBait), fmt.Sprintf("%.2f mL", s.WastePerML), known("%.1f", s.RefillsPer100),
			fmt.Sprintf("%.2f kg", s.BlockKg), known("%.2f", s.MetalCost), fits})
	}
	p.Table(rows)
	money := ""
	if r.Money != "" {
		money = "cost and metal in " + r.Money + "; "
	}
	p.Wrapped("  ", money+"use: of the barrel that empties first, by a shot; lost: what sets in runner and gates, hot, a bait; cost: of a bait, plastic, lost plastic and labour, as far as their prices are known, metal not in it; refills: for 100 baits; metal: what the block costs from stock")
	for _, n := range notes {
		p.Wrapped("  ", "does not fit: "+n)
	}
}

// known prints a number that is 0 when it is not known.
func known(format string, x float64) string {
	if x == 0 {
		return "-"
	}
	return fmt.Sprintf(format, x)
}

// sizePractice says which sizes nobody has told.
func sizePractice(p *Page, r *layout.Result) {
	x := r.Practice
	p.Linef("\nSIZES TAKEN")
	p.Wrapped("  ", r.Sources)
	p.Wrapped("  ", fmt.Sprintf("spacing %.1f mm, edge %.1f mm, floor %.1f mm, gate %.1f mm wide and %.1f mm long, least gate %.1f mm, pins %.1f mm, bolts %.1f mm, a block at most %.1f times as long as wide",
		x.SpacingMM, x.EdgeMM, x.FloorMM, x.GateMM, x.LandMM, x.LeastMM, x.PinMM, x.BoltMM, x.LongPerOne))
	p.Wrapped("  ", fmt.Sprintf("cutters %s mm; bars %s mm wide, %s mm thick", sizes(x.RunnersMM), sizes(x.Stock.WidthsMM), sizes(x.Stock.ThicksMM)))
}

// sizes is a list in a line.
func sizes(list []float64) string {
	var words []string
	for _, x := range list {
		words = append(words, strings.TrimSuffix(fmt.Sprintf("%.1f", x), ".0"))
	}
	return strings.Join(words, ", ")
}
