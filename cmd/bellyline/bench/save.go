package bench

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"bellyline/cmd/bellyline/card"
	"bellyline/laminate"
	"bellyline/mesh"
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
		if !w.source.starter {
			return download{}, errNotKnown
		}
		return download{"shop.yaml", "application/yaml", writes(starterShop)}, nil
	case "card":
		p, err := w.pour(ctx, s)
		return download{w.fileName("-card.html"), "text/html; charset=utf-8", func(out io.Writer) error { return card.Write(out, p) }}, err
	case "belly", "back":
		return w.body(ctx, what == "belly", s)
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

// body is the part of the bait below the wanted line, or above it.
func (w *work) body(ctx context.Context, belly bool, s settings) (download, error) {
	job, err := w.jobFor(s)
	if err != nil {
		return download{}, err
	}
	if job.Cavity == nil || len(job.Colours) != 2 {
		return download{}, errors.New("bodies need a model and two colours")
	}
	split, err := laminate.SplitBy(ctx, job.Cavity, []laminate.Line{job.Line}, 0)
	if err != nil {
		return download{}, err
	}
	bodies, err := split.Bodies(job.Cavity)
	if err != nil {
		return download{}, err
	}
	body, colour := bodies[0], job.Colours[0].Name
	if !belly {
		body, colour = bodies[1], job.Colours[1].Name
	}
	return download{w.fileName("-" + fileWord(colour) + ".stl"), "model/stl", func(out io.Writer) error { return mesh.Write(out, colour, body) }}, nil
}

// fileName is the bait's name made into a file's.
func (w *work) fileName(end string) string { return fileWord(w.mold.Bait) + end }

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
