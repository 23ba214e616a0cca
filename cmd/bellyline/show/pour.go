package show

import (
	"fmt"
	"strings"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

// PourText prints the pour card, in the order of the work.
func PourText(p *Page, r *laminate.Pour) {
	p.Linef("%s", strings.ToUpper(r.BaitName))
	p.Linef("mold: %s, %d %s; injector: %s", r.Mold, r.Cavities, cavities(r.Cavities), r.Injector)
	p.Linef("%d %s = %d %s in %d %s", r.Order.Baits, Plural(r.Order.Baits, "bait"), r.Order.Shots, Plural(r.Order.Shots, "shot"),
		r.HeatingCount(), Plural(r.HeatingCount(), "heating"))
	pourSetup(p, r)
	pourCups(p, r)
	pourHeat(p, r)
	pourShoot(p, r)
	pourWeigh(p, r)
	pourLine(p, r)
	pourShot(p, r)
	pourWater(p, r)
	pourOrder(p, r)
	pourNotes(p, r.Notes)
	p.warnAndCaution(r.Warnings, r.Cautions)
}

// pourNotes prints what the mold file says besides.
func pourNotes(p *Page, notes string) {
	if notes == "" {
		return
	}
	p.Linef("\nNOTES")
	for line := range strings.SplitSeq(notes, "\n") {
		p.Wrapped("  ", line)
	}
}

func cavities(n int) string {
	if n == 1 {
		return "cavity"
	}
	return "cavities"
}

func heading(p *Page, n int, title string) { p.Linef("\n%d  %s", n, title) }

func pourSetup(p *Page, r *laminate.Pour) {
	heading(p, 1, "BARRELS AND MOLD")
	var rows [][]string
	for _, c := range r.Setup {
		row := []string{strings.ToUpper(c.Name), "in the " + barrel(r, c.Barrel), c.Material}
		if c.Half != "" {
			row = append(row, "lies in the "+c.Half)
		}
		rows = append(rows, row)
	}
	p.Table(rows)
	if r.Across != nil {
		pourAcross(p, r.Across)
	} else if len(r.Setup) > 1 {
		p.Linef("  Turn the block until the %s barrel's stream faces the %s.", r.Setup[0].Barrel, r.Setup[0].Half)
	}
}

// barrel names one of a pair; an only barrel is the injector.
func barrel(r *laminate.Pour, name string) string {
	if len(r.Setup) == 1 {
		return "injector"
	}
	return name + " barrel"
}

func pourHeat(p *Page, r *laminate.Pour) {
	heading(p, 3, "HEAT")
	var rows [][]string
	for _, c := range r.Setup {
		rows = append(rows, []string{strings.ToUpper(c.Name), "to " + units.Celsius(c.PourC).String(), "never past " + units.Celsius(c.CeilingC).String()})
	}
	p.Table(rows)
	if len(r.Setup) > 1 {
		p.Linef("  The %s no more than %s apart when they are shot.", map[bool]string{true: "two", false: "colours"}[len(r.Setup) == 2], units.DifferenceText(r.MaxApartC))
	}
	pourAfter(p, r)
}

func pourShoot(p *Page, r *laminate.Pour) {
	heading(p, 4, "DRAW AND SHOOT")
	rows := [][]string{{"", "draw", "", "plunger back to", "one mold moves it"}}
	for _, b := range r.Load.Barrels {
		row := []string{strings.ToUpper(b.Colour), units.Volume(b.DrawML).String(), "into the " + barrel(r, b.Barrel), "", ""}
		if b.DrawMM > 0 {
			row[3], row[4] = units.Length(b.DrawMM).String(), units.Length(b.TravelMM).String()
		}
		rows = append(rows, row)
	}
	p.Table(rows)
	p.Wrapped("  ", fmt.Sprintf("Air out%s. A draw fills %d %s; draw %d %s in all.", plungers(r), r.Load.ShotsPerLoad, Plural(r.Load.ShotsPerLoad, "mold"),
		r.Load.Loads, Plural(r.Load.Loads, "time")))
	if len(r.Setup) > 1 {
		p.Linef("  %s runs out first.", strings.ToUpper(r.Load.Limiting))
		pourPushes(p, r)
	}
}

func pourWeigh(p *Page, r *laminate.Pour) {
	heading(p, 5, "WEIGH")
	if r.Across != nil {
		weighSides(p, r.Across)
		return
	}
	p.Linef("  A bait: %s.", commas(units.Mass(r.Bait.MassG).String(), FromWeighing(r)))
	p.Linef("  %.2f g if it draws nothing while it shrinks, %.2f g if it draws all.", r.Bait.MassUnfedG, r.Bait.MassFedG)
	p.Linef("  Lighter than %.2f g: air in it, or not filled. Cold it is %.3f g/mL.", r.Bait.RejectBelowG, r.Bait.DensityGML)
	weighedBaits(p, r)
	if d := r.DoseFor; d != nil {
		spoons := ""
		if d.PerCup != "" {
			spoons = ", about " + d.PerCup
		}
		p.Wrapped("  ", fmt.Sprintf("For a bait of %s: %.1f g of %s%s, to each cup of every colour, in place of what the card says of it.", units.Mass(d.BaitG), d.PerCupG, d.Additive, spoons))
	}
}
