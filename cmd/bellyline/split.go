package main

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"bellyline/cavity"
	"bellyline/cavity/units"
	"bellyline/cmd/bellyline/files"
	"bellyline/cmd/bellyline/shop"
	"bellyline/cmd/bellyline/show"
	"bellyline/laminate"
)

// splitFlags says how a model lies and where it is parted.
type splitFlags struct {
	model *modelFlags
	back  string
	nose  string
	at    []string
	share string
	line  string
	save  string
}

func splitCommand() command {
	return command{
		name:    "split",
		summary: "the colours on both sides of a line: volume, share, joined area",
		usage:   "split MODEL (--at H | --belly-share SHARE | --line FILE) [flags]",
		examples: []string{
			"split examples/paddletail/bait.stl --belly-share 40/60",
			"split bait.stl --at 2.5 --save colours",
			"split bait.stl --at 0 --at 4.5      three layers",
			"split bait.stl --line gill.yaml     a tilted or drawn line, head and tail, a core",
		},
		prepare: func(c *call) func([]string) error {
			f := splitFlags{model: addModelFlags(c)}
			c.flags.StringVar(&f.back, "back", "+z", "`DIRECTION` from belly to back: +x -x +y -y +z -z or x,y,z")
			c.flags.StringVar(&f.nose, "nose", "+x", "`DIRECTION` from tail to nose, along which drawn, tilted and crosswise lines and stripes run")
			c.flags.StringArrayVar(&f.at, "at", nil, "height `H` of the line in mm, along --back, as the model has it; again and again for layers")
			c.flags.StringVar(&f.share, "belly-share", "", "`SHARE` of the belly to that of the back: 40/60, or 0.4, or 40%")
			c.flags.StringVar(&f.line, "line", "", "`FILE` that holds the line, as \"belly_share: 40/60\", \"shares: 20/50/30\" for three colours, \"height: 2.5 mm\", or with a kind: tilted, drawn, crosswise, stripe, core, skin")
			c.flags.StringVar(&f.save, "save", "", "`FOLDER` to save one closed STL a colour in, in mm; made when it is not there")
			return func(names []string) error { return split(c, f, names) }
		},
	}
}

func split(c *call, f splitFlags, names []string) error {
	if len(names) != 1 {
		return usagef("needs the name of one model")
	}
	opts, err := f.model.options(c)
	if err != nil {
		return err
	}
	back, nose, err := parseDirections(f.back, f.nose)
	if err != nil {
		return err
	}
	for flag, name := range map[string]string{"save": f.save, "line": f.line} {
		if c.flags.Changed(flag) && name == "" {
			return usagef("--%s needs a name", flag)
		}
	}
	ask, err := f.asked(c.flags.Changed)
	if err != nil {
		return err
	}
	bait, err := shop.ModelAt(names[0]).Bait(c.ctx, opts, back, nose)
	if err != nil {
		return err
	}
	result, err := laminate.SplitBy(c.ctx, bait, ask, opts.DensityGML)
	if errors.Is(err, laminate.ErrJob) || errors.Is(err, cavity.ErrFrame) { // nothing is poured here: only what is wrong counts
		return fmt.Errorf("%s: %s", names[0], strings.TrimPrefix(err.Error(), laminate.ErrJob.Error()+": "))
	}
	if err != nil {
		return err
	}
	if f.save != "" {
		if err := result.Save(c.ctx, bait, f.save); err != nil {
			return err
		}
	}
	return show.Result(c.out, c.json, result, show.SplitText)
}

// farthestMM is past every line in a bait.
const farthestMM = 1e6

// asked reads the one way in which the line was given.
func (f splitFlags) asked(given func(flag string) bool) ([]laminate.Line, error) {
	ways := 0
	for _, flag := range []string{"at", "belly-share", "line"} {
		if given(flag) {
			ways++
		}
	}
	if ways == 0 {
		return nil, usagef("needs one of --at, --belly-share or --line")
	}
	if ways > 1 {
		return nil, usagef("takes only one of --at, --belly-share and --line")
	}
	switch {
	case given("belly-share"):
		share, err := units.ParseShare(f.share)
		if err != nil {
			return nil, usageError{"--belly-share: " + err.Error()}
		}
		if share == 0 || share == 1 {
			return nil, usagef("--belly-share %s leaves nothing for the other colour", f.share)
		}
		return []laminate.Line{{Share: share}}, nil
	case given("line"):
		return files.ReadLine(f.line)
	}
	var lines []laminate.Line
	for _, at := range f.at {
		h, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(at, "mm")), 64)
		if err != nil || math.IsNaN(h) || math.Abs(h) > farthestMM {
			return nil, usagef("--at %q is not a height in mm, like 2.5", at)
		}
		lines = append(lines, laminate.Line{Boundary: laminate.Level{HeightMM: h}, ByPlace: true})
	}
	return lines, nil
}
