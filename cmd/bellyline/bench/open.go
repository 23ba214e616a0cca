package bench

import (
	"context"
	"fmt"
	"slices"
	"sync"

	"bellyline/cavity"
	"bellyline/cavity/hollow"
	"bellyline/cmd/bellyline/files"
	"bellyline/cmd/bellyline/halves"
	"bellyline/laminate"
	"bellyline/mesh"
	"bellyline/mesh/mend"
	"bellyline/mesh/stl"
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
	source  *source
	reading reading
	text    []byte // of the mold file, read as reading says
	mold    *files.Mold

	job      laminate.Job        // with the cavity and the feed
	measured *cavity.Measurement // of the bait; nil when it was only weighed
	half     *hollow.Half        // nil unless it is a mold half
	// looksLikeHalf tells that a model without a mold file may be a mold half.
	looksLikeHalf bool
	shape         *shape // nil when there is nothing to draw

	lines      []laminate.Line // of the mold file, hinges found
	long, wide [2]float64      // reach of the bait along its nose direction, and to its left

	mu     sync.Mutex
	recent map[string]*files.Mold // by the changed keys of the mold file
}

// opener opens sources; progress may be nil.
type opener struct {
	progress func(done, total int64)
}

// open reads a source. A model that encloses no volume is no error: the work shows
// where it is broken.
func (o opener) open(ctx context.Context, s *source, ask *reading) (*work, error) {
	w := &work{source: s, recent: map[string]*files.Mold{}}
	if err := w.takeReading(ask); err != nil {
		return nil, err
	}
	w.job = w.mold.Job()
	if err := o.takeBait(ctx, w); err != nil {
		return nil, err
	}
	if err := o.takeHalves(ctx, w); err != nil {
		return nil, err
	}
	if w.half != nil {
		return w, nil
	}
	if err := w.findTilt(ctx); err != nil {
		return nil, err
	}
	if w.job.Cavity != nil {
		w.long, w.wide = reach(w.job.Cavity)
	}
	return w, o.takeFeed(ctx, w)
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
	w.text = w.source.set[moldKey]
	var err error
	if w.mold, err = w.read(w.text); err != nil {
		return err
	}
	if ask != nil && w.mold.Model != nil {
		values := map[string]string{}
		for key, v := range map[string]string{"unit": ask.Unit, "back": ask.Back, "nose": ask.Nose} {
			if v != "" {
				values[key] = files.Scalar(v)
			}
		}
		if w.text, err = files.Rewrite(moldKey, w.text, values); err != nil {
			return err
		}
		if w.mold, err = w.read(w.text); err != nil {
			return err
		}
		w.reading.Half, w.reading.Mend = ask.Half, ask.Mend
	}
	if m := w.mold.Model; m != nil {
		w.reading.Unit, w.reading.Back, w.reading.Nose = m.Unit.String(), directionText(m.Back), directionText(m.Nose)
	}
	return nil
}

// read reads a text of the mold file with the source's shop file.
func (w *work) read(text []byte) (*files.Mold, error) {
	set := files.Set{}
	for name, data := range w.source.set {
		set[name] = data
	}
	set[moldKey] = text
	m, err := set.ReadMold(moldKey)
	if err != nil {
		return nil, err
	}
	for _, l := range m.Lines {
		if kind := l.Kind(); kind == laminate.KindCore || kind == laminate.KindSkin {
			return nil, fmt.Errorf("%s: %w", w.source.name, errNotDrawn(kind))
		}
	}
	const mostColours = 3 // that the page has hatches for
	if len(m.Colours) > mostColours {
		return nil, fmt.Errorf("%s: the bench shows up to %d colours, this mold file has %d; ask bellyline pour", w.source.name, mostColours, len(m.Colours))
	}
	return m, nil
}

func (o opener) takeBait(ctx context.Context, w *work) error {
	if w.mold.Model == nil {
		return nil
	}
	model, err := w.source.bait.read(ctx, stl.ReadOptions{Unit: w.mold.Model.Unit, Progress: o.progress})
	if err != nil {
		return err
	}
	opts := cavity.Options{Unit: w.mold.Model.Unit, Mend: mend.Options{Allow: w.reading.Mend}}
	if w.reading.Half {
		if w.half, err = hollow.OpenModel(ctx, w.source.bait.label(), model, opts, hollow.Options{}); err != nil {
			return err
		}
		w.shape = newShape(model.Mesh)
		return nil
	}
	var surface *mesh.Mesh
	if w.measured, surface, err = cavity.MeasureModel(ctx, w.source.bait.label(), model, opts); err != nil {
		return err
	}
	w.shape = newShape(surface)
	if len(w.measured.Problems) > 0 {
		w.shape.light(model.Mesh)
	}
	if w.source.starter {
		w.looksLikeHalf = looksLikeHalf(ctx, model.Mesh)
	}
	if w.measured.FillVolumeMM3 == nil {
		return nil
	}
	w.job.Cavity, err = w.measured.Cavity(surface, w.mold.Model.Back, w.mold.Model.Nose)
	return err
}

// takeHalves makes the bait of a mold file that names the mold's halves.
func (o opener) takeHalves(ctx context.Context, w *work) error {
	if w.mold.Halves == nil {
		return nil
	}
	var found []*hollow.Half
	for _, m := range w.source.halves {
		read := cavity.Options{Unit: w.mold.Halves.Unit, Progress: o.progress}
		model, err := m.read(ctx, stl.ReadOptions{Unit: read.Unit, Progress: o.progress})
		if err != nil {
			return err
		}
		half, err := hollow.OpenModel(ctx, m.label(), model, read, hollow.Options{})
		if err != nil {
			return err
		}
		found = append(found, half)
	}
	if err := halves.Take(ctx, w.mold, found, &w.job); err != nil {
		return err
	}
	w.shape = newShape(w.job.Cavity.Mesh)
	return nil
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

func (o opener) takeFeed(ctx context.Context, w *work) error {
	models := w.source.feed
	for _, part := range w.mold.Feed {
		channel := part.Channel
		if part.Model != nil {
			read, err := models[0].read(ctx, stl.ReadOptions{Unit: part.Model.Unit, Progress: o.progress})
			if err != nil {
				return err
			}
			volume, err := cavity.FillVolumeOf(ctx, models[0].label(), read, cavity.Options{Unit: part.Model.Unit})
			if err != nil {
				return err
			}
			channel.VolumeML = volume / 1000
			models = models[1:]
		}
		w.job.Feed = append(w.job.Feed, channel)
	}
	return nil
}

// isBroken tells that there is a model of a bait, and that it encloses nothing.
func (w *work) isBroken() bool { return w.measured != nil && w.job.Cavity == nil }
