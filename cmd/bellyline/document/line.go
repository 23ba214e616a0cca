package document

import (
	"fmt"

	"bellyline/cavity/units"
	"bellyline/laminate"
	"bellyline/laminate/stream"
)

func line(p *laminate.Pour) Step {
	s := newStep(0, "Where the line lands")
	l := p.Line
	switch {
	case l == nil:
		return s
	case p.Across != nil:
		s.say("Nowhere: as the block stands the colours do not lie one over the other.")
		return s
	case l.Layers != nil:
		for i := len(l.Layers) - 1; i >= 0; i-- {
			at := l.Layers[i]
			s.asked(fmt.Sprintf("line.layers.%d.", i), at.Below+" to "+at.Above, "all below to all above", at.Course)
		}
	default:
		s.asked("line.", "", p.Setup[0].Name+" to "+p.Setup[1].Name, l.Course)
		stroke(&s, p)
		lands(&s, l.Lands)
		agree(&s, p.Drive, l)
	}
	if l.SplitAreaMM2 == nil {
		s.note("Where that lies in the bait takes a model of it.")
		return s
	}
	s.add(Block{Form: Lines, OffSheet: true, Rows: []Row{{Cells: []Cell{
		area("line.split_area_mm2", "the colours join over", *l.SplitAreaMM2), length("line.line_length_mm", "the line on the skin", *l.LineLengthMM),
		count("line.pieces", "pieces of the join", *l.Pieces),
	}}}})
	return s
}

func (s *Step) asked(key, title, of string, l laminate.Course) {
	row := func(name, word string, part float64, up, at *float64) Row {
		first := share(key+word+"_share", of, part)
		r := Row{Name: name, Cells: []Cell{first}}
		if up != nil {
			r.Cells = append(r.Cells, length(key+word+"_up_mm", "above the lowest point", *up), height(key+word+"_mm", "in the model", *at))
		}
		return r
	}
	delivered := row("delivered", "delivered", l.DeliveredShare, l.DeliveredUpMM, l.DeliveredMM)
	delivered.Cells[0].Large = true
	s.add(Block{Form: Columns, Title: title, Rows: []Row{row("drawn", "asked", l.AskedShare, l.AskedUpMM, l.AskedMM), delivered}})
}

// leastSkinMM is what would not be seen, nor printed as more than 0.0.
const leastSkinMM = 0.05

// lands says what the flow makes of the line: volumes stay as delivered.
func lands(s *Step, l *laminate.Lands) {
	if l == nil {
		return
	}
	s.rows(Lines, Row{Name: "as they flow", Cells: []Cell{
		length("line.lands.mean_up_mm", "mean above the lowest point", l.MeanUpMM), height("line.lands.lowest_mm", "in the model", l.LowestMM), height("line.lands.highest_mm", "to", l.HighestMM),
	}})
	if l.SkinOver != "" && l.SkinMM >= leastSkinMM {
		s.add(Block{Form: Lines, OffSheet: true, Rows: []Row{colour(l.SkinOver, length("line.lands.skin_mm", "skin of the other colour that the front lays over it", l.SkinMM),
			number("line.lands.skin_face_share", "of that face", fmt.Sprintf("%.0f %%", l.SkinShare*100)))}})
	}
	s.say("Elasticity, freezing, swirl at the gate and air are left out: a trial shot decides.")
}

// agree tells what barrels make of the drawn line under one handle; of ganged ones the
// warnings tell.
func agree(s *Step, drive laminate.Drive, l *laminate.LineResult) {
	a := l.Agree
	if a == nil || drive != laminate.Independent {
		return
	}
	text := fmt.Sprintf("Under one handle %s takes bores with areas as %.2f to 1", units.ShareText(l.AskedShare), a.BoreAreaRatio)
	for i, b := range a.Bores {
		text += map[int]string{0: ": ", 1: ", or "}[i] + fmt.Sprintf("%s for %s beside %.1f mm", units.Length(b.BoreMM), b.Colour, a.Bores[1-i].IsMM)
	}
	s.note("%s.", text)
	if !a.Any {
		s.note("These barrels, pushed one by one, can give this mold %s to %s.", units.ShareText(a.LeastShare), units.ShareText(a.MostShare))
	}
}

// Picture is what the colours look like in the bait.
type Picture struct {
	Views  *laminate.Views
	Across *laminate.SideBySide // nil for a laminate
	Lands  *stream.Result       // where two streams put the line, when that is known
	Key    string               // which line is which
}

func pictureOf(p *laminate.Pour) *Picture {
	if p.Views == nil {
		return nil
	}
	c := &Picture{Views: p.Views, Across: p.Across, Key: "sections from the tail on"}
	if p.Line != nil && p.Line.Lands != nil {
		c.Lands = p.Line.Lands.Streams
	}
	switch {
	case p.Across != nil:
		c.Key = "how many baits of a shot get which colour"
	case c.Lands != nil:
		c.Key = "bold: where the line lands; dashed: as drawn; " + c.Key
	case p.Views.Asked != nil:
		c.Key = "bold: as delivered; dashed: as drawn; " + c.Key
	case len(p.Views.Lines) > 0 && p.Line.Needs == "":
		c.Key = "bold: as delivered; " + c.Key
	}
	return c
}
