package main

import (
	"fmt"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/cmd/bellyline/shop"
	"bellyline/cmd/bellyline/show"
	"bellyline/mesh"
	"bellyline/mesh/stl"
)

// modelFlags are the flags of every command that reads a model.
type modelFlags struct {
	unit    string
	density float64
	mend    *mendFlags
}

func addModelFlags(c *call) *modelFlags {
	f := &modelFlags{}
	c.flags.StringVar(&f.unit, "unit", "mm", "one `UNIT` of the model: mm, cm, in or m; STL does not say")
	c.flags.Float64Var(&f.density, "density", 0, "density in `G/ML` of what fills it, like 1.02; gives the mass")
	f.mend = addMendFlags(c)
	return f
}

func (f *modelFlags) options(c *call) (cavity.Options, error) {
	unit, err := stl.ParseUnit(f.unit)
	if err != nil {
		return cavity.Options{}, usageError{"--unit: " + err.Error()}
	}
	if c.flags.Changed("density") && !(f.density > 0 && f.density <= 25) {
		return cavity.Options{}, usagef("--density %g is not a density in g/mL, like 1.02", f.density)
	}
	mend, err := f.mend.options(c)
	if err != nil {
		return cavity.Options{}, err
	}
	return cavity.Options{Unit: unit, DensityGML: f.density, Mend: mend, Progress: c.progress.update}, nil
}

// parseDirections reads how a bait lies.
func parseDirections(back, nose string) (up, forward r3.Vector, err error) {
	if up, err = mesh.ParseDirection(back); err != nil {
		return up, forward, usageError{"--back: " + err.Error()}
	}
	if forward, err = mesh.ParseDirection(nose); err != nil {
		return up, forward, usageError{"--nose: " + err.Error()}
	}
	return up, forward, nil
}

func measureCommand() command {
	return command{
		name:    "measure",
		summary: "what a model holds, and whether its surface is sound",
		usage:   "measure MODEL... [flags]      (- reads standard input)",
		examples: []string{
			"measure examples/paddletail/bait.stl",
			"measure bait.stl --unit in --density 1.02",
			"measure *.stl --json",
		},
		prepare: func(c *call) func([]string) error {
			flags := addModelFlags(c)
			quick := c.flags.Bool("quick", false, "leave out the search for overlaps and the estimate of facets: signed volume only")
			return func(files []string) error { return measure(c, flags, *quick, files) }
		},
	}
}

func measure(c *call, flags *modelFlags, quick bool, files []string) error {
	if len(files) == 0 {
		return usagef("needs the name of a model")
	}
	opts, err := flags.options(c)
	if err != nil {
		return err
	}
	opts.Quick = quick
	result := show.Measured{Models: []*cavity.Measurement{}}
	var unanswered error
	for _, file := range files {
		m, _, _, err := shop.ModelAt(file).Measure(c.ctx, opts)
		if err != nil {
			return err
		}
		result.Models = append(result.Models, m)
		if m.Reason != "" && unanswered == nil {
			unanswered = errShown{fmt.Sprintf("%s: no volume: %s", file, m.Reason)}
		}
	}
	if err := show.Result(c.out, c.json, result, show.MeasuredText); err != nil {
		return err
	}
	return unanswered
}
