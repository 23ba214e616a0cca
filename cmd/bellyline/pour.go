package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"bellyline/cavity/units"
	"bellyline/cmd/bellyline/card"
	"bellyline/cmd/bellyline/files"
	"bellyline/cmd/bellyline/shop"
	"bellyline/cmd/bellyline/show"
	"bellyline/laminate"
)

type pourFlags struct {
	baits string
	left  string
	html  string
	heavy string
	with  string
	mend  *mendFlags
}

func pourCommand() command {
	return command{
		name:    "pour",
		summary: "the pour card of a mold file: colours, cups, doses, shots, weights",
		usage:   "pour MOLDFILE [flags]",
		examples: []string{
			"pour examples/paddletail/mold.yaml",
			"pour examples/ringgrub/mold.yaml --baits 100",
			"pour examples/weighed.yaml --left 'back=1 1/2 cups,belly=1 cup'",
		},
		prepare: func(c *call) func([]string) error {
			var f pourFlags
			c.flags.StringVar(&f.baits, "baits", "", "make `N` baits, or packs, like '4 packs'; without it: the mold file's order, or one shot")
			c.flags.StringVar(&f.left, "left", "", "how many baits `AMOUNTS` give that are left, hot, in the cups: one of each colour, as in the example")
			c.flags.StringVar(&f.html, "html", "", "save the pour card as well, as a page to print, in `FILE`")
			c.flags.StringVar(&f.heavy, "bait-weight", "", "how much of an additive makes a bait weigh `WEIGHT`, like 14g")
			c.flags.StringVar(&f.with, "with", "salt", "the `ADDITIVE` for --bait-weight, as the shop file calls it")
			f.mend = addMendFlags(c)
			return func(names []string) error { return pour(c, f, names) }
		},
	}
}

func pour(c *call, f pourFlags, names []string) error {
	if len(names) != 1 {
		return usagef("needs the name of one mold file")
	}
	const anyPack = 1
	if _, err := files.ParseBaits(f.baits, anyPack); c.flags.Changed("baits") && err != nil {
		return usagef("--baits: %v", err)
	}
	if c.flags.Changed("html") && f.html == "" {
		return usagef("--html needs a name")
	}
	if c.flags.Changed("with") && f.heavy == "" {
		return usagef("--with needs --bait-weight, the weight that the additive gives a bait, like --bait-weight 14g")
	}
	mend, err := f.mend.options(c)
	if err != nil {
		return err
	}
	source, err := shop.OnDisk(names[0])
	if err != nil {
		return err
	}
	opened, err := shop.Open(c.ctx, source, shop.Options{Mend: mend, Progress: c.progress.update})
	if err != nil {
		return err
	}
	job := opened.Job
	job.Streams = true
	if f.baits != "" {
		if job.Baits, err = files.ParseBaits(f.baits, opened.Mold.Pack); err != nil {
			return usagef("--baits: %v", err)
		}
	}
	if c.flags.Changed("left") {
		if job.LeftML, err = leftIn(job.Colours, f.left); err != nil {
			return err
		}
	}
	result, err := opened.Pour(c.ctx, job)
	if err != nil {
		return err
	}
	if f.heavy != "" {
		if result.DoseFor, err = doseFor(c, f, opened.Mold, job); err != nil {
			return fmt.Errorf("%s: %w", names[0], err)
		}
	}
	if f.html != "" {
		err := shop.SaveFile(c.ctx, f.html, func(w io.Writer) error { return card.Write(w, result) })
		if err != nil {
			return err
		}
	}
	return show.Result(c.out, c.json, result, show.PourText)
}

// doseFor finds the dose that gives a bait the weight asked for.
func doseFor(c *call, f pourFlags, m *files.Mold, job laminate.Job) (*laminate.DoseFor, error) {
	weight, err := units.ParseMass(f.heavy)
	if err != nil {
		return nil, usagef("--bait-weight: %v", err)
	}
	a, ok := m.Shop.Additives[f.with]
	if !ok {
		return nil, usagef("--with: the shop file has no additive %q", f.with)
	}
	return job.DoseFor(c.ctx, a, weight.G())
}

// leftIn reads "back=1.5cup,belly=1cup" into mL, in the order of the colours.
func leftIn(colours []laminate.Colour, text string) ([]float64, error) {
	left := make([]float64, len(colours))
	given := make([]bool, len(colours))
	for part := range strings.SplitSeq(text, ",") {
		name, amount, _ := strings.Cut(part, "=")
		i := slices.IndexFunc(colours, func(c laminate.Colour) bool { return c.Name == strings.TrimSpace(name) })
		if i < 0 || given[i] {
			return nil, usagef("--left: %q names no colour of this mold, or names it twice; the colours are: %s", strings.TrimSpace(name), colourNames(colours))
		}
		v, err := units.ParseVolume(amount)
		if err != nil {
			return nil, usagef("--left: %s: %v", colours[i].Name, err)
		}
		left[i], given[i] = v.ML(), true
	}
	if i := slices.Index(given, false); i >= 0 {
		return nil, usagef("--left: how much is left of %s?", colours[i].Name)
	}
	return left, nil
}

func colourNames(colours []laminate.Colour) string {
	var names []string
	for _, c := range colours {
		names = append(names, c.Name)
	}
	return strings.Join(names, ", ")
}
