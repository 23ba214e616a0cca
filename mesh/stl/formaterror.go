package stl

import (
	"errors"
	"fmt"
	"strings"
)

// What can be wrong with a file that should hold a model. A FormatError wraps
// exactly one of these.
var (
	ErrEmpty     = errors.New("no facets")
	ErrTruncated = errors.New("file ends too early")
	ErrCount     = errors.New("facet count does not match the file")
	ErrMangled   = errors.New("bytes changed by a text conversion")
	ErrNotFinite = errors.New("coordinate is not a finite number")
	ErrTooLarge  = errors.New("too large")
	ErrSyntax    = errors.New("not the grammar of STL")
	ErrNotSTL    = errors.New("not an STL file")
)

// FormatError says what is wrong with a file, where, and what to do about it.
type FormatError struct {
	File  string // as the caller named it, "" when it has no name
	Byte  int64  // bytes before the fault; 0 when Line says it better
	Line  int    // line of a text file, from 1; 0 when there is none
	Facet int    // facet of the whole file, from 1; 0 when there is none
	Msg   string // what is wrong, lower case
	Hint  string // what to do
	Err   error  // one of the sentinels above
}

// Error returns file, place, fault and advice in one line.
func (e *FormatError) Error() string {
	var parts []string
	if e.File != "" {
		parts = append(parts, printable(e.File))
	}
	if place := e.place(); place != "" {
		parts = append(parts, place)
	}
	text := strings.Join(append(parts, e.Msg), ": ")
	if e.Hint != "" {
		text += "; " + e.Hint
	}
	return text
}

func (e *FormatError) place() string {
	var where []string
	switch {
	case e.Line > 0:
		where = append(where, fmt.Sprintf("line %d", e.Line))
	case e.Byte > 0:
		where = append(where, fmt.Sprintf("byte %d", e.Byte))
	}
	if e.Facet > 0 {
		where = append(where, fmt.Sprintf("facet %d", e.Facet))
	}
	return strings.Join(where, ", ")
}

// Unwrap returns the sentinel.
func (e *FormatError) Unwrap() error { return e.Err }

// What to do about most faults.
const (
	hintCopy   = "copy or export the file again"
	hintExport = "export the model again, best as binary STL"
	hintDrawn  = "mend the model where it was drawn and export it again"
)

// errNoFacet refuses a file of the right form with nothing in it.
func errNoFacet() error {
	return &FormatError{Err: ErrEmpty, Msg: "the model has no facets", Hint: "export it again with the body selected"}
}

// errTooMany refuses a file whose corners an int32 cannot number.
func errTooMany(facets int64) error {
	return &FormatError{Err: ErrTooLarge,
		Msg:  fmt.Sprintf("the model has %d facets, at most %d can be read", facets, int64(mostFacets)),
		Hint: "export it with a coarser tolerance"}
}
