package document

import (
	"fmt"
	"strings"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

func draw(p *laminate.Pour) Step {
	s := newStep(4, "Draw")
	var rows []Row
	for i, b := range p.Load.Barrels {
		key := fmt.Sprintf("load.barrels.%d.", i)
		r := colour(b.Colour, volume(key+"draw_ml", "draw", b.DrawML).large())
		if b.DrawMM > 0 {
			r.Cells = append(r.Cells, length(key+"draw_mm", "plunger back to", b.DrawMM), length(key+"travel_mm", "one mold moves it", b.TravelMM))
		}
		rows = append(rows, r)
	}
	s.rows(Columns, rows...)
	s.rows(Lines, Row{Cells: []Cell{count("load.shots_per_load", "molds to a draw", p.Load.ShotsPerLoad), count("load.loads", "draws in all", p.Load.Loads)}})
	text := "Air out" + plungers(p) + "."
	if len(p.Setup) > 1 {
		text += " " + strings.ToUpper(p.Load.Limiting) + " runs out first."
	}
	s.add(Block{Text: text, Care: p.Start != nil})
	if len(p.Setup) > 1 {
		pushes(&s, p)
	}
	return s
}

// plungers says how those of a pair stand before the shot.
func plungers(p *laminate.Pour) string {
	switch {
	case p.Start != nil:
		return fmt.Sprintf(", and make both colours come at once: %s is %s ahead (see the warnings)", ahead(p.Start), units.Length(p.Start.ApartMM))
	case p.Drive == laminate.Independent && len(p.Setup) > 1:
		return ", each plunger back to its own mark"
	case len(p.Setup) > 1:
		return ", plungers level"
	}
	return ""
}

// ahead names the colour that comes first, when somebody has looked.
func ahead(s *laminate.UnequalStart) string {
	if len(s.Alone) == 1 {
		return strings.ToUpper(s.Alone[0].Colour)
	}
	return "the one"
}

// pushes tells how plungers that are pushed one by one go, and when the one is
// refilled more often than the other.
func pushes(s *Step, p *laminate.Pour) {
	if p.Line != nil && p.Line.Agree != nil && p.Drive == laminate.Independent && len(p.Line.Agree.Pushes) > 1 {
		each := p.Line.Agree.Pushes
		var others []string
		for _, push := range each[1:] {
			others = append(others, fmt.Sprintf("%.2f mm of %s", push.PerFirst, strings.ToUpper(push.Colour)))
		}
		s.say("Push for each 1 mm of %s %s.", strings.ToUpper(each[0].Colour), strings.Join(others, " and "))
	}
	alike := true
	var each []string
	for _, b := range p.Load.Barrels {
		alike = alike && b.Refills == p.Load.Barrels[0].Refills
		each = append(each, fmt.Sprintf("%s gives %d %s, %d %s in all", strings.ToUpper(b.Colour), b.ShotsFull, Plural(b.ShotsFull, "mold"), b.Refills, Plural(b.Refills, "draw")))
	}
	if !alike {
		s.say("Refilled by itself, a full barrel of %s.", strings.Join(each, "; one of "))
	}
}
