package shop

import (
	"context"
	"fmt"

	"bellyline/cavity"
	"bellyline/cavity/hollow"
	"bellyline/cmd/bellyline/files"
	"bellyline/laminate"
	"bellyline/mesh"
	"bellyline/mesh/mend"
)

// Options say how a source is opened. The zero value mends nothing that could change a
// volume, and refuses a bait that encloses none.
type Options struct {
	Mend     mend.Options
	Progress func(done, total int64)
	// Text is read instead of the source's mold file, whose models it must name.
	Text []byte
	// Broken lets a bait through that encloses no volume: its job then has no cavity.
	Broken bool
	// AsHalf takes the bait's model for a mold half, of which nothing is poured.
	AsHalf bool
}

// model says how a model of a unit is read.
func (o Options) model(read cavity.Options) cavity.Options {
	read.Mend, read.Progress = o.Mend, o.Progress
	return read
}

// Opened is a mold file with all that it names. Nothing in it changes.
type Opened struct {
	Mold *files.Mold
	// Job is ready to be poured.
	Job      laminate.Job
	Measured *cavity.Measurement // of the bait's model; nil when there is none
	Drawn    *mesh.Mesh          // the model as its file has it; nil when there is none
	Surface  *mesh.Mesh          // of the bait, as it was measured
	Half     *hollow.Half        // with AsHalf
}

// Open reads the models that a mold file names, mends and measures them, and makes its
// job. What is wrong with a model wraps the errors of stl, mend, cavity and hollow.
func Open(ctx context.Context, s *Source, opts Options) (*Opened, error) {
	o := &Opened{Mold: s.Mold}
	if opts.Text != nil {
		var err error
		if o.Mold, err = s.Read(opts.Text); err != nil {
			return nil, err
		}
	}
	o.Job = o.Mold.Job()
	if err := o.takeBait(ctx, s, opts); err != nil || o.Half != nil {
		return o, err
	}
	if err := o.takeHalves(ctx, s, opts); err != nil {
		return nil, err
	}
	return o, o.takeFeed(ctx, s, opts)
}

// takeBait opens the bait's own model.
func (o *Opened) takeBait(ctx context.Context, s *Source, opts Options) error {
	m := o.Mold.Model
	if m == nil {
		return nil
	}
	read := opts.model(cavity.Options{Unit: m.Unit})
	var err error
	if opts.AsHalf {
		o.Half, o.Drawn, err = s.bait.halfDrawn(ctx, read, hollow.Options{})
		o.Surface = o.Drawn
		return err
	}
	if o.Measured, o.Drawn, o.Surface, err = s.bait.Measure(ctx, read); err != nil {
		return err
	}
	if opts.Broken && o.Measured.FillVolumeMM3 == nil {
		return nil
	}
	o.Job.Cavity, err = o.Measured.Cavity(o.Surface, m.Back, m.Nose)
	return err
}

// takeHalves makes the bait of a mold file that names the mold's halves.
func (o *Opened) takeHalves(ctx context.Context, s *Source, opts Options) error {
	if o.Mold.Halves == nil {
		return nil
	}
	var found []*hollow.Half
	for _, m := range s.halves {
		half, err := m.Half(ctx, opts.model(cavity.Options{Unit: o.Mold.Halves.Unit}), hollow.Options{})
		if err != nil {
			return err
		}
		found = append(found, half)
	}
	if err := takeHalves(ctx, o.Mold, found, &o.Job); err != nil {
		return err
	}
	o.Surface = o.Job.Cavity.Mesh
	return nil
}

// takeFeed measures the parts of the feed that have models. What halves show comes
// before.
func (o *Opened) takeFeed(ctx context.Context, s *Source, opts Options) error {
	models := s.feed
	for _, part := range o.Mold.Feed {
		channel := part.Channel
		if part.Model != nil {
			found, _, _, err := models[0].Measure(ctx, opts.model(cavity.Options{Unit: part.Model.Unit}))
			if err != nil {
				return err
			}
			volume, err := found.FilledMM3()
			if err != nil {
				return err
			}
			channel.VolumeML = volume / 1000
			models = models[1:]
		}
		o.Job.Feed = append(o.Job.Feed, channel)
	}
	return nil
}

// JobOf is the job of a mold file that differs from the opened one in all but its models.
func (o *Opened) JobOf(m *files.Mold) laminate.Job {
	job := m.Job()
	job.Cavity, job.Feed = o.Job.Cavity, o.Job.Feed
	if m.Halves != nil { // it is for them to say
		job.Cavities = o.Job.Cavities
	}
	return job
}

// Pour works a job of the mold file out. A model of an odd size may be all there is to an
// error.
func (o *Opened) Pour(ctx context.Context, job laminate.Job) (*laminate.Pour, error) {
	pour, err := job.Pour(ctx)
	if err == nil {
		return pour, nil
	}
	if job.Cavity != nil && job.Cavity.SizeDoubt != "" {
		return nil, fmt.Errorf("%s: %w; %s", o.Mold.File, err, job.Cavity.SizeDoubt)
	}
	return nil, fmt.Errorf("%s: %w", o.Mold.File, err)
}
