package bench

import (
	"context"
	"fmt"
	"slices"
	"sync"

	"bellyline/cavity"
	"bellyline/cavity/hollow"
	"bellyline/cmd/bellyline/files"
	"bellyline/cmd/bellyline/shop"
	"bellyline/laminate"
	"bellyline/mesh"
	"bellyline/mesh/mend"
)

// reading is how a model is taken: what STL does not say.
type reading struct {
	Half bool   `json:"half"` // it is a mold half
	Unit string `json:"unit"`
	Back string `json:"back"`
	Nose string `json:"nose"`
	Mend bool   `json:"mend"`
}

// work is one model or mold file, opened. Nothing in it changes but its memory of
// answers.
type work struct {
	*shop.Opened
	source  *shop.Source
	reading reading
	text    []byte // of the mold file, read as reading says
	// looksLikeHalf tells that a model without a mold file may be a mold half.
	looksLikeHalf bool
	shape         *shape // nil when there is nothing to draw

	lines      []laminate.Line // of the mold file, hinges found
	long, wide [2]float64      // reach of the bait along its nose direction, and to its left

	mu     sync.Mutex
	recent map[string]*files.Mold // by the changed keys of the mold file
}

// open opens a source; progress may be nil. A model that encloses no volume is no error:
// the work shows where it is broken.
func open(ctx context.Context, s *shop.Source, ask *reading, progress func(done, total int64)) (*work, error) {
	w := &work{source: s, recent: map[string]*files.Mold{}}
	if err := w.takeReading(ask); err != nil {
		return nil, err
	}
	opts := shop.Options{Text: w.text, Broken: true, AsHalf: w.reading.Half, Mend: mend.Options{Allow: w.reading.Mend}, Progress: progress}
	var err error
	if w.Opened, err = shop.Open(ctx, s, opts); err != nil {
		return nil, err
	}
	if w.Surface != nil {
		w.shape = newShape(w.Surface)
	}
	if w.Half != nil {
		return w, nil
	}
	if w.Measured != nil && len(w.Measured.Problems) > 0 {
		w.shape.light(w.Drawn)
	}
	if s.Starter {
		w.looksLikeHalf = looksLikeHalf(ctx, w.Drawn)
	}
	if w.Job.Cavity != nil {
		w.long, w.wide = reach(w.Job.Cavity)
	}
	return w, w.findTilt(ctx)
}

// reach returns where a bait begins and ends along its nose direction, made square to
// its back, and to its left.
func reach(c *cavity.Cavity) (long, wide [2]float64) {
	f, err := c.Frame()
	if err != nil {
		return long, wide
	}
	long[0], long[1] = c.Mesh.Span(f.Nose)
	wide[0], wide[1] = c.Mesh.Span(f.Left)
	return long, wide
}

// takeReading puts what the page says of the model into the mold file.
func (w *work) takeReading(ask *reading) error {
	w.text = w.source.Text()
	m, err := w.read(w.text)
	if err != nil {
		return err
	}
	if ask != nil && m.Model != nil {
		values := map[string]string{}
		for key, v := range map[string]string{"unit": ask.Unit, "back": ask.Back, "nose": ask.Nose} {
			if v != "" {
				values[key] = files.Scalar(v)
			}
		}
		if w.text, err = files.Rewrite(shop.MoldKey, w.text, values); err != nil {
			return err
		}
		if m, err = w.read(w.text); err != nil {
			return err
		}
		w.reading.Half = ask.Half
	}
	if ask != nil {
		w.reading.Mend = ask.Mend
	}
	if m := m.Model; m != nil {
		w.reading.Unit, w.reading.Back, w.reading.Nose = m.Unit.String(), files.DirectionText(m.Back), files.DirectionText(m.Nose)
	}
	return nil
}

// read reads a text of the mold file, which must be one that the page can show.
func (w *work) read(text []byte) (*files.Mold, error) {
	m, err := w.source.Read(text)
	if err != nil {
		return nil, err
	}
	for _, l := range m.Lines {
		if kind := l.Kind(); kind == laminate.KindCore || kind == laminate.KindSkin {
			return nil, fmt.Errorf("%s: %w", w.source.Name, errNotDrawn(kind))
		}
	}
	const mostColours = 3 // that the page has hatches for
	if len(m.Colours) > mostColours {
		return nil, fmt.Errorf("%s: the bench shows up to %d colours, this mold file has %d; ask bellyline pour", w.source.Name, mostColours, len(m.Colours))
	}
	return m, nil
}

// largestGuess is how many facets a model may have to be looked at for what it is.
const largestGuess = 300_000

// looksLikeHalf tells whether cavities open in a flat face of a model.
func looksLikeHalf(ctx context.Context, m *mesh.Mesh) bool {
	if len(m.Triangles) > largestGuess {
		return false
	}
	half, err := hollow.Find(ctx, m, hollow.Options{})
	return err == nil && slices.ContainsFunc(half.Hollows, func(h hollow.Hollow) bool { return h.Kind == hollow.Cavity })
}

// isBroken tells that there is a model of a bait, and that it encloses nothing.
func (w *work) isBroken() bool { return w.Measured != nil && w.Job.Cavity == nil }
