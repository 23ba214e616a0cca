package files

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"bellyline/cmd/bellyline/plain"
)

// Error is what is wrong with a file and where.
type Error struct {
	File string
	Line int    // counted from 1; 0 when the whole file is meant
	Key  string // feed.runner.length
	Msg  string // what is wrong and what to do
	Err  error  // the cause, if another package found it
	Fix  Fix
}

// Fix is a change of the key that mends an Error. The zero Fix says that no single change
// does, or that only people know which.
type Fix struct {
	Rename string // the key is to be called so
	Value  string // the key is to have this value
	Add    string // this line is missing below the key
	Remove bool   // the key is to go
}

// Error is one printable line, whatever the file holds.
func (e *Error) Error() string {
	where := e.File
	if e.Line > 0 {
		where = fmt.Sprintf("%s:%d", e.File, e.Line)
	}
	if e.Key != "" {
		where += ": " + e.Key
	}
	return plain.Line(where + ": " + e.Msg)
}

func (e *Error) Unwrap() error { return e.Err }

// write says how the value is written, unless the message does so already.
func (e *Error) write(examples ...string) {
	e.Fix = Fix{Value: examples[0]}
	if !strings.Contains(e.Msg, " like ") && !strings.Contains(e.Msg, " "+examples[0]) {
		e.Msg += "; write it like " + inWords(examples)
	}
}

// inWords lists "a, b or c".
func inWords(list []string) string {
	last := len(list) - 1
	if last == 0 {
		return list[0]
	}
	return strings.Join(list[:last], ", ") + " or " + list[last]
}

// Errors are all that is wrong with the files of one reading, by file and line.
type Errors []*Error

// mostErrors is how many of them are told at once.
const mostErrors = 20

// Error is a line for each.
func (e Errors) Error() string {
	var lines []string
	for _, one := range e[:min(len(e), mostErrors)] {
		lines = append(lines, one.Error())
	}
	if more := len(e) - mostErrors; more > 0 {
		lines = append(lines, fmt.Sprintf("and %d more", more))
	}
	return strings.Join(lines, "\n")
}

// Unwrap returns each Error.
func (e Errors) Unwrap() []error {
	var list []error
	for _, one := range e {
		list = append(list, one)
	}
	return list
}

// err is what is wrong with all files of a reading: nil, an *Error, or Errors.
func (r *reading) err() error {
	if len(r.faults) == 0 {
		return nil
	}
	slices.SortStableFunc(r.faults, func(a, b *Error) int {
		return cmp.Or(cmp.Compare(slices.Index(r.opened, a.File), slices.Index(r.opened, b.File)), cmp.Compare(a.Line, b.Line))
	})
	same := func(a, b *Error) bool { return a.Error() == b.Error() } // a mold file that two lines of an order name
	if list := slices.CompactFunc(r.faults, same); len(list) > 1 {
		return Errors(list)
	}
	return r.faults[0]
}

// isFaulty tells that something is wrong with one of the files.
func (r *reading) isFaulty(file string) bool {
	return slices.ContainsFunc(r.faults, func(e *Error) bool { return e.File == file })
}
