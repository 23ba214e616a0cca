package stl

import (
	"bytes"
	"errors"
	"math"

	"bellyline/mesh"
	"bellyline/mesh/internal/weld"
)

// readASCII reads and welds a text file.
//
// Several workers each begin at a line that begins with "facet", as if inside a
// solid, and read on to where the next began. When each but the last stops
// right there, all began rightly, and together they read what one reads alone.
// When one does not, or finds a fault, one worker reads the file anew.
func (j *job) readASCII(unit Unit) (*Model, error) {
	starts, err := j.facetStarts(workersFor(j.src.size))
	if err != nil {
		return nil, err
	}
	model, err := j.readText(starts, unit)
	var format *FormatError
	if len(starts) > 1 && (errors.Is(err, errNotMet) || errors.As(err, &format)) {
		return j.readText(starts[:1], unit)
	}
	return model, err
}

// errNotMet says that a worker did not stop where the next began.
var errNotMet = errors.New("mesh: text file split at a wrong place")

// facetStarts returns where workers begin: 0, and places near equal parts of the
// file where a line begins with the word facet.
func (j *job) facetStarts(workers int) ([]int64, error) {
	starts := []int64{0}
	buf := make([]byte, blockBytes)
	for k := 1; k < workers; k++ {
		at := j.src.size * int64(k) / int64(workers)
		block, err := j.src.block(buf, at)
		if err != nil {
			return nil, err
		}
		if n := lineWithFacet(block); n >= 0 && at+int64(n) > starts[len(starts)-1] {
			starts = append(starts, at+int64(n))
		}
	}
	return starts, nil
}

// lineWithFacet returns where in b the word facet begins a line, or -1.
func lineWithFacet(b []byte) int {
	for i := 0; ; {
		n := bytes.IndexAny(b[i:], "\r\n")
		if n < 0 {
			return -1
		}
		i = skipSpaces(b, i+n)
		if skipWord(b, i, wordFacet, 5) >= 0 {
			return i
		}
	}
}

// readText reads a text file with one worker from each of starts.
func (j *job) readText(starts []int64, unit Unit) (*Model, error) {
	spans := make([]span, len(starts))
	workers := make([]*textWorker, len(starts))
	for k, start := range starts {
		w := &textWorker{span: &spans[k]}
		w.src, w.base, w.open, w.limit = j.src, start, start, math.MaxInt64
		w.onBlock = func(n int) error {
			j.progress.add(n)
			return j.ctx.Err()
		}
		end := j.src.size
		if k == 0 {
			w.open = -1
		}
		if k+1 < len(starts) {
			w.limit, end = starts[k+1], starts[k+1]
		}
		spans[k].run = func(*span) error { return w.read(end - start) }
		workers[k] = w
	}
	model, err := j.assemble(&Model{Mesh: &mesh.Mesh{}}, spans, unit)
	if err != nil {
		return nil, err
	}
	for _, w := range workers {
		model.Solids = append(model.Solids, w.solids...)
	}
	return model, nil
}

// textWorker reads and welds a run of facets.
type textWorker struct {
	textReader
	span   *span
	welder *weld.Welder
	batch  weld.Batch
}

// textFacetBytes is about what a facet takes as text, for a first guess at how
// many there are.
const textFacetBytes = 250

// read reads to the limit, some bytes further on.
func (w *textWorker) read(size int64) error {
	guess := int(size / textFacetBytes)
	w.welder = weld.NewWelder(closedVertices(guess))
	w.span.triangles = make([][3]int32, 0, guess)
	for n, more := 0, true; more; {
		for n < weld.BatchCorners/3 && w.open >= 0 && w.quickFacet((*[3]weld.Corner)(w.batch.Corners[3*n:])) {
			w.facets++
			n++
		}
		if n < weld.BatchCorners/3 {
			var err error
			if more, err = w.step(); err != nil {
				return err
			}
			if more {
				copy(w.batch.Corners[3*n:], w.corners[:])
				n++
			}
		}
		if n == weld.BatchCorners/3 || !more {
			w.weld(n)
			n = 0
		}
	}
	if w.limit < math.MaxInt64 && !w.met {
		return errNotMet
	}
	w.span.points, w.span.find, w.span.oddNormals = w.welder.Points, w.welder, w.oddNormals
	return nil
}

// weld welds the first facets of the batch.
func (w *textWorker) weld(facets int) {
	for i := range 3 * facets {
		w.batch.Tags[i] = w.batch.Corners[i].Tag()
	}
	at := len(w.span.triangles)
	w.span.triangles = append(w.span.triangles, make([][3]int32, facets)...)
	w.batch.Add(w.welder, w.span.triangles[at:])
}
