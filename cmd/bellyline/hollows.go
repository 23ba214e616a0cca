package main

import (
	"io"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/cavity/hollow"
	"bellyline/cmd/bellyline/shop"
	"bellyline/cmd/bellyline/show"
	"bellyline/cmd/bellyline/svg"
	"bellyline/mesh"
	"bellyline/mesh/stl"
)

// hollowsFlags says how a mold half is read and what is made of it.
type hollowsFlags struct {
	unit     string
	pull     string
	mend     *mendFlags
	oneLevel bool
	bait     bool

	otherPull, save, svg string
}

func hollowsCommand() command {
	return command{
		name:    "hollows",
		summary: "the cavities, runners and holes of a mold half",
		usage:   "hollows HALF [OTHER] [flags]      or: hollows BAIT --bait [flags]",
		examples: []string{
			"hollows examples/shadmold/plain-half.stl --svg face.svg",
			"hollows examples/shadmold/plain-half.stl examples/shadmold/marked-half.stl",
			"hollows half.stl other.stl --save cavities",
			"hollows half.stl --pull +y --unit in",
			"hollows examples/clawcraw/bait.stl --bait      can it be pulled?",
		},
		prepare: func(c *call) func([]string) error {
			var f hollowsFlags
			c.flags.StringVar(&f.unit, "unit", "mm", "one `UNIT` of the model: mm, cm, in or m; STL does not say")
			c.flags.StringVar(&f.pull, "pull", "", "`DIRECTION` out of the half, at a right angle to its parting face: +x -x +y -y +z -z or x,y,z; without it: found, for a bait +z")
			c.flags.BoolVar(&f.oneLevel, "one-level", false, "take every flat inside a hollow for its floor, whatever opens in it; without it: a lower parting face if large hollows do")
			c.flags.StringVar(&f.otherPull, "other-pull", "", "the same `DIRECTION` for OTHER")
			c.flags.StringVar(&f.save, "save", "", "`FOLDER` to save each cavity and runner in as one closed STL in mm, the parting plane at z = 0; made when it is not there")
			c.flags.StringVar(&f.svg, "svg", "", "`FILE` to draw the parting face into, seen from above: hollows shaded by depth, numbered, gates marked")
			c.flags.BoolVar(&f.bait, "bait", false, "the model is a closed bait: say how far it is undercut along --pull, how steep it is, and along which pull least of it is undercut")
			f.mend = addMendFlags(c)
			return func(names []string) error { return hollows(c, f, names) }
		},
	}
}

func hollows(c *call, f hollowsFlags, names []string) error {
	if err := f.check(c, names); err != nil {
		return err
	}
	read, opts, err := f.options(c)
	if err != nil {
		return err
	}
	if f.bait {
		return baitDraft(c, names[0], read, opts.Pull)
	}
	half, err := shop.ModelAt(names[0]).Half(c.ctx, read, opts)
	if err != nil {
		return err
	}
	mold := hollow.OneHalf(half)
	if len(names) == 2 {
		if mold, err = f.pairWith(c, half, names[1], read, opts); err != nil {
			return err
		}
	}
	if f.save != "" {
		if err := mold.Save(c.ctx, f.save); err != nil {
			return err
		}
	}
	if f.svg != "" {
		err := shop.SaveFile(c.ctx, f.svg, func(w io.Writer) error { return svg.PartingFace(w, half) })
		if err != nil {
			return err
		}
	}
	return show.Result(c.out, c.json, mold, show.HollowsText)
}

func (f hollowsFlags) check(c *call, names []string) error {
	switch {
	case len(names) == 0:
		return usagef("needs the name of a mold half")
	case len(names) > 2:
		return usagef("takes one half, or both, not %d files", len(names))
	case f.bait && len(names) == 2:
		return usagef("--bait looks at one model")
	case f.bait && (f.save != "" || f.svg != ""):
		return usagef("--bait has nothing to save or to draw")
	case len(names) < 2 && c.flags.Changed("other-pull"):
		return usagef("--other-pull is for a second half, which is not named")
	}
	for flag, name := range map[string]string{"save": f.save, "svg": f.svg} {
		if c.flags.Changed(flag) && name == "" {
			return usagef("--%s needs a name", flag)
		}
	}
	return nil
}

// pairWith lays the other half on a half.
func (f hollowsFlags) pairWith(c *call, half *hollow.Half, name string, read cavity.Options, opts hollow.Options) (*hollow.Mold, error) {
	opts.Pull = r3.Vector{}
	if c.flags.Changed("other-pull") {
		pull, err := mesh.ParseDirection(f.otherPull)
		if err != nil {
			return nil, usageError{"--other-pull: " + err.Error()}
		}
		opts.Pull = pull
	}
	other, err := shop.ModelAt(name).Half(c.ctx, read, opts)
	if err != nil {
		return nil, err
	}
	return shop.Mold(c.ctx, half, other)
}

func (f hollowsFlags) options(c *call) (cavity.Options, hollow.Options, error) {
	opts := hollow.Options{OneLevel: f.oneLevel}
	unit, err := stl.ParseUnit(f.unit)
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
	draft, err := shop.ModelAt(name).Draft(c.ctx, read, pull)
	if err != nil {
		return err
	}
	return show.Result(c.out, c.json, draft, show.DraftText)
}
