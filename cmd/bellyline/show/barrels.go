package show

import (
	"fmt"
	"strings"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

// pourAcross says first of all that this is no laminate, and what each side gets.
func pourAcross(p *Page, s *laminate.SideBySide) {
	p.Linef("  NO LAMINATE: the colours flow side by side.")
	var rows [][]string
	for _, side := range s.Sides {
		rows = append(rows, []string{fmt.Sprintf("%d %s", side.Cavities, cavities(side.Cavities)), side.Lies, side.Gets})
	}
	p.Table(rows)
	p.Wrapped("  ", "F"+strings.TrimPrefix(s.Remedy, "f")+".")
}

// weighSides gives the weights of baits that are not alike.
func weighSides(p *Page, s *laminate.SideBySide) {
	var rows [][]string
	for _, side := range s.Sides {
		rows = append(rows, []string{fmt.Sprintf("%d %s", side.Cavities, cavities(side.Cavities)), side.Lies, units.Mass(side.MassG).String(), fmt.Sprintf("reject below %.2f g", side.MassUnfedG)})
	}
	p.Table(rows)
}

// Ahead names the colour that comes first, when somebody has looked.
func Ahead(s *laminate.UnequalStart) string {
	if len(s.Alone) == 1 {
		return strings.ToUpper(s.Alone[0].Colour)
	}
	return "the one"
}

// plungers says how those of a pair stand before the shot.
func plungers(r *laminate.Pour) string {
	switch {
	case r.Start != nil:
		return fmt.Sprintf(", and make both colours come at once: %s is %s ahead (see the warnings)", Ahead(r.Start), units.Length(r.Start.ApartMM))
	case r.Drive == laminate.Independent && len(r.Setup) > 1:
		return ", each plunger back to its own mark"
	case len(r.Setup) > 1:
		return ", plungers level"
	}
	return ""
}

// pourPushes tells how plungers that are pushed one by one go, and when the one is
// refilled more often than the other.
func pourPushes(p *Page, r *laminate.Pour) {
	if r.Line != nil && r.Line.Agree != nil && r.Drive == laminate.Independent && len(r.Line.Agree.Pushes) > 1 {
		each := r.Line.Agree.Pushes
		var others []string
		for _, push := range each[1:] {
			others = append(others, fmt.Sprintf("%.2f mm of %s", push.PerFirst, strings.ToUpper(push.Colour)))
		}
		p.Linef("  Push for each 1 mm of %s %s.", strings.ToUpper(each[0].Colour), strings.Join(others, " and "))
	}
	alike := true
	var each []string
	for _, b := range r.Load.Barrels {
		alike = alike && b.Refills == r.Load.Barrels[0].Refills
		each = append(each, fmt.Sprintf("%s gives %d %s, %d %s in all", strings.ToUpper(b.Colour), b.ShotsFull, Plural(b.ShotsFull, "mold"), b.Refills, Plural(b.Refills, "draw")))
	}
	if !alike {
		p.Wrapped("  ", "Refilled by itself, a full barrel of "+strings.Join(each, "; one of ")+".")
	}
}

// pourAgree tells what barrels make of the drawn line under one handle.
func pourAgree(p *Page, drive laminate.Drive, l *laminate.LineResult) {
	a := l.Agree
	if a == nil || l.Layers != nil || drive != laminate.Independent { // of ganged ones the warnings tell
		return
	}
	text := fmt.Sprintf("Under one handle %s takes bores with areas as %.2f to 1", units.ShareText(l.AskedShare), a.BoreAreaRatio)
	for i, b := range a.Bores {
		text += map[int]string{0: ": ", 1: ", or "}[i] + fmt.Sprintf("%s for %s beside %.1f mm", units.Length(b.BoreMM), b.Colour, a.Bores[1-i].IsMM)
	}
	p.Wrapped("  ", text+".")
	if !a.Any {
		p.Linef("  These barrels, pushed one by one, can give this mold %s to %s.", units.ShareText(a.LeastShare), units.ShareText(a.MostShare))
	}
}
