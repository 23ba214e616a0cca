package show

import (
	"fmt"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

func pourLine(p *Page, r *laminate.Pour) {
	if r.Line == nil {
		return
	}
	l := r.Line
	if r.Across != nil {
		p.Linef("\nWHERE THE LINE LANDS")
		p.Linef("  Nowhere: as the block stands the colours do not lie one over the other.")
		return
	}
	if l.Layers != nil {
		pourLayers(p, l)
		return
	}
	p.Linef("\nWHERE THE LINE LANDS  (%s to %s)", r.Setup[0].Name, r.Setup[1].Name)
	rows := [][]string{
		{"drawn", units.ShareText(l.AskedShare), height(l.AskedUpMM, l.AskedMM)},
		{"delivered", units.ShareText(l.DeliveredShare), height(l.DeliveredUpMM, l.DeliveredMM)},
	}
	p.Table(rows)
	pourStroke(p, r)
	if l.Lands != nil {
		pourLands(p, l.Lands)
	}
	pourAgree(p, r.Drive, l)
	if l.SplitAreaMM2 != nil {
		p.Linef("  The colours join over %.0f mm2; the line on the skin is %.0f mm long.", *l.SplitAreaMM2, *l.LineLengthMM)
	} else {
		p.Linef("  Where that lies in the bait takes a model of it.")
	}
}

// pourLayers tells where the lines between three colours and more lie.
func pourLayers(p *Page, l *laminate.LineResult) {
	p.Linef("\nWHERE THE LINES LAND  (all below to all above)")
	for i := len(l.Layers) - 1; i >= 0; i-- {
		line := l.Layers[i]
		p.Linef("  %s to %s", line.Below, line.Above)
		p.Table([][]string{
			{"  drawn", units.ShareText(line.AskedShare), height(line.AskedUpMM, line.AskedMM)},
			{"  delivered", units.ShareText(line.DeliveredShare), height(line.DeliveredUpMM, line.DeliveredMM)},
		})
	}
	if l.SplitAreaMM2 != nil {
		p.Linef("  The colours join over %.0f mm2; the lines on the skin are %.0f mm long.", *l.SplitAreaMM2, *l.LineLengthMM)
	} else {
		p.Linef("  Where that lies in the bait takes a model of it.")
	}
}

// pourLands says what the flow makes of the line: volumes stay as delivered.
func pourLands(p *Page, l *laminate.Lands) {
	text := fmt.Sprintf("As they flow, the colours part %s above the lowest point in the mean, from %s to %s mm in the model.", units.Length(l.MeanUpMM), signed(l.LowestMM), signed(l.HighestMM))
	if l.SkinOver != "" && l.SkinMM >= 0.05 {
		text += fmt.Sprintf(" The front lays some %.1f mm of the other colour over %.0f %% of the %s.", l.SkinMM, l.SkinShare*100, l.SkinOver)
	}
	p.Wrapped("  ", text+" Elasticity, freezing, swirl at the gate and air are left out: a trial shot decides.")
}

func height(up, inModel *float64) string {
	if up == nil {
		return ""
	}
	return fmt.Sprintf("%s above the lowest point (%.2f mm in the model)", units.Length(*up), *inModel)
}

func pourShot(p *Page, r *laminate.Pour) {
	p.Linef("\nWHAT ONE SHOT TAKES  (hot; %s in all)", units.Volume(r.Shot.VolumeML))
	rows := [][]string{{"", "baits", "topping up", "runner, sprue", "together", "", "shots per cup"}}
	for i, c := range r.Shot.Colours {
		rows = append(rows, []string{c.Name, ml(c.BaitML), ml(c.TopUpML), ml(c.FeedML),
			units.Volume(c.TotalML).String(), units.Mass(c.MassG).String(), fmt.Sprintf("%.2f", r.ShotsPerCup[i].Shots)})
	}
	p.Table(rows)
}

func ml(v float64) string { return fmt.Sprintf("%.1f mL", v) }
