package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"bellyline/cavity"
	"bellyline/cavity/cool"
	"bellyline/cavity/layout"
	"bellyline/cavity/units"
	"bellyline/cmd/bellyline/shop"
	"bellyline/cmd/bellyline/show"
	"bellyline/cmd/bellyline/svg"
	"bellyline/mesh"
	"bellyline/mesh/vector"
)

func sizeCommand() command {
	return command{
		name:    "size",
		summary: "a mold that is not cut yet: cavities, block, runner, gates, parting, time",
		usage:   "size MODEL (--barrel VOLUME | --shop FILE) [flags]",
		examples: []string{
			"size examples/ringgrub/bait.stl --barrel 120 --colours 2",
			"size bait.stl --barrel '6 fl oz' --barrel '8 fl oz' --largest '200 x 150 mm'",
			"size bait.stl --barrel 120 --length '5 in' --shrink 2.5% --svg layout.svg --save newmold",
			"size bait.stl --shop examples/shop.yaml --injector twin --colours 2 --compare 2,4,8",
		},
		prepare: func(c *call) func([]string) error {
			f := &sizeFlags{model: addModelFlags(c)}
			f.declare(c)
			return func(names []string) error { return runSize(c, f, names) }
		},
	}
}

func runSize(c *call, f *sizeFlags, names []string) error {
	if len(names) != 1 {
		return usagef("needs the name of one model")
	}
	for flag, value := range map[string]string{"svg": f.svg, "save": f.save} {
		if c.flags.Changed(flag) && value == "" {
			return usagef("--%s needs a name", flag)
		}
	}
	ask, way, err := f.ask(c)
	if err != nil {
		return err
	}
	opts, err := f.model.options(c)
	if err != nil {
		return err
	}
	bait, err := shop.ModelAt(names[0]).Bait(c.ctx, opts, way.back, way.nose)
	if err != nil {
		return err
	}
	job := &sizeJob{c: c, f: f, name: names[0], bait: bait, way: way, ask: ask, given: f.given}
	result, err := job.size()
	if err != nil {
		return sizeError(names[0], err)
	}
	if f.svg != "" {
		if err := saveFile(c.ctx, f.svg, func(w io.Writer) error { return svg.Layout(w, result) }); err != nil {
			return err
		}
	}
	if f.save != "" {
		if err := job.canSave(); err != nil {
			return err
		}
		if err := job.save(f.save, result); err != nil {
			return err
		}
	}
	return show.Result(c.out, c.json, result, show.SizeText)
}

// sizeError names the model where it is at fault.
func sizeError(name string, err error) error {
	if _, usage := errors.AsType[usageError](err); usage {
		return err
	}
	if errors.Is(err, cool.ErrNever) || errors.Is(err, cool.ErrTemperature) {
		return err
	}
	return fmt.Errorf("%s: %w", name, err)
}

// sizeJob is one run.
type sizeJob struct {
	c    *call
	f    *sizeFlags
	name string
	bait *cavity.Cavity
	way  directions
	ask  layout.Ask

	given []string // keys of the shop file about new molds

	model *mesh.Mesh // scaled
	taken layout.Parting
	all   []layout.Parting
	laid  *layout.Bait
}

func (j *sizeJob) size() (*layout.Result, error) {
	ctx := j.c.ctx
	shrink, scale, err := j.scale()
	if err != nil {
		return nil, err
	}
	j.model = layout.Scaled(j.bait.Mesh, scale)
	thick, err := layout.FindThickness(ctx, j.model, j.f.limits, j.way.back, j.way.nose, j.bait.Overlaps())
	if err != nil {
		return nil, err
	}
	for i, thin := range thick.Thin {
		thick.Thin[i].Shell = j.bait.ShellAt(vector.Of(thin.AtMM).Mul(1 / scale))
	}
	if j.taken, j.all, err = j.parting(scale); err != nil {
		return nil, err
	}
	if j.laid, err = layout.NewBait(j.model, j.bait.FillMM3*scale*scale*scale, j.taken, j.way.nose); err != nil {
		return nil, err
	}
	if j.ask.OpenAfterS, err = j.openAfter(scale); err != nil {
		return nil, err
	}
	best, setups, err := layout.Size(j.laid, j.ask)
	if err != nil {
		return nil, err
	}
	r := layout.NewResult(j.laid, best, setups, j.taken, j.all, thick, j.ask)
	r.File, r.OpenAfterS, r.Scale, r.Shrink, r.ShrinkVolume = j.name, &j.ask.OpenAfterS, scale, shrink, layout.VolumeShrink(shrink)
	r.Sources = j.sources()
	if j.f.shopFile != nil {
		r.Money = j.f.shopFile.Money
	}
	low, high := j.model.Span(j.way.nose.Normalize())
	r.ColdMM = (high - low) * (1 - shrink)
	r.Warnings = append(append([]string{}, j.bait.Warnings...), r.Warnings...)
	if j.bait.Overlaps() {
		r.Warnings = append(r.Warnings, "parts of the model overlap: where they join, the bait reads thinner than it is")
	}
	return r, nil
}

