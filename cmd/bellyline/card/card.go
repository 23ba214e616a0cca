// Package card prints a document as one page of paper: HTML that needs no network,
// readable in black and white and with gloves on. It computes nothing.
package card

import (
	_ "embed"
	"html/template"
	"io"
	"strings"

	"bellyline/cmd/bellyline/document"
	"bellyline/cmd/bellyline/plain"
	"bellyline/cmd/bellyline/svg"
	"bellyline/laminate"
)

//go:embed card.html
var page string

var sheet = template.Must(template.New("card").Funcs(template.FuncMap{
	"plain":    plain.Line,
	"upper":    func(s string) string { return strings.ToUpper(plain.Line(s)) },
	"hatch":    func(i int) string { return [...]string{"lines", "dots", "cross", "blank-chip"}[i%4] },
	"boxes":    func(n int) []struct{} { return make([]struct{}, n) },
	"byColour": func(b document.Block) bool { return b.Rows[0].Colour },
}).Parse(page))

// Write writes the card of a pour, with a picture where there is a model of the bait.
func Write(w io.Writer, p *laminate.Pour) error {
	d := document.Pour(p)
	var picture strings.Builder
	if err := draw(&picture, d.Picture); err != nil {
		return err
	}
	return sheet.Execute(w, struct {
		*document.Document
		Drawn   template.HTML // all text in it is escaped by svg
		Crowded bool          // set smaller, for one sheet
	}{d, template.HTML(picture.String()), crowded(d)})
}

// draw draws where two streams put a line, or the colours as they are poured.
func draw(w io.Writer, p *document.Picture) error {
	switch {
	case p == nil:
		return nil
	case p.Across != nil:
		return svg.Sides(w, p.Views, p.Across)
	case p.Lands != nil:
		return svg.Card(w, p.Views, p.Lands)
	}
	return svg.Views(w, p.Views)
}

// A card with more colours, heatings that are set small, or longer notes and warnings in
// letters, does not fit on a sheet at its usual size.
const (
	roomyColours = 2
	roomyLetters = 480
)

func crowded(d *document.Document) bool {
	letters, small := 0, false
	for _, w := range d.Warnings {
		letters += len(w)
	}
	for _, s := range d.Steps {
		for _, b := range s.Blocks {
			small = small || b.Small
			if s.Number == 0 && !b.OffSheet {
				letters += len(b.Text)
			}
		}
	}
	return len(d.Colours) > roomyColours || small || letters > roomyLetters
}
