package main

import (
	"io"

	"github.com/spf13/pflag"
)

// declare makes the flags of a command, and returns what runs once they are parsed.
func declare(c command, k *call) func(files []string) error {
	k.flags = pflag.NewFlagSet(c.name, pflag.ContinueOnError)
	k.flags.SetOutput(io.Discard)
	k.flags.SortFlags = false
	work := c.prepare(k)
	k.flags.BoolVar(&k.json, "json", false, "print one JSON object instead of text")
	return work
}

// flagsOf lists the flags of a command, as --help shows them.
func flagsOf(c command) []*pflag.Flag {
	k := &call{}
	declare(c, k)
	var list []*pflag.Flag
	k.flags.VisitAll(func(f *pflag.Flag) { list = append(list, f) })
	return list
}

// takesValue tells a flag that wants something after it.
func takesValue(f *pflag.Flag) bool { return f.NoOptDefVal == "" }
