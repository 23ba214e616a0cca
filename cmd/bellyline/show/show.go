// Package show prints results as text for people and as JSON for programs. It
// computes nothing: every number is in the result that it is given.
package show

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"bellyline/cmd/bellyline/plain"
)

// Result prints a result as one JSON object, or as text by the given printer.
func Result[T any](w io.Writer, asJSON bool, result T, text func(*Page, T)) error {
	if !asJSON {
		page := &Page{}
		text(page, result)
		_, err := io.WriteString(w, page.String())
		return err
	}
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(result)
}

// Page collects lines and tables of text. Whatever comes from files is stripped
// of what could steer a terminal.
type Page struct{ buf bytes.Buffer }

// Linef adds a line, or several with line breaks between them.
func (p *Page) Linef(format string, args ...any) {
	for line := range strings.SplitSeq(fmt.Sprintf(format, args...), "\n") {
		p.buf.WriteString(strings.TrimRight(plain.Line(line), " ") + "\n")
	}
}

// Table adds rows with their columns lined up, indented by two.
func (p *Page) Table(rows [][]string) {
	var lined bytes.Buffer
	w := tabwriter.NewWriter(&lined, 0, 0, 2, ' ', 0)
	for _, row := range rows {
		fmt.Fprint(w, "  ")
		for _, cell := range row {
			fmt.Fprint(w, plain.Line(cell), "\t") // the last cell too, or its column is not lined up
		}
		fmt.Fprintln(w)
	}
	w.Flush()
	p.Linef("%s", strings.TrimSuffix(lined.String(), "\n"))
}

// String is the page as it is printed.
func (p *Page) String() string { return p.buf.String() }

// Wrapped adds a paragraph of at most 88 columns behind a mark.
func (p *Page) Wrapped(mark, text string) {
	const width = 88
	indent := strings.Repeat(" ", len([]rune(mark)))
	line := mark
	empty := true
	for _, word := range strings.Fields(text) {
		if !empty && len([]rune(line))+1+len([]rune(word)) > width {
			p.Linef("%s", line)
			line, empty = indent, true
		}
		if !empty {
			line += " "
		}
		line, empty = line+word, false
	}
	p.Linef("%s", line)
}

// warnAndCaution ends a page: what to look at, and what can hurt.
func (p *Page) warnAndCaution(warnings, cautions []string) {
	for i, w := range warnings {
		if i == 0 {
			p.Linef("\nWARNINGS")
		}
		p.Wrapped("  ! ", w)
	}
	p.Linef("\nCAUTIONS")
	for _, c := range cautions {
		p.Wrapped("  * ", c)
	}
}
