// Package stl reads STL files, binary and text, and writes them. It welds the corners of
// facets that are the same point.
package stl

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"runtime"

	"bellyline/mesh"
)

// Format is one of the two encodings of STL.
type Format string

// The encodings of STL.
const (
	Binary Format = "binary"
	ASCII  Format = "ascii"
)

// Model is one STL file, read and welded.
type Model struct {
	Mesh   *mesh.Mesh
	Format Format
	// Solids holds the names of the solids of a text file and the headers of the
	// binary files glued together, without control characters and cut to 200
	// bytes. A name may be empty.
	Solids []string
	// Notes says what was odd about the file but did not stop the reading.
	Notes []Note
	// WeldedWithinMM is 0 when corners were welded where they agree exactly, and
	// otherwise the distance within which corners on cracks were welded.
	WeldedWithinMM float64
}

// Note is something odd about a file that was read all the same.
type Note struct {
	Kind  string // one of the Note constants
	Count int    // of what Text says
	Text  string // one lower-case line
}

// The kinds of notes.
const (
	NoteTrailingBytes = "trailing_bytes"
	NoteSecondFile    = "second_file"
	NoteNormal        = "normal_not_finite"
	NoteNearWeld      = "near_weld"
)

// ReadOptions says how to read a file. The zero value reads millimetres.
type ReadOptions struct {
	// Unit is what one model unit measures; 0 means millimetres.
	Unit Unit
	// Progress, when given, is told how many bytes are done, and how many there
	// are, 0 when that is not known. Calls come often and from other goroutines,
	// but never two at once; a last one may come after an end of the context.
	Progress func(done, total int64)
}

// largestCoordinate is the largest coordinate that is taken for a length, in
// model units. Nothing that is cast is a millionth of it; a float32 reaches
// further (3.4e38), but what is there came from bytes that were no number.
const largestCoordinate = 1e30

// mostFacets is what keeps the number of every corner of a facet in an int32.
const mostFacets = (1<<31 - 1) / 3

// Read reads an STL file, binary or text, and welds its corners where they
// agree exactly (minus zero is zero). Where that leaves cracks that corners
// within a millionth of the model's size would close, these are welded too, and
// a Note and WeldedWithinMM say so.
//
// Vertices come in the order in which the file first uses them, and the result
// does not depend on the number of processors. Memory is in proportion to what
// r gives, whatever its header promises. A fault of the file is a *FormatError;
// an end of ctx is its error, returned within a tenth of a second.
func Read(ctx context.Context, r io.Reader, opts ReadOptions) (*Model, error) {
	return untilDone(ctx, func() (*Model, error) { return readStream(ctx, r, opts) })
}

// untilDone returns what read returns, or the error of ctx when that ends first.
// Then read, which looks at ctx as well, is left to end by itself: it may hang in
// a pipe, or be at work that is not worth stopping.
func untilDone(ctx context.Context, read func() (*Model, error)) (*Model, error) {
	type result struct {
		model *Model
		err   error
	}
	done := make(chan result, 1)
	go func() {
		model, err := read()
		done <- result{model, err}
	}()
	select {
	case <-ctx.Done():
		return nil, ctx.Err()
	case got := <-done:
		return got.model, got.err
	}
}

// ReadFile reads the STL file at path, or standard input when path is "-", as
// Read does. Every error names the file.
func ReadFile(ctx context.Context, path string, opts ReadOptions) (*Model, error) {
	name := path
	if path == "-" {
		name = "standard input"
	}
	model, err := untilDone(ctx, func() (*Model, error) {
		if path == "-" {
			return readOpened(ctx, os.Stdin, opts)
		}
		file, err := os.Open(path)
		if err != nil {
			return nil, err
		}
		defer file.Close()
		return readOpened(ctx, file, opts)
	})
	var format *FormatError
	var system *os.PathError
	switch {
	case err == nil:
		return model, nil
	case errors.As(err, &format):
		format.File = name
		return nil, format
	case errors.As(err, &system):
		return nil, err
	}
	return nil, fmt.Errorf("%s: %w", name, err)
}

// readOpened reads a regular file block by block, from where it stands, and
// anything else as a stream.
func readOpened(ctx context.Context, file *os.File, opts ReadOptions) (*Model, error) {
	info, err := file.Stat()
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return readStream(ctx, file, opts)
	}
	start, err := file.Seek(0, io.SeekCurrent)
	if err != nil {
		return nil, err
	}
	size := max(0, info.Size()-start)
	src := source{io.NewSectionReader(file, start, size), size}
	return readSource(ctx, src, opts.Unit, &meter{report: opts.Progress, total: size})
}

// readStream reads what comes once and in order.
func readStream(ctx context.Context, r io.Reader, opts ReadOptions) (*Model, error) {
	src, err := collect(ctx, r, &meter{report: opts.Progress})
	if err != nil {
		return nil, err
	}
	return readSource(ctx, src, opts.Unit, nil)
}

// readSource reads a file whose size is known.
func readSource(ctx context.Context, src source, unit Unit, progress *meter) (*Model, error) {
	if unit == 0 {
		unit = Millimetre
	}
	if !(unit > 0 && unit <= math.MaxFloat32) {
		return nil, fmt.Errorf("a model unit cannot measure %v mm", float64(unit))
	}
	format, err := sniff(src)
	if err != nil {
		return nil, err
	}
	job := &job{ctx: ctx, src: src, progress: progress}
	var model *Model
	if format == ASCII {
		model, err = job.readASCII(unit)
	} else {
		model, err = job.readBinary(unit)
	}
	if err != nil {
		return nil, err
	}
	model.Format = format
	if len(model.Mesh.Triangles) >= muchWelded {
		runtime.GC()
	}
	return model, nil
}

// muchWelded is from how many facets on the tables of the weld are let go at once:
// what comes next then uses their memory instead of fresh pages, which have to be
// cleared one by one. That takes far longer than looking for what is in use.
const muchWelded = 1 << 22

// job is what all workers on one file share.
type job struct {
	ctx      context.Context
	src      source
	progress *meter
}

// noteOnNormals says that normals of facets are not what they should be.
func noteOnNormals(n int) Note {
	return Note{Kind: NoteNormal, Count: n,
		Text: fmt.Sprintf("normals that are not three finite numbers: %d; normals are not used", n)}
}
