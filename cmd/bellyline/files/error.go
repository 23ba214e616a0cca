package files

import (
	"fmt"

	"bellyline/cmd/bellyline/plain"
)

// Error is what is wrong with a file and where.
type Error struct {
	File string
	Line int    // counted from 1; 0 when the whole file is meant
	Key  string // feed.runner.length
	Msg  string // what is wrong and what to do
	Err  error  // the cause, if another package found it
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
