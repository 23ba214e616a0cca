package show

import (
	"fmt"
	"slices"
	"strings"

	"bellyline/cavity/units"
	"bellyline/cmd/bellyline/document"
	"bellyline/laminate"
	"bellyline/laminate/order"
)

// OrderText prints the plan of an order, in the order of the work.
func OrderText(p *Page, r *order.Plan) {
	p.Linef("%s", strings.ToUpper(r.Name))
	p.Linef("%d %s; %s at the bench, %s trimming and packing", len(r.Heatings), document.Plural(len(r.Heatings), "heating"), clock(r.PourS), clock(r.HandleS))
	p.Linef("Times are hours and minutes from the start.")
	planLines(p, r)
	planShopping(p, r)
	p.Linef("\nHEATINGS")
	groups := r.HeatingGroups()
	for _, h := range groups[:min(mostHeatings, len(groups))] {
		planHeating(p, h)
	}
	if more := len(groups) - mostHeatings; more > 0 {
		p.Linef("  and %d other kinds; --json has every one", more)
	}
	planRounding(p, r.Rounding)
	planAccounts(p, r)
	planCost(p, r)
	p.warnAndCaution(r.Warnings, r.Cautions)
}

// mostHeatings is more than a shop heats in a week: a longer list is for programs.
const mostHeatings = 200

// clock prints seconds as hours and minutes: "1:05".
func clock(s float64) string {
	minutes := int(s/60 + 0.5)
	return fmt.Sprintf("%d:%02d", minutes/60, minutes%60)
}

func planLines(p *Page, r *order.Plan) {
	p.Linef("\nTHE BAITS")
	rows := [][]string{{"", "ordered", "molds", "shots", "warm up", "scrap", "spare", "weight", "cool"}}
	for _, l := range r.Lines {
		rows = append(rows, []string{l.Name, fmt.Sprint(l.Ordered), fmt.Sprintf("%d of %d", l.Molds, l.Cavities), fmt.Sprint(l.Shots),
			fmt.Sprint(l.WarmUps), fmt.Sprint(l.Scrap), fmt.Sprint(l.Spare), fmt.Sprintf("%.1f g", l.BaitG), clock(l.LastS)})
	}
	p.Table(rows)
	p.Wrapped("  ", "Molds: how many, of how many cavities. Cool: when the last bait can be taken out. A shot that warms a mold up is one more, and all of its baits are rejects.")
	for _, l := range r.Lines {
		if l.Molds < l.MoldsGiven {
			p.Wrapped("  ", fmt.Sprintf("%s: %d of its %d molds; to warm up another costs more than it saves.", l.Name, l.Molds, l.MoldsGiven))
		}
	}
}

func planShopping(p *Page, r *order.Plan) {
	p.Linef("\nSHOPPING, OR HAVE READY")
	var rows [][]string
	for _, b := range append(append([]order.Bought{}, r.Shopping.Plastisol...), r.Shopping.Additives...) {
		rows = append(rows, []string{b.Name, units.Mass(b.MassG).String(), b.Text})
	}
	if r.Shopping.Bags > 0 {
		rows = append(rows, []string{"bags", fmt.Sprint(r.Shopping.Bags)})
	}
	p.Table(rows)
}

func planHeating(p *Page, h *order.HeatingGroup) {
	if len(h.Numbers) == 1 {
		p.Linef("  %d  begin %s, hot %s, shot by %s", h.Numbers[0], clock(h.StartS), clock(h.ReadyS), clock(h.DoneS))
	} else {
		p.Wrapped("  ", fmt.Sprintf("Heatings %s, alike: begin %s; hot %s later, shot by %s later", numbers(h.Numbers), starts(h.StartsS), minutes(h.ReadyS-h.StartS), minutes(h.DoneS-h.StartS)))
	}
	var rows [][]string
	for _, c := range h.Cups {
		rows = append(rows, []string{"  " + strings.ToUpper(c.Name), c.CupsText, "plastisol", fmt.Sprintf("%.0f g", c.PlastisolG)})
		for _, d := range c.Doses {
			if c.Cups > 0 {
				rows = append(rows, []string{"", d.Measure, d.Additive, d.Weigh, string(d.When)})
			}
		}
		if c.BackG > 0 {
			rows = append(rows, []string{"", "", "leftovers of it", gramsBetween(c.BackLeastG, c.BackMostG)})
		}
		if c.MixedG > 0 {
			rows = append(rows, []string{"", "", "mixed trimmings", gramsBetween(c.MixedLeastG, c.MixedMostG)})
		}
	}
	p.Table(rows)
	for _, c := range h.Cups {
		p.Wrapped("    ", fmt.Sprintf("%s to %s%s", strings.ToUpper(c.Name), units.Celsius(c.HeatToC), stands(c.Cup, h.Heating.Cups)))
	}
	for _, f := range h.Fills {
		text := fmt.Sprintf("%s: %d %s from %d %s", f.Name, f.Shots, document.Plural(f.Shots, "shot"), f.Molds, document.Plural(f.Molds, "mold"))
		if len(h.Numbers) == 1 {
			text += fmt.Sprintf(", the first at %s, the last mold cool at %s", clock(f.FirstS), clock(f.FreeS))
		} else {
			text += " each time"
		}
		switch {
		case f.WarmUps == 1:
			text += "; the first warms it up"
		case f.WarmUps > 1:
			text += fmt.Sprintf("; the first %d warm up", f.WarmUps)
		}
		p.Wrapped("    ", text)
	}
	text := fmt.Sprintf("Draw the barrels full %d %s.", h.Refills, document.Plural(h.Refills, "time"))
	if h.WindowS != nil {
		text += fmt.Sprintf(" Hot enough for %s.", minutes(*h.WindowS))
	}
	p.Linef("    %s", text)
}

