package main

import (
	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/cavity/hollow"
	"bellyline/cmd/bellyline/show"
	"bellyline/mesh"
)

// hollowsFlags says how a mold half is read and what is made of it.
type hollowsFlags struct {
	unit     string
	pull     string
	mend     *mendFlags
	oneLevel bool
	bait     bool
}

func hollowsCommand() command {
	return command{
		name:    "hollows",
		summary: "the cavities, runners and holes of a mold half",
		usage:   "hollows HALF [flags]      or: hollows BAIT --bait [flags]",
		examples: []string{
			"hollows half.stl",
			"hollows half.stl --pull +y --unit in",
			"hollows examples/clawcraw/bait.stl --bait      can it be pulled out of a mold?",
		},
		prepare: func(c *call) func([]string) error {
			var f hollowsFlags
			c.flags.StringVar(&f.unit, "unit", "mm", "one `UNIT` of the model: mm, cm, in or m; STL does not say")
			c.flags.StringVar(&f.pull, "pull", "", "`DIRECTION` out of the half, at a right angle to its parting face: +x -x +y -y +z -z or x,y,z; without it: found, for a bait +z")
			c.flags.BoolVar(&f.oneLevel, "one-level", false, "take every flat inside a hollow for its floor, whatever opens in it; without it: a lower parting face if large hollows do")
			c.flags.BoolVar(&f.bait, "bait", false, "the model is a closed bait: say how far it is undercut along --pull, how steep it is, and along which pull least of it is undercut")
			f.mend = addMendFlags(c)
			return func(names []string) error { return hollows(c, f, names) }
		},
	}
}

func hollows(c *call, f hollowsFlags, names []string) error {
	if len(names) != 1 {
		return usagef("needs the name of a mold half")
	}
	read, opts, err := f.options(c)
	if err != nil {
		return err
	}
	if f.bait {
		return baitDraft(c, names[0], read, opts.Pull)
	}
	half, err := hollow.Open(c.ctx, names[0], read, opts)
	if err != nil {
		return err
	}
	return show.Result(c.out, c.json, half, show.HollowsText)
}

func (f hollowsFlags) options(c *call) (cavity.Options, hollow.Options, error) {
	opts := hollow.Options{OneLevel: f.oneLevel}
	unit, err := mesh.ParseUnit(f.unit)
	if err != nil {
		return cavity.Options{}, opts, usageError{"--unit: " + err.Error()}
	}
	if c.flags.Changed("pull") {
		var pull r3.Vector
		if pull, err = mesh.ParseDirection(f.pull); err != nil {
			return cavity.Options{}, opts, usageError{"--pull: " + err.Error()}
		}
		opts.Pull = pull
	}
	mend, err := f.mend.options(c)
	if err != nil {
		return cavity.Options{}, opts, err
	}
	return cavity.Options{Unit: unit, Mend: mend, Progress: c.progress.update}, opts, nil
}

// baitDraft says whether a bait can be pulled, along +z when nothing else is said.
func baitDraft(c *call, name string, read cavity.Options, pull r3.Vector) error {
	if pull == (r3.Vector{}) {
		pull.Z = 1
	}
	draft, err := hollow.OpenDraft(c.ctx, name, read, pull)
	if err != nil {
		return err
	}
	return show.Result(c.out, c.json, draft, show.DraftText)
}
