package stl

import (
	"bytes"
	"fmt"
	"math"

	"bellyline/mesh/internal/weld"
)

// textReader reads text STL word by word: right about everything that can be
// odd, and able to say what is wrong where. What is plain is read by quickFacet.
//
//	solid NAME
//	  facet normal X Y Z
//	    outer loop
//	      vertex X Y Z     three times
//	    endloop
//	  endfacet
//	endsolid NAME
//
// Words are taken in any case and with any white space between them; only names
// end with their line.
type textReader struct {
	words
	facets     int      // complete ones
	solids     []string // names of those begun
	open       int64    // offset of the solid that is open, -1 between solids
	oddNormals int      // normals that are not three finite numbers
	corners    [3]weld.Corner

	limit int64 // offset of a word, that of a facet, where to stop
	met   bool  // whether the reader stopped right there, inside a solid
}

// step reads up to the end of the next facet and returns true, or false at the
// limit or the end of the file. The facet is in corners.
func (t *textReader) step() (bool, error) {
	for {
		word := t.next()
		switch {
		case t.err != nil:
			return false, t.err
		case t.from >= t.limit:
			t.met = t.from == t.limit && t.open >= 0
			return false, nil
		case len(word) == 0 && t.open >= 0:
			return false, t.noEnd()
		case len(word) == 0:
			return false, nil
		case t.open < 0 && is(bytes.TrimPrefix(word, []byte(byteOrderMark)), "solid"):
			t.open = t.from
			t.solids = append(t.solids, t.solidName())
		case t.open < 0 && len(bytes.Trim(word, "\x00\x1A")) == 0 && len(t.solids) > 0:
			// What fills the last block of a disk, or ends text in CP/M.
		case t.open < 0:
			return false, t.unexpected(word, "solid")
		case is(word, "endsolid"):
			t.open = -1
			t.endName()
		case is(word, "facet"):
			if err := t.facet(); err != nil {
				return false, err
			}
			t.facets++
			return true, nil
		case is(word, "solid"):
			return false, t.fault(ErrSyntax, "a solid begins before the endsolid of the one before", hintExport)
		default:
			return false, t.unexpected(word, "facet or endsolid")
		}
	}
}

// solidName reads the rest of the line that begins a solid, or less when the
// facets begin on that line.
func (t *textReader) solidName() string {
	line := t.line()
	if at := facetNormal(line); at >= 0 {
		t.pos -= len(line) - at
		return nameOf(line[:at])
	}
	name := nameOf(line)
	t.skip(inLine)
	return name
}

// endName goes past the rest of the line that ends a solid, up to the next solid
// if that and its first facet begin on the same line.
func (t *textReader) endName() {
	line := t.line()
	at := max(0, facetNormal(line))
	for from := 0; from < at; {
		n := bytes.Index(bytes.ToLower(line[from:at]), []byte("solid"))
		if n < 0 {
			break
		}
		from += n
		if (from == 0 || isSpace(line[from-1])) && isSpace(line[from+len("solid")]) {
			t.pos -= len(line) - from
			return
		}
		from += len("solid")
	}
	t.skip(inLine)
}

// facetNormal returns where in a line the words "facet normal" stand, or -1.
func facetNormal(line []byte) int {
	for i := 0; i < len(line); {
		for i < len(line) && isSpace(line[i]) {
			i++
		}
		start := i
		for i < len(line) && !isSpace(line[i]) {
			i++
		}
		if !is(line[start:i], "facet") {
			continue
		}
		after := bytes.TrimLeft(line[i:], whitespace)
		const normal = "normal"
		if len(after) > len(normal) && is(after[:len(normal)], normal) && isSpace(after[len(normal)]) {
			return start
		}
	}
	return -1
}

