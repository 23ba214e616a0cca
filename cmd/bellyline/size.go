package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"bellyline/cavity/cool"
	"bellyline/cavity/units"
	"bellyline/cmd/bellyline/shop"
	"bellyline/cmd/bellyline/show"
	"bellyline/cmd/bellyline/svg"
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
	sizing, err := f.sizing(c, shop.ModelAt(names[0]))
	if err != nil {
		return err
	}
	mold, err := shop.Size(c.ctx, sizing)
	if number, wrong := errors.AsType[shop.PartingError](err); wrong {
		return usagef("--parting %d: give 1 to %d, see WHERE IT PARTS", f.parting, number.Most)
	}
	if err != nil {
		return err
	}
	if f.svg != "" {
		if err := shop.SaveFile(c.ctx, f.svg, func(w io.Writer) error { return svg.Layout(w, mold.Result) }); err != nil {
			return err
		}
	}
	if f.save != "" {
		if err := saveError(mold.Save(c.ctx, f.save)); err != nil {
			return err
		}
	}
	return show.Result(c.out, c.json, mold.Result, show.SizeText)
}

// saveError says what to do about a mold that cannot be saved.
func saveError(err error) error {
	edge, ok := errors.AsType[shop.OnEdgeError](err)
	if !ok {
		return err
	}
	hint := ""
	if edge.Other > 0 {
		hint = fmt.Sprintf("take --parting %d, or ", edge.Other)
	}
	return fmt.Errorf("--save: %w; %ssize it for one colour", err, hint)
}

// sizing reads what the flags and the shop file say.
func (f *sizeFlags) sizing(c *call, model shop.Model) (shop.Sizing, error) {
	s := shop.Sizing{Model: model, Parting: f.parting, Limits: f.limits, ExpansionPerC: f.expansion}
	ask, way, err := f.ask(c)
	if err != nil {
		return s, err
	}
	s.Ask, s.Back, s.Nose, s.Pull = ask, way.back, way.nose, way.pull
	if c.flags.Changed("parting") && f.parting < 1 {
		s.Parting = -1
	}
	if s.Read, err = f.model.options(c); err != nil {
		return s, err
	}
	if s.Shrink, err = units.ParseShare(f.shrink); err != nil {
		return s, usageError{"--shrink: " + err.Error()}
	}
	if f.length != "" {
		want, err := units.ParseLength(f.length)
		if err != nil || !(want > 0) {
			return s, usagef("--length %q is not a length, like 5 in", f.length)
		}
		s.LengthMM = want.MM()
	}
	s.Shop, s.Sources = f.shopFile, f.sources(c)
	s.Cool, err = f.cooling()
	return s, err
}

// sources says which sizes of the mold somebody has told.
func (f *sizeFlags) sources(c *call) string {
	text := "common practice, no source"
	if len(f.given) > 0 {
		text = strings.Join(f.given, ", ") + " from the shop file, else common practice, no source"
	} else {
		text += "; a shop file sets its own under new_mold"
	}
	var flags []string
	for _, p := range practiceFlags {
		if c.flags.Changed(p.flag) {
			flags = append(flags, "--"+p.flag)
		}
	}
	if len(flags) > 0 {
		text = strings.Join(flags, ", ") + " as told; " + text
	}
	return text
}

// cooling is how hot the bait is shot and opened.
func (f *sizeFlags) cooling() (cool.Ask, error) {
	ask := cool.Ask{DiffusivityMM2S: f.diffusivity}
	if err := checkDiffusivity(f.diffusivity); err != nil {
		return ask, err
	}
	melt, err := parseHeat("melt", f.melt)
	if err != nil {
		return ask, err
	}
	ask.MeltC = float64(melt)
	for _, t := range []struct {
		flag, text string
		to         *float64
	}{{"mold", f.mold, &ask.MoldC}, {"open", f.open, &ask.OpenC}} {
		v, err := units.ParseTemperature(t.text)
		if err != nil {
			return ask, usageError{"--" + t.flag + ": " + err.Error()}
		}
		*t.to = float64(v)
	}
	return ask, nil
}
