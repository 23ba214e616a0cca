// Package document puts results into words, once: steps of work with rows of amounts,
// sentences and cautions. Text, the printed card and the bench's page are made of what
// stands here. It computes nothing.
package document

import (
	"fmt"
	"math"

	"bellyline/cavity/units"
	"bellyline/laminate"
)

// Document is a pour in the order of the work.
type Document struct {
	Title    string
	Head     []string
	Always   []string // cautions that hold for every step
	Colours  []string // from the belly up
	Steps    []Step
	Warnings []string
	Picture  *Picture // nil without a model of the bait
}

// Step is one step of the work, or what is told after them.
type Step struct {
	Number   int // from 1; 0: told, not done
	Title    string
	Cautions []string
	Blocks   []Block
	Turns    bool // the block is turned to a side: its face is drawn
	OffSheet bool // has no room on one sheet of paper
}

// Form is how the rows of a block stand.
type Form string

// The forms.
const (
	Lines    Form = "lines"    // each amount behind its label
	Columns  Form = "columns"  // labels above the amounts
	Brief    Form = "brief"    // the same; only what is large in both systems
	Measures Form = "measures" // a line each: what to measure, of what, how much that weighs
)

// Block is a sentence, or rows of amounts.
type Block struct {
	Text     string // a sentence; empty: rows
	Care     bool   // a sentence not to be missed
	Form     Form
	Title    string
	Rows     []Row
	Small    bool // of many alike: set small on paper
	OffSheet bool
}

// Row is the amounts of one colour, or of something else that has a name or none.
type Row struct {
	Name   string
	Colour bool // Name is a colour's
	Cells  []Cell
}

// Cell is one amount. Key is its place in the JSON of the result, empty for mere words.
type Cell struct {
	Key, Label string
	units.Pair
	Large bool
	Boxes int // to tick on paper, when they are not too many
}

// Plain says whether the row is mere words.
func (r Row) Plain() bool {
	for _, c := range r.Cells {
		if c.Key != "" {
			return false
		}
	}
	return true
}

func newStep(number int, title string, at ...laminate.Step) Step {
	s := Step{Number: number, Title: title}
	for _, a := range at {
		s.Cautions = append(s.Cautions, laminate.CautionsAt(a)...)
	}
	return s
}

func (s *Step) add(b Block) {
	if b.Text != "" || len(b.Rows) > 0 {
		s.Blocks = append(s.Blocks, b)
	}
}

func (s *Step) say(format string, args ...any) {
	s.add(Block{Text: fmt.Sprintf(format, args...)})
}

// note says what a sheet of paper has no room for.
func (s *Step) note(format string, args ...any) {
	s.add(Block{Text: fmt.Sprintf(format, args...), OffSheet: true})
}

func (s *Step) rows(form Form, rows ...Row) { s.add(Block{Form: form, Rows: rows}) }

func colour(name string, cells ...Cell) Row { return Row{Name: name, Colour: true, Cells: cells} }

func (c Cell) large() Cell { c.Large = true; return c }

func volume(key, label string, ml float64) Cell {
	return Cell{Key: key, Label: label, Pair: units.Volume(ml).Pair()}
}

func length(key, label string, mm float64) Cell {
	return Cell{Key: key, Label: label, Pair: units.Length(mm).Pair()}
}

// height is exact to a hundredth, as models have it.
func height(key, label string, mm float64) Cell {
	return Cell{Key: key, Label: label, Pair: units.Pair{Metric: fmt.Sprintf("%.2f mm", math.Round(mm*100)/100+0)}}
}

// bound is a mass to a hundredth of a gram, as scales for baits show it.
func bound(key, label string, g float64) Cell {
	return Cell{Key: key, Label: label, Pair: units.Pair{Metric: fmt.Sprintf("%.2f g", g), US: units.Mass(g).Pair().US}}
}

func mass(key, label string, g float64) Cell {
	return Cell{Key: key, Label: label, Pair: units.Mass(g).Pair()}
}

func degrees(key, label string, c float64) Cell {
	return Cell{Key: key, Label: label, Pair: units.Celsius(c).Pair()}
}

func area(key, label string, mm2 float64) Cell {
	return Cell{Key: key, Label: label, Pair: AreaPair(mm2, 0)}
}

// AreaPair shows an area with so many digits behind its point, in square inches two more.
func AreaPair(mm2 float64, digits int) units.Pair {
	const inch2 = float64(units.Inch * units.Inch)
	return units.Pair{Metric: fmt.Sprintf("%.*f mm²", digits, mm2), US: fmt.Sprintf("%.*f in²", digits+2, mm2/inch2)}
}

// number is what has no second system.
func number(key, label, text string) Cell {
	return Cell{Key: key, Label: label, Pair: units.Pair{Metric: text}}
}

func count(key, label string, n int) Cell { return number(key, label, fmt.Sprint(n)) }

func grams(g float64) string { return fmt.Sprintf("%.0f g", g) }

func share(key, label string, s float64) Cell { return number(key, label, units.ShareText(s)) }

// word is mere words.
func word(text string) Cell { return number("", "", text) }

// Plural is a word for n things.
func Plural(n int, word string) string {
	if n == 1 {
		return word
	}
	return word + "s"
}

func cavities(n int) string {
	if n == 1 {
		return "cavity"
	}
	return "cavities"
}
