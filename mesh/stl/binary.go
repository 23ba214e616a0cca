package stl

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"

	"bellyline/mesh"
	"bellyline/mesh/internal/hugepages"
	"bellyline/mesh/internal/weld"
)

// A binary STL file is a header of 80 bytes of anything, a facet count, and a
// record a facet: normal, three corners (twelve float32) and two bytes of
// attribute, all little-endian.
const (
	headerBytes = 80
	frontBytes  = headerBytes + 4
	facetBytes  = 50
)

// binaryPart is one binary STL file, of which several may be glued together.
type binaryPart struct {
	offset int64 // of its first facet
	facets int64
	name   string
}

// end returns the offset behind the last facet.
func (p binaryPart) end() int64 { return p.offset + p.facets*facetBytes }

// readPart returns the part that begins at an offset, or not ok when there is
// no room for its front. Its facets may reach past the end of the file.
func readPart(src source, offset int64) (part binaryPart, ok bool, err error) {
	front, err := src.block(make([]byte, frontBytes), offset)
	if err != nil || len(front) < frontBytes {
		return binaryPart{}, false, err
	}
	name, _, _ := bytes.Cut(front[:headerBytes], []byte{0})
	return binaryPart{
		offset: offset + frontBytes,
		facets: int64(binary.LittleEndian.Uint32(front[headerBytes:])),
		name:   nameOf(name),
	}, true, nil
}

// binaryParts finds the parts of a binary file and what is odd behind them, and
// refuses a file whose size its counts do not explain.
func binaryParts(src source) ([]binaryPart, []Note, error) {
	first, ok, err := readPart(src, 0)
	if err != nil {
		return nil, nil, err
	}
	if !ok {
		return nil, nil, &FormatError{Byte: src.size, Err: ErrTruncated,
			Msg:  fmt.Sprintf("the file ends after %s, a binary STL has %d before its first facet", count(src.size, "byte"), frontBytes),
			Hint: hintCopy}
	}
	if first.end() != src.size {
		if err := findMangling(src, first); err != nil {
			return nil, nil, err
		}
	}
	if first.end() > src.size {
		return nil, nil, tooShort(src, first)
	}
	parts := []binaryPart{first}
	for parts[len(parts)-1].end() < src.size {
		next, ok, err := readPart(src, parts[len(parts)-1].end())
		if err != nil {
			return nil, nil, err
		}
		if !ok || next.facets == 0 || next.end() > src.size {
			break
		}
		parts = append(parts, next)
	}
	notes, err := notesOnEnd(src, parts)
	return parts, notes, err
}

// tooShort says what is wrong with a file that has fewer facets than its count.
func tooShort(src source, part binaryPart) *FormatError {
	left := src.size - part.offset
	whole := left / facetBytes
	if left%facetBytes == 0 {
		return &FormatError{Byte: headerBytes, Err: ErrCount,
			Msg:  fmt.Sprintf("the header promises %s, the file holds %d", count(part.facets, "facet"), whole),
			Hint: "the file was cut short or its count is wrong: copy or export it again"}
	}
	return &FormatError{Byte: src.size, Facet: int(whole + 1), Err: ErrTruncated,
		Msg:  fmt.Sprintf("the file ends inside facet %d of %d", whole+1, part.facets),
		Hint: hintCopy}
}

// notesOnEnd says what comes after the first part.
func notesOnEnd(src source, parts []binaryPart) ([]Note, error) {
	var notes []Note
	if more := len(parts) - 1; more > 0 {
		notes = append(notes, Note{Kind: NoteSecondFile, Count: more,
			Text: fmt.Sprintf("%s glued behind the first: all were read", count(int64(more), "whole binary file"))})
	}
	end := parts[len(parts)-1].end()
	left := src.size - end
	if left == 0 {
		return notes, nil
	}
	behind, err := src.block(make([]byte, facetBytes), end)
	if err != nil {
		return nil, err
	}
	if looksLikeFacet(behind) {
		var facets int64
		for _, part := range parts {
			facets += part.facets
		}
		return nil, &FormatError{Byte: headerBytes, Err: ErrCount,
			Msg:  fmt.Sprintf("the header promises %s, the file holds at least %d", count(facets, "facet"), facets+left/facetBytes),
			Hint: "export the file again"}
	}
	return append(notes, Note{Kind: NoteTrailingBytes, Count: int(left),
		Text: fmt.Sprintf("%s behind the last facet: not used", count(left, "byte"))}), nil
}

// looksLikeFacet reports whether a whole record has a normal of length 1 within
// what sloppy exporters write, or a zero normal before corners that are not all
// zero but could be lengths.
func looksLikeFacet(record []byte) bool {
	if len(record) < facetBytes {
		return false
	}
	var x [12]float64
	for i := range x {
		x[i] = float64(float32At(record, 4*i))
		if !(x[i] > -1e9 && x[i] < 1e9) {
			return false
		}
	}
	normal := x[0]*x[0] + x[1]*x[1] + x[2]*x[2]
	if normal == 0 {
		for _, c := range x[3:] {
			if c > 1e-9 || c < -1e-9 {
				return true
			}
		}
	}
	return normal > 0.9 && normal < 1.1
}

