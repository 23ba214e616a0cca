package bench

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"bellyline/cmd/bellyline/card"
	"bellyline/cmd/bellyline/files"
	"bellyline/cmd/bellyline/shop"
	"bellyline/laminate"
	"bellyline/mesh/stl"
)

// download is a file that the page saves.
type download struct {
	name, kind string
	write      func(w io.Writer) error
}

// errNotKnown is returned for a file that the bench cannot make.
var errNotKnown = errors.New("the bench makes no such file")

// download makes one of the files that the page offers. All that can go wrong is
// found out before the first byte is written.
func (w *work) download(ctx context.Context, what string, s settings) (download, error) {
	switch what {
	case "mold":
		text, err := w.moldText(s)
		return download{w.fileName(".yaml"), "application/yaml", writes(text)}, err
	case "shop":
		if !w.source.Starter {
			return download{}, errNotKnown
		}
		return download{"shop.yaml", "application/yaml", writes(shop.StarterShop())}, nil
	case "card":
		p, err := w.pour(ctx, s)
		return download{w.fileName("-card.html"), "text/html; charset=utf-8", func(out io.Writer) error { return card.Write(out, p) }}, err
	case "line":
		lines, err := s.lines()
		if err != nil {
			return download{}, err
		}
		return download{w.fileName("-line.yaml"), "application/yaml", writes([]byte(files.LinesText(lines)))}, nil
	case "belly", "middle", "back":
		return w.body(ctx, what, s)
	}
	return download{}, errNotKnown
}

func writes(text []byte) func(io.Writer) error {
	return func(w io.Writer) error { _, err := w.Write(text); return err }
}

func (w *work) pour(ctx context.Context, s settings) (*laminate.Pour, error) {
	job, err := w.jobFor(s)
	if err != nil {
		return nil, err
	}
	job.Streams = true
	return job.Pour(ctx)
}

// body is the part of the bait that one colour takes, as the line is drawn.
func (w *work) body(ctx context.Context, which string, s settings) (download, error) {
	split, err := w.splitBy(ctx, s)
	if err != nil {
		return download{}, err
	}
	last := len(split.Colours) - 1
	if which == "middle" && last < 2 {
		return download{}, errors.New("two colours have no middle one")
	}
	bodies, err := split.Bodies(w.Job.Cavity)
	if err != nil {
		return download{}, err
	}
	i := map[string]int{"belly": 0, "middle": 1, "back": last}[which]
	colour := split.Colours[i].Name
	if last == 1 {
		colour = w.Mold.Colours[i].Name
	}
	return download{w.fileName("-" + fileWord(colour) + ".stl"), "model/stl", func(out io.Writer) error { return stl.Write(out, colour, bodies[i]) }}, nil
}

// fileName is the bait's name made into a file's.
func (w *work) fileName(end string) string { return fileWord(w.Mold.Bait) + end }

// fileWord keeps letters and digits of a name; all else becomes one dash.
func fileWord(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9') })
	if len(words) == 0 {
		return "bait"
	}
	return strings.Join(words, "-")
}

// disposition is the header that makes a download of an answer. The name holds
// nothing that would need quoting.
func (d download) disposition() string { return fmt.Sprintf(`attachment; filename="%s"`, d.name) }
