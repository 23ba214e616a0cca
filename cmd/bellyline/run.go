package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"
	"syscall"

	"bellyline/cmd/bellyline/files"
	"bellyline/cmd/bellyline/plain"

	"github.com/spf13/pflag"
)

// Exit statuses.
const (
	exitDone     = 0
	exitNoAnswer = 1 // the input cannot be answered
	exitUsage    = 2
)

// command is one word of the program.
type command struct {
	name, summary, usage string
	examples             []string
	// prepare declares the command's flags and returns what runs once they are
	// parsed.
	prepare func(c *call) func(files []string) error
}

// call is one run of a command: its context, its flags and where it prints.
type call struct {
	ctx      context.Context
	out      io.Writer // kept until the command is done
	now      io.Writer // for a command that goes on after it has answered
	flags    *pflag.FlagSet
	json     bool
	progress *progress
}

func commands() []command {
	return []command{measureCommand(), splitCommand(), pourCommand(), orderCommand(), hollowsCommand(), streamCommand(), coolCommand(), sizeCommand(), benchCommand(), manCommand(), completionCommand()}
}

// usageError is wrong usage: exit status 2.
type usageError struct{ msg string }

func (e usageError) Error() string { return e.msg }

func usagef(format string, args ...any) error { return usageError{fmt.Sprintf(format, args...)} }

// errShown is returned when the reason has been printed as part of the result,
// so that only the exit status is left to say.
type errShown struct{ line string }

func (e errShown) Error() string { return e.line }

// run is the program without its process: it returns the exit status.
func run(ctx context.Context, args []string, out, talk io.Writer) int {
	if len(args) == 0 {
		io.WriteString(talk, overviewText())
		return exitUsage
	}
	switch {
	case args[0] == "help" && len(args) > 1:
		if text, ok := fileHelp(args[1]); ok {
			return finish("help", nil, text, out, talk)
		}
		args = []string{args[1], "--help"}
	case args[0] == "help", args[0] == "--help", args[0] == "-h":
		return finish("help", nil, overviewText(), out, talk)
	}
	for _, c := range commands() {
		if c.name == args[0] {
			return runCommand(ctx, c, args[1:], out, talk)
		}
	}
	fmt.Fprintf(talk, "bellyline: unknown command %q; the commands are: %s\n", args[0], commandNames())
	return exitUsage
}

func runCommand(ctx context.Context, c command, args []string, out, talk io.Writer) int {
	// Output is kept until the command is done, so that a failed run prints no
	// half of an answer.
	var page strings.Builder
	k := &call{ctx: ctx, out: &page, now: out, progress: newProgress(talk)}
	work := declare(c, k)
	err := k.flags.Parse(args)
	if errors.Is(err, pflag.ErrHelp) {
		return finish(c.name, nil, helpText(c, k.flags), out, talk)
	}
	switch {
	case err != nil:
		err = usageError{err.Error()}
	case slices.Contains(k.flags.Args(), ""):
		err = usagef("the name of a file is empty")
	default:
		err = work(k.flags.Args())
		k.progress.clear()
	}
	return finish(c.name, err, page.String(), out, talk)
}

// finish prints what a command made, or why it made nothing.
func finish(name string, err error, page string, out, talk io.Writer) int {
	var usage usageError
	var shown errShown
	switch {
	case errors.As(err, &usage):
		fmt.Fprintf(talk, "bellyline %s: %s; see bellyline %s --help\n", name, plain.Line(err.Error()), name)
		return exitUsage
	case err != nil && !errors.As(err, &shown):
		for _, line := range reasons(err) {
			fmt.Fprintf(talk, "bellyline %s: %s\n", name, plain.Line(line))
		}
		return exitNoAnswer
	}
	if _, werr := io.WriteString(out, page); werr != nil {
		fmt.Fprintf(talk, "bellyline %s: cannot write the answer: %v\n", name, werr)
		return exitNoAnswer
	}
	if err != nil {
		fmt.Fprintf(talk, "bellyline %s: %s\n", name, plain.Line(err.Error()))
		return exitNoAnswer
	}
	return exitDone
}

// reasons are a line for each mistake in files, else one.
func reasons(err error) []string {
	if all, ok := errors.AsType[files.Errors](err); ok {
		return strings.Split(all.Error(), "\n")
	}
	return []string{plainError(err)}
}

// plainError says what is wrong with a file in words that are the same on every
// system.
func plainError(err error) string {
	path, ok := err.(*fs.PathError)
	switch {
	case !ok:
		return err.Error()
	case errors.Is(err, fs.ErrNotExist):
		return path.Path + ": there is no such file"
	case errors.Is(err, fs.ErrPermission):
		return path.Path + ": it may not be opened (permission denied)"
	case errors.Is(err, syscall.EISDIR):
		return path.Path + ": this is a folder, not a file"
	}
	return err.Error()
}

func commandNames() string {
	var names []string
	for _, c := range commands() {
		names = append(names, c.name)
	}
	return strings.Join(names, ", ")
}