// facet reads what follows the word facet.
func (t *textReader) facet() error {
	if err := t.expect("normal"); err != nil {
		return err
	}
	if err := t.normal(); err != nil {
		return err
	}
	if err := t.expect("loop"); err != nil {
		return err
	}
	for v := range t.corners {
		word := t.next()
		if is(word, "endloop") {
			return t.fault(ErrSyntax, fmt.Sprintf("the loop has %s, a facet needs 3", vertices(v)), hintExport)
		}
		if !is(word, "vertex") {
			return t.unexpected(word, "vertex")
		}
		if err := t.vertex(&t.corners[v]); err != nil {
			return err
		}
	}
	word := t.next()
	if is(word, "vertex") {
		return t.fault(ErrSyntax, "the loop has more than 3 vertices, a facet has 3", "cut the model's faces into triangles and export it again")
	}
	if !is(word, "endloop") {
		return t.unexpected(word, "endloop")
	}
	return t.expect("endfacet")
}

// normal reads what stands for a normal, up to the word outer. Normals are not used,
// so one that is not three finite numbers is only counted. A word that belongs
// further on in a facet says that the facet is no facet.
func (t *textReader) normal() error {
	odd := false
	for n := 0; ; n++ {
		word := t.next()
		switch {
		case is(word, "outer"):
			if odd || n != 3 {
				t.oddNormals++
			}
			return nil
		case len(word) == 0, behindNormal(word):
			return t.unexpected(word, "outer")
		case !numeric(word):
			odd = true
		}
	}
}

// behindNormal reports whether a word of the grammar stands further on in a facet,
// or begins or ends one.
func behindNormal(word []byte) bool {
	for _, later := range [...]string{"loop", "vertex", "endloop", "endfacet", "facet", "endsolid", "solid"} {
		if is(word, later) {
			return true
		}
	}
	return false
}

// vertex reads the three coordinates of a vertex.
func (t *textReader) vertex(c *weld.Corner) error {
	for i := range c {
		word := t.next()
		x, n := decimal(word)
		switch {
		case n > 0 && n == len(word):
			if !(x <= largestCoordinate && x >= -largestCoordinate) {
				return t.fault(ErrTooLarge, fmt.Sprintf("the coordinate %s is too large for a length", quote(word)), hintExport)
			}
			c[i] = weld.PlusZero(math.Float32bits(x))
		case notFinite(word):
			return t.fault(ErrNotFinite, fmt.Sprintf("the coordinate %s is not a finite number", quote(word)), hintDrawn)
		case is(word, "vertex"), is(word, "endloop"):
			return t.fault(ErrSyntax, fmt.Sprintf("the vertex has %s, it needs 3", count(int64(i), "number")), hintExport)
		default:
			return t.notNumber(word)
		}
	}
	return nil
}

// expect reads one word that must stand here.
func (t *textReader) expect(want string) error {
	if word := t.next(); !is(word, want) {
		return t.unexpected(word, want)
	}
	return nil
}

// is compares a word of the file with one of the grammar, in any case.
func is(word []byte, want string) bool {
	if len(word) != len(want) {
		return false
	}
	for i := range word {
		if word[i]|0x20 != want[i] {
			return false
		}
	}
	return true
}

// numeric reports whether a word has only characters of decimal numbers.
func numeric(word []byte) bool {
	for _, b := range word {
		if !isNumeric(b) {
			return false
		}
	}
	return true
}

// isNumeric reports whether b is a digit, a sign, a point or an e.
func isNumeric(b byte) bool {
	const set = 0x3FF<<('0'-'+') | 1 | 1<<('-'-'+') | 1<<('.'-'+') | 1<<('E'-'+') | 1<<('e'-'+')
	return uint64(set)>>(b-'+')&1 != 0
}

// notFinite reports whether a word is how some program writes a number that is
// none: nan, -nan(ind), inf, infinity, 1.#IND, -1.#QNAN, 1.#INF.
func notFinite(word []byte) bool {
	word = bytes.ToLower(bytes.TrimLeft(word, "+-"))
	for _, start := range []string{"nan", "inf", "1.#ind", "1.#qnan", "1.#snan", "1.#inf"} {
		if bytes.HasPrefix(word, []byte(start)) {
			return true
		}
	}
	return false
}
