package document

import (
	"fmt"
	"strings"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

// Pour puts a pour into words.
func Pour(p *laminate.Pour) *Document {
	d := &Document{
		Title: p.BaitName,
		Head: []string{
			fmt.Sprintf("mold: %s, %d %s; injector: %s", p.Mold, p.Cavities, cavities(p.Cavities), p.Injector),
			fmt.Sprintf("%d %s = %d %s in %d %s", p.Order.Baits, Plural(p.Order.Baits, "bait"), p.Order.Shots, Plural(p.Order.Shots, "shot"),
				p.HeatingCount(), Plural(p.HeatingCount(), "heating")),
		},
		Always:   laminate.CautionsAt(laminate.Always),
		Warnings: p.Warnings, Picture: pictureOf(p),
	}
	for _, s := range []Step{barrels(p), measure(p), heat(p), draw(p), shoot(p), weigh(p), line(p), shot(p), inWater(p), order(p), notes(p)} {
		if len(s.Blocks) > 0 {
			d.Steps = append(d.Steps, s)
		}
	}
	for _, c := range p.Setup {
		d.Colours = append(d.Colours, c.Name)
	}
	return d
}

func barrels(p *laminate.Pour) Step {
	s := newStep(1, "Barrels and mold")
	var rows []Row
	for _, c := range p.Setup {
		r := colour(c.Name, word("in the "+barrel(p, c.Barrel)), word(c.Material))
		if c.Half != "" {
			r.Cells = append(r.Cells, word("lies in the "+c.Half))
		}
		rows = append(rows, r)
	}
	s.rows(Lines, rows...)
	if p.Across != nil {
		across(&s, p.Across)
	} else if len(p.Setup) > 1 {
		s.Turns = len(p.Setup) == 2
		s.say("Turn the block until the %s barrel's stream faces the %s.", p.Setup[0].Barrel, p.Setup[0].Half)
	}
	return s
}

// barrel names one of a pair; an only barrel is the injector.
func barrel(p *laminate.Pour, name string) string {
	if len(p.Setup) == 1 {
		return "injector"
	}
	return name + " barrel"
}

// across says first of all that this is no laminate, and what each side gets.
func across(s *Step, a *laminate.SideBySide) {
	s.add(Block{Text: "NO LAMINATE: the colours flow side by side.", Care: true})
	var rows []Row
	for _, side := range a.Sides {
		rows = append(rows, Row{Name: fmt.Sprintf("%d %s", side.Cavities, cavities(side.Cavities)), Cells: []Cell{word(side.Lies), word(side.Gets)}})
	}
	s.rows(Lines, rows...)
	s.add(Block{Text: capital(a.Remedy) + ".", Care: true})
}

func heat(p *laminate.Pour) Step {
	s := newStep(3, "Heat", laminate.Heat)
	var rows []Row
	for i, c := range p.Setup {
		key := fmt.Sprintf("setup.%d.", i)
		rows = append(rows, colour(c.Name, degrees(key+"pour_c", "to", c.PourC).large(), degrees(key+"ceiling_c", "never past", c.CeilingC)))
	}
	s.rows(Lines, rows...)
	if len(p.Setup) > 1 {
		s.rows(Lines, Row{Cells: []Cell{{Key: "max_apart_c", Label: "apart at most when they are shot", Pair: units.Difference(p.MaxApartC)}}})
	}
	hotDoses(&s, p)
	return s
}

// mostBoxes is how many boxes to tick have room on one sheet.
const mostBoxes = 60

func shoot(p *laminate.Pour) Step {
	s := newStep(5, "Shoot", laminate.Shoot)
	s.rows(Lines, Row{Cells: []Cell{ticked("order.shots", "shots", p.Order.Shots), count("cavities", "baits in each", p.Cavities)}},
		Row{Cells: []Cell{ticked("", "heated and shot", p.HeatingCount())}})
	return s
}

func ticked(key, label string, n int) Cell {
	c := count(key, label, n)
	if n <= mostBoxes {
		c.Boxes = n
	}
	return c
}

func shot(p *laminate.Pour) Step {
	s := newStep(0, "What one shot takes, hot")
	s.OffSheet = true
	var rows []Row
	for i, c := range p.Shot.Colours {
		key := fmt.Sprintf("shot.colours.%d.", i)
		rows = append(rows, colour(c.Name,
			volume(key+"bait_ml", "in the baits", c.BaitML), volume(key+"topup_ml", "topping up", c.TopUpML), volume(key+"feed_ml", "runner, sprue", c.FeedML),
			volume(key+"total_ml", "together", c.TotalML).large(), mass(key+"mass_g", "weighs", c.MassG),
			number(fmt.Sprintf("shots_per_cup.%d.shots", i), "shots to a cup", fmt.Sprintf("%.2f", p.ShotsPerCup[i].Shots))))
	}
	s.rows(Brief, rows...)
	s.rows(Lines, Row{Cells: []Cell{volume("shot.volume_ml", "all colours", p.Shot.VolumeML)}})
	return s
}

func inWater(p *laminate.Pour) Step {
	s := Step{OffSheet: true}
	if len(p.Water.Falls) == 0 { // baits that do not weigh alike
		return s
	}
	s.Title = "In water, at " + units.Celsius(p.Water.Falls[0].TempC).String()
	if p.Water.HookG > 0 {
		s.Title += fmt.Sprintf(", with %s of hook", units.Mass(p.Water.HookG))
	}
	speeds := false
	var rows []Row
	for _, f := range p.Water.Falls {
		r := Row{Name: f.Water, Cells: []Cell{word(string(f.Way))}}
		if f.LevelMMS > 0 {
			speeds = true
			r.Cells = append(r.Cells, word("level "+speed(f.LevelMMS)), word("nose first "+speed(f.NoseFromMMS)+" and more"))
		}
		rows = append(rows, r)
	}
	s.rows(Lines, rows...)
	if speeds {
		s.say("Speeds give or take %.0f %%; a bait that flutters is slower.", p.Water.Spread*100)
	}
	return s
}

// notes are what the mold file says besides.
func notes(p *laminate.Pour) Step {
	s := newStep(0, "Notes")
	for line := range strings.SplitSeq(p.Notes, "\n") {
		s.add(Block{Text: line})
	}
	return s
}

// speed prints mm/s as people say it.
func speed(mmS float64) string {
	return fmt.Sprintf("%.1f cm/s (%.1f in/s)", mmS/10, mmS/units.Inch.MM())
}