// readBinary reads and welds a binary file.
func (j *job) readBinary(unit Unit) (*Model, error) {
	parts, notes, err := binaryParts(j.src)
	if err != nil {
		return nil, err
	}
	model := &Model{Notes: notes}
	var facets int64
	for _, part := range parts {
		facets += part.facets
		model.Solids = append(model.Solids, part.name)
	}
	if facets == 0 {
		return nil, errNoFacet()
	}
	if facets > mostFacets {
		return nil, errTooMany(facets)
	}
	model.Mesh = &mesh.Mesh{Triangles: hugepages.Make[[3]int32](int(facets))}
	spans := make([]span, workersFor(j.src.size))
	for k := range spans {
		first, end := facets*int64(k)/int64(len(spans)), facets*int64(k+1)/int64(len(spans))
		spans[k].run = func(s *span) error {
			w := binaryWorker{job: j, span: s, parts: parts, welder: weld.NewWelder(closedVertices(int(end - first)))}
			s.triangles = model.Mesh.Triangles[first:end]
			return w.read(first, end)
		}
	}
	return j.assemble(model, spans, unit)
}

// binaryWorker reads and welds a run of facets.
type binaryWorker struct {
	*job
	*span
	parts  []binaryPart
	welder *weld.Welder
	batch  weld.Batch
}

// read reads the facets from first to below end, counted over all parts.
func (w *binaryWorker) read(first, end int64) error {
	buf := make([]byte, min(blockBytes/facetBytes, end-first)*facetBytes)
	base := int64(0) // facets in earlier parts
	for _, part := range w.parts {
		for at := max(first, base); at < min(end, base+part.facets); {
			if err := w.ctx.Err(); err != nil {
				return err
			}
			size := min(int64(len(buf)), (min(end, base+part.facets)-at)*facetBytes)
			offset := part.offset + (at-base)*facetBytes
			block, err := w.src.block(buf[:size], offset)
			if err != nil {
				return err
			}
			if fault := w.weld(block, w.triangles[at-first:]); fault >= 0 {
				return badCorner(block[fault*facetBytes:][:facetBytes], offset+int64(fault)*facetBytes, at+int64(fault))
			}
			w.progress.add(len(block))
			at += int64(len(block) / facetBytes)
		}
		base += part.facets
	}
	w.points, w.find = w.welder.Points, w.welder
	return nil
}

// weld welds the facets of a block, whose triangles come first in triangles.
// It returns the facet at which it gave up because a coordinate is no length,
// or -1.
func (w *binaryWorker) weld(block []byte, triangles [][3]int32) int {
	for f, facets := 0, len(block)/facetBytes; f < facets; {
		n := min(weld.BatchCorners/3, facets-f)
		if bad := w.unpack(block[f*facetBytes:], n); bad >= 0 {
			return f + bad
		}
		w.batch.Add(w.welder, triangles[f:f+n])
		f += n
	}
	return -1
}

// unpack puts the corners of the first facets of a block into the batch. It
// returns the first facet of which a coordinate is no length, or -1.
func (w *binaryWorker) unpack(block []byte, facets int) int {
	const sign = 1 << 31
	limit, infinite := math.Float32bits(largestCoordinate), uint32(0x7f800000)
	for f := range facets {
		record := (*[facetBytes]byte)(block[f*facetBytes:])
		if max(le32(record[0:])&^sign, le32(record[4:])&^sign, le32(record[8:])&^sign) >= infinite {
			w.oddNormals++
		}
		corners := (*[3]weld.Corner)(w.batch.Corners[3*f:])
		tags := (*[3]uint32)(w.batch.Tags[3*f:])
		for v := range 3 {
			x, y, z := le32(record[12+12*v:]), le32(record[16+12*v:]), le32(record[20+12*v:])
			if max(x&^sign, y&^sign, z&^sign) > limit {
				return f
			}
			x, y, z = weld.PlusZero(x), weld.PlusZero(y), weld.PlusZero(z)
			corners[v] = weld.Corner{x, y, z}
			tags[v] = weld.TagOf(x, y, z) // of the corner, but not by way of memory
		}
	}
	return -1
}

// le32 returns the first four bytes of b as a little-endian number.
func le32(b []byte) uint32 { return binary.LittleEndian.Uint32(b) }

// badCorner says which coordinate of a record is no length.
func badCorner(record []byte, offset, facet int64) error {
	for i := 12; i < 48; i += 4 {
		x := float64(float32At(record, i))
		fault := &FormatError{Byte: offset + int64(i), Facet: int(facet + 1)}
		place := fmt.Sprintf("%c of corner %d", "xyz"[i/4%3], i/12)
		switch {
		case math.IsNaN(x) || math.IsInf(x, 0):
			fault.Err, fault.Msg, fault.Hint = ErrNotFinite, fmt.Sprintf("%s is %v, not a finite number", place, x), hintDrawn
			return fault
		case math.Abs(x) > largestCoordinate:
			fault.Err, fault.Msg, fault.Hint = ErrTooLarge, fmt.Sprintf("%s is %.3g, too large for a length", place, x), hintCopy
			return fault
		}
	}
	panic("mesh: no coordinate of the refused facet is bad")
}

// float32At returns the float32 at a place in b.
func float32At(b []byte, at int) float32 {
	return math.Float32frombits(binary.LittleEndian.Uint32(b[at:]))
}
