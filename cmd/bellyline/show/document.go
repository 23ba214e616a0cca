package show

import (
	"strings"

	"bellyline/cmd/bellyline/document"
	"bellyline/laminate"
)

// PourText prints the pour card.
func PourText(p *Page, r *laminate.Pour) {
	d := document.Pour(r)
	p.Linef("%s", strings.ToUpper(d.Title))
	for _, l := range d.Head {
		p.Linef("%s", l)
	}
	for _, c := range d.Always {
		p.Wrapped("  * ", c)
	}
	for _, s := range d.Steps {
		p.step(s)
	}
	for i, w := range d.Warnings {
		if i == 0 {
			p.Linef("\nWARNINGS")
		}
		p.Wrapped("  ! ", w)
	}
}

func (p *Page) step(s document.Step) {
	if s.Number > 0 {
		p.Linef("\n%d  %s", s.Number, strings.ToUpper(s.Title))
	} else {
		p.Linef("\n%s", strings.ToUpper(s.Title))
	}
	for _, c := range s.Cautions {
		p.Wrapped("  * ", c)
	}
	for _, b := range s.Blocks {
		p.block(b)
	}
}

func (p *Page) block(b document.Block) {
	if b.Text != "" {
		mark := "  "
		if b.Care {
			mark = "  ! "
		}
		p.Wrapped(mark, b.Text)
		return
	}
	indent := ""
	if b.Title != "" {
		p.Linef("  %s", b.Title)
		indent = "  "
	}
	switch b.Form {
	case document.Lines:
		p.lines(b.Rows)
	case document.Measures:
		p.Table(measureRows(b.Rows, indent))
	default:
		p.Table(columnRows(b, indent))
	}
}

// lines lines up what has a name, and runs on what has none.
func (p *Page) lines(rows []document.Row) {
	var table [][]string
	for _, r := range rows {
		between := " "
		if r.Name == "" {
			between = ": "
		}
		var cells []string
		for _, c := range r.Cells {
			cells = append(cells, strings.TrimSpace(c.Label+between+c.String()))
		}
		if r.Name == "" {
			p.Wrapped("  ", capital(strings.Join(cells, "; "))+".")
			continue
		}
		table = append(table, append([]string{rowName(r)}, cells...))
	}
	if len(table) > 0 {
		p.Table(table)
	}
}

func measureRows(rows []document.Row, indent string) [][]string {
	var table [][]string
	for _, r := range rows {
		for i, c := range r.Cells {
			name := ""
			if i == 0 {
				name = rowName(r)
			}
			table = append(table, []string{indent + name, c.Lead(), c.Label, c.Other()})
		}
	}
	return table
}

func columnRows(b document.Block, indent string) [][]string {
	head := []string{""}
	for _, c := range b.Rows[0].Cells {
		head = append(head, c.Label)
	}
	table := [][]string{head}
	for _, r := range b.Rows {
		row := []string{indent + rowName(r)}
		for _, c := range r.Cells {
			text := c.String()
			if b.Form == document.Brief && !c.Large {
				text = c.Lead()
			}
			row = append(row, text)
		}
		table = append(table, row)
	}
	return table
}

func rowName(r document.Row) string {
	if r.Colour {
		return strings.ToUpper(r.Name)
	}
	return r.Name
}

func capital(text string) string { return strings.ToUpper(text[:1]) + text[1:] }