// numbers prints "2 to 4, 6, 9 and 10".
func numbers(list []int) string {
	var runs []string
	for i := 0; i < len(list); {
		k := i
		for k+1 < len(list) && list[k+1] == list[k]+1 {
			k++
		}
		runs = append(runs, document.Run(laminate.HeatingRun{First: list[i], Last: list[k]}))
		i = k + 1
	}
	return strings.Join(runs, ", ")
}

// mostStarts is how many times of day fit into a line or two.
const mostStarts = 12

func starts(list []float64) string {
	var at []string
	for _, s := range list[:min(mostStarts, len(list))] {
		at = append(at, clock(s))
	}
	text := strings.Join(at, ", ")
	if len(list) > mostStarts {
		text += fmt.Sprintf(" and so on, the last %s", clock(list[len(list)-1]))
	}
	return text
}

// gramsBetween prints "37 g", or "35 to 39 g".
func gramsBetween(least, most float64) string {
	if whole(least) == whole(most) {
		return grams(most)
	}
	return whole(least) + " to " + grams(most)
}

// stands says what becomes of a cup until all are hot.
func stands(c order.Cup, all []order.Cup) string {
	turn := "first"
	if slices.ContainsFunc(all, func(o order.Cup) bool { return o.WaitS > c.WaitS }) {
		turn = "next"
	}
	switch {
	case c.WaitS == 0:
		return ""
	case c.ReadyC == nil:
		return ", " + turn + ": it stands " + minutes(c.WaitS)
	}
	return fmt.Sprintf(", %s: it stands %s and is then at %s", turn, minutes(c.WaitS), units.Celsius(*c.ReadyC))
}

func minutes(s float64) string { return fmt.Sprintf("%.1f min", s/60) }

func planAccounts(p *Page, r *order.Plan) {
	p.Linef("\nWHERE THE PLASTIC GOES  (grams, with additives)")
	in := [][]string{{"from", "bought", "before", "mixed"}}
	out := [][]string{{"to", "ordered", "spare", "mixed", "left over", "too old"}}
	for _, a := range r.Colours {
		in = append(in, []string{a.Name, whole(a.FreshG), whole(a.BroughtG), whole(a.MixedInG)})
		out = append(out, []string{a.Name, whole(a.BaitsG), whole(a.SpareG), whole(a.ToMixedG), whole(a.ShelfG), whole(a.TooOldG)})
	}
	p.Table(in)
	p.Linef("")
	p.Table(out)
	p.Wrapped("  ", "Before is what was left over from earlier days. Left over is one colour: heat it again. Too old has been heated as often as it may be. Trimmings of two colours never go back into either.")
	m := r.Mixed
	if m.InG > 0 {
		p.Linef("  Mixed trimmings: %s in, %s used again, %s left, %s too old.", grams(m.InG), grams(m.OutG), grams(m.LeftG), grams(m.TooOldG))
	}
}

func whole(x float64) string { return fmt.Sprintf("%.0f", x) }

func grams(g float64) string { return fmt.Sprintf("%.0f g", g) }

func planCost(p *Page, r *order.Plan) {
	if r.Cost == nil {
		return
	}
	c := r.Cost
	p.Linef("\nCOST  (%s)", r.Money)
	rows := [][]string{{"", "plastic", "bags", "labour", "tax", "together", "a bait", "a pack"}}
	for _, l := range r.Lines {
		pack := "-"
		if l.Cost.PerPack != nil {
			pack = money(*l.Cost.PerPack)
		}
		rows = append(rows, []string{l.Name, money(l.Cost.Plastic), money(l.Cost.Bags), money(l.Cost.Labour), money(l.Cost.Tax), money(l.Cost.Total), money(l.Cost.PerBait), pack})
	}
	rows = append(rows, []string{"all", money(c.Plastic), money(c.Bags), money(c.Labour), money(c.Tax), money(c.Total), "", ""})
	p.Table(rows)
	rows = [][]string{}
	for _, a := range r.Colours {
		rows = append(rows, []string{a.Name, a.CupsText, money(a.Cost)})
	}
	p.Linef("  Plastic by colour:")
	p.Table(rows)
}

func money(x float64) string { return fmt.Sprintf("%.2f", x) }

// ComparisonText prints two plans side by side.
func ComparisonText(p *Page, r *order.Comparison) {
	rows := [][]string{{"", r.A.Name, r.B.Name}}
	for _, d := range r.Differences {
		rows = append(rows, []string{d.What, figure(d.A, d.Unit, r.A.Money), figure(d.B, d.Unit, r.B.Money)})
	}
	p.Table(rows)
}

func figure(x *float64, unit, moneyWord string) string {
	if x == nil {
		return "not known"
	}
	switch unit {
	case "s":
		return clock(*x)
	case "mL":
		return units.Volume(*x).String()
	case "g":
		return units.Mass(*x).String()
	case "money":
		return money(*x) + " " + moneyWord
	}
	return fmt.Sprintf("%.0f", *x)
}
