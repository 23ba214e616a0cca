package bench

import (
	"strings"

	"bellyline/cavity/units"
	"bellyline/cmd/bellyline/document"
	"bellyline/laminate"
)

// group is one step of the pour card as the page shows it.
type group struct {
	Number   int      `json:"number"` // 0: told, not done
	Title    string   `json:"title"`
	Cautions []string `json:"cautions"` // of this step; they come first
	Text     []string `json:"text"`
	Rows     []row    `json:"rows"`
}

// row is one number in both systems. Key is its place in the JSON of pour, in whose
// unit Metric is.
type row struct {
	Key    string `json:"key"`
	Colour string `json:"colour"` // empty: of all
	Label  string `json:"label"`
	Metric string `json:"metric"`
	US     string `json:"us"`
	Large  bool   `json:"large"`
}

// sheet puts the card of a pour into rows.
func sheet(p *laminate.Pour) []group {
	list := []group{}
	for _, s := range document.Pour(p).Steps {
		g := group{Number: s.Number, Title: s.Title, Cautions: append([]string{}, s.Cautions...), Text: []string{}, Rows: []row{}}
		for _, b := range s.Blocks {
			if b.Text != "" {
				g.Text = append(g.Text, b.Text)
			}
			for _, r := range b.Rows {
				g.take(b.Title, r)
			}
		}
		list = append(list, g)
	}
	return list
}

// take adds a row a number, or a line of text for mere words.
func (g *group) take(title string, r document.Row) {
	if r.Plain() {
		var words []string
		for _, c := range r.Cells {
			words = append(words, strings.TrimSpace(c.Label+" "+c.String()))
		}
		text := strings.Join(words, ", ") + "."
		if r.Name != "" {
			text = r.Name + ": " + text
		}
		g.Text = append(g.Text, text)
		return
	}
	for _, c := range r.Cells {
		line, before := row{Key: c.Key, Metric: c.Metric, US: c.US, Large: c.Large}, []string{}
		if title != "" {
			before = append(before, title)
		}
		if r.Colour {
			line.Colour = r.Name
		} else if r.Name != "" {
			before = append(before, r.Name)
		}
		line.Label = strings.Join(append(before, c.Label), ": ")
		g.Rows = append(g.Rows, line)
	}
}

func (g *group) add(key, colour, label string, p units.Pair) *row {
	g.Rows = append(g.Rows, row{Key: key, Colour: colour, Label: label, Metric: p.Metric, US: p.US})
	return &g.Rows[len(g.Rows)-1]
}