// parting takes the parting asked for, or that which the least speaks against.
func (j *sizeJob) parting(scale float64) (taken layout.Parting, all []layout.Parting, err error) {
	want := layout.Wanted{Back: j.way.back, Nose: j.way.nose, Colours: j.ask.Colours(), Asked: j.way.pull}
	if want.Colours == 2 {
		height, err := j.bait.HeightFor(j.c.ctx, j.ask.Injectors[0].Barrels[0].Share)
		if err != nil {
			return taken, nil, err
		}
		want.LineMM = height * scale
	}
	if all, err = layout.Partings(j.c.ctx, j.model, want); err != nil {
		return taken, nil, err
	}
	n := max(j.f.parting, 1)
	if j.c.flags.Changed("parting") && j.f.parting < 1 || n > len(all) {
		return taken, nil, usagef("--parting %d: give 1 to %d, see WHERE IT PARTS", j.f.parting, len(all))
	}
	if j.way.pull.Norm() > 0 {
		n = layout.Along(all, j.way.pull)
	}
	return all[n-1], all, nil
}

// sources says which sizes of the mold somebody has told.
func (j *sizeJob) sources() string {
	text := "common practice, no source"
	if len(j.given) > 0 {
		text = strings.Join(j.given, ", ") + " from the shop file, else common practice, no source"
	} else {
		text += "; a shop file sets its own under new_mold"
	}
	var flags []string
	for _, p := range practiceFlags {
		if j.c.flags.Changed(p.flag) {
			flags = append(flags, "--"+p.flag)
		}
	}
	if len(flags) > 0 {
		text = strings.Join(flags, ", ") + " as told; " + text
	}
	return text
}

// scale is by how much the model is drawn larger.
func (j *sizeJob) scale() (shrink, scale float64, err error) {
	if shrink, err = units.ParseShare(j.f.shrink); err != nil {
		return 0, 0, usageError{"--shrink: " + err.Error()}
	}
	if scale, err = layout.ScaleForShrink(shrink); err != nil {
		return 0, 0, err
	}
	if j.f.length != "" {
		want, err := units.ParseLength(j.f.length)
		if err != nil || !(want > 0) {
			return 0, 0, usagef("--length %q is not a length, like 5 in", j.f.length)
		}
		low, high := j.bait.Mesh.Span(j.way.nose.Normalize())
		scale *= want.MM() / (high - low)
	}
	return shrink, scale, nil
}

// openAfter is the setting time of the scaled bait: times go with the square of size.
func (j *sizeJob) openAfter(scale float64) (float64, error) {
	if err := checkDiffusivity(j.f.diffusivity); err != nil {
		return 0, err
	}
	ask := cool.Ask{DiffusivityMM2S: j.f.diffusivity}
	melt, err := parseHeat("melt", j.f.melt)
	if err != nil {
		return 0, err
	}
	ask.MeltC = float64(melt)
	for _, t := range []struct {
		flag, text string
		to         *float64
	}{{"mold", j.f.mold, &ask.MoldC}, {"open", j.f.open, &ask.OpenC}} {
		v, err := units.ParseTemperature(t.text)
		if err != nil {
			return 0, usageError{"--" + t.flag + ": " + err.Error()}
		}
		*t.to = float64(v)
	}
	body, err := cool.NewBody(j.c.ctx, j.bait.Mesh, j.bait.Overlaps())
	if err != nil {
		return 0, err
	}
	r, err := body.Cool(j.c.ctx, ask)
	if err != nil {
		return 0, err
	}
	return *r.TimeS * scale * scale, nil
}
