// Package card prints a pour as one page of paper: HTML that needs no network,
// readable in black and white and with gloves on. It computes nothing.
package card

import (
	_ "embed"
	"html/template"
	"io"
	"strings"

	"bellyline/cavity/units"
	"bellyline/cmd/bellyline/plain"
	"bellyline/cmd/bellyline/show"
	"bellyline/cmd/bellyline/svg"
	"bellyline/laminate"
)

//go:embed card.html
var page string

// mostBoxes is how many boxes to tick have room on one sheet.
const mostBoxes = 60

// largestGroups is how many groups of heatings are set in large type.
const largestGroups = 1

var sheet = template.Must(template.New("card").Funcs(template.FuncMap{
	"plain":    plain.Line,
	"upper":    func(s string) string { return strings.ToUpper(plain.Line(s)) },
	"plural":   show.Plural,
	"degrees":  func(c float64) string { return units.Celsius(c).String() },
	"apart":    units.DifferenceText,
	"volume":   func(ml float64) string { return units.Volume(ml).String() },
	"length":   func(mm float64) string { return units.Length(mm).String() },
	"mass":     func(g float64) string { return units.Mass(g).String() },
	"share":    units.ShareText,
	"heatings": show.HeatingsName,
	"weighed":  show.FromWeighing,
	"lines":    func(s string) []string { return strings.Split(s, "\n") },
	"cautions": func(step string) []string { return laminate.CautionsAt(laminate.Step(step)) },
	"hatch":    func(i int) string { return [...]string{"lines", "dots", "cross", "blank-chip"}[i%4] },
	"few":      func(n int) bool { return n <= mostBoxes },
	"boxes":    func(n int) []struct{} { return make([]struct{}, n) },
	"large": func(groups []laminate.HeatingGroup) []laminate.HeatingGroup {
		return groups[:min(largestGroups, len(groups))]
	},
	"small": func(groups []laminate.HeatingGroup) []laminate.HeatingGroup {
		return groups[min(largestGroups, len(groups)):]
	},
	"ahead":  func(s *laminate.UnequalStart) string { return plain.Line(show.Ahead(s)) },
	"before": func(c laminate.HeatingColour) []laminate.HeatingDose { return c.DosesWhen("before heating") },
	"after":  func(c laminate.HeatingColour) []laminate.HeatingDose { return c.DosesWhen("after heating") },
}).Parse(page))

// Write writes the card of a pour, with a picture where there is a model of the bait.
func Write(w io.Writer, p *laminate.Pour) error {
	var picture strings.Builder
	if err := draw(&picture, p); err != nil {
		return err
	}
	return sheet.Execute(w, struct {
		*laminate.Pour
		Picture template.HTML // all text in it is escaped by svg
		Key     string
		Crowded bool // set smaller, for one sheet
	}{p, template.HTML(picture.String()), key(p), crowded(p)})
}

// draw draws where two streams put a line, or the colours as they are poured.
func draw(w io.Writer, p *laminate.Pour) error {
	v := p.Views
	switch {
	case v == nil:
	case p.Across != nil:
		return svg.Sides(w, v, p.Across)
	case landed(p):
		return svg.Card(w, v, p.Line.Lands.Streams)
	default:
		return svg.Views(w, v)
	}
	return nil
}

func landed(p *laminate.Pour) bool {
	return p.Line != nil && p.Line.Lands != nil && p.Line.Lands.Streams != nil
}

// key tells the lines of the picture apart.
func key(p *laminate.Pour) string {
	switch {
	case p.Views == nil:
		return ""
	case p.Across != nil:
		return "how many baits of a shot get which colour"
	case landed(p):
		return "bold: where the line lands; dashed: as drawn; sections from the tail on"
	case p.Views.Asked != nil:
		return "bold: as delivered; dashed: as drawn; sections from the tail on"
	case len(p.Views.Lines) > 0 && p.Line.Needs == "":
		return "bold: as delivered; sections from the tail on"
	}
	return "sections from the tail on"
}

// A card with more colours, groups of heatings, or longer warnings in letters, does not
// fit on a sheet at its usual size.
const (
	roomyColours  = 2
	roomyGroups   = 1
	roomyWarnings = 400
)

func crowded(p *laminate.Pour) bool {
	letters := len(p.Notes)
	for _, w := range p.Warnings {
		letters += len(w)
	}
	return len(p.Setup) > roomyColours || len(p.HeatingGroups()) > roomyGroups || letters > roomyWarnings
}
