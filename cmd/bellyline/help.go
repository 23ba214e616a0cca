package main

import (
	"fmt"

	"github.com/spf13/pflag"

	"bellyline/cmd/bellyline/show"
)

func overviewText() string {
	var p show.Page
	p.Linef("Example:\n  bellyline pour examples/paddletail/mold.yaml\n")
	p.Wrapped("", "bellyline reads the STL of a soft-bait cavity and says what it holds, what the bait weighs, how much of each colour a double shot takes and what goes into each cup.")
	p.Linef("\nCommands:")
	for _, c := range commands() {
		p.Linef("  %-11s %s", c.name, c.summary)
	}
	p.Linef("\nbellyline COMMAND --help shows examples and flags.")
	p.Linef("bellyline help mold-file (shop-file, order-file, line-file) shows what a file may hold.")
	p.Wrapped("", "Hot plastisol burns and its fumes harm: the cautions on every pour card are part of the answer.")
	return p.String()
}

// helpText shows a command by examples, then its form, then its flags.
func helpText(c command, flags *pflag.FlagSet) string {
	var p show.Page
	p.Linef("Examples:")
	for _, e := range c.examples {
		p.Linef("  bellyline %s", e)
	}
	p.Linef("\nbellyline %s", c.usage)
	p.Wrapped("  ", c.summary)
	p.Linef("\nFlags:")
	width := 0
	flags.VisitAll(func(f *pflag.Flag) { width = max(width, len(flagForm(f))) })
	flags.VisitAll(func(f *pflag.Flag) {
		p.Wrapped(fmt.Sprintf("  %-*s  ", width, flagForm(f)), flagMeaning(f))
	})
	p.Linef("\nExit status: 0 done, 1 the input cannot be answered, 2 wrong usage.")
	return p.String()
}

// flagForm is how a flag is written: "--unit UNIT".
func flagForm(f *pflag.Flag) string {
	if value, _ := pflag.UnquoteUsage(f); value != "" {
		return "--" + f.Name + " " + value
	}
	return "--" + f.Name
}

func flagMeaning(f *pflag.Flag) string {
	_, usage := pflag.UnquoteUsage(f)
	switch f.DefValue {
	case "", "0", "false", "[]":
		return usage
	}
	return usage + " (default " + f.DefValue + ")"
}
