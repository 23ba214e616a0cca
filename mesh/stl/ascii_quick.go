package stl

import (
	"encoding/binary"
	"math"

	"bellyline/mesh/internal/weld"
)

// The words of the grammar as the bytes of a little-endian number.
const (
	wordFacet    = 0x74_65_63_61_66
	wordNormal   = 0x6C_61_6D_72_6F_6E
	wordOuter    = 0x72_65_74_75_6F
	wordLoop     = 0x70_6F_6F_6C
	wordVertex   = 0x78_65_74_72_65_76
	wordEndloop  = 0x70_6F_6F_6C_64_6E_65
	wordEndfacet = 0x74_65_63_61_66_64_6E_65
)

// quickFacet reads the facet that comes next if all of it is in the window and
// plain, of less than longestWord bytes. Otherwise it returns false, nothing is read, and step finds out what is
// the matter.
func (t *textReader) quickFacet(corners *[3]weld.Corner) bool {
	b, i := t.buf, t.pos
	if i = skipSpaces(b, i); t.base+int64(i) >= t.limit {
		return false
	}
	if i = skipWord(b, i, wordFacet, 5); i < 0 {
		return false
	}
	if i = skipWord(b, i, wordNormal, 6); i < 0 {
		return false
	}
	for range 3 {
		if i = skipNumeric(b, i); i < 0 {
			return false
		}
	}
	if i = skipWord(b, i, wordOuter, 5); i < 0 {
		return false
	}
	if i = skipWord(b, i, wordLoop, 4); i < 0 {
		return false
	}
	for v := range corners {
		if i = skipWord(b, i, wordVertex, 6); i < 0 {
			return false
		}
		for k := range corners[v] {
			i = skipSpaces(b, i)
			x, n := decimal(b[i:])
			i += n
			if n == 0 || i >= len(b) || !isSpace(b[i]) || !(x <= largestCoordinate && x >= -largestCoordinate) {
				return false
			}
			corners[v][k] = weld.PlusZero(math.Float32bits(x))
		}
	}
	if i = skipWord(b, i, wordEndloop, 7); i < 0 {
		return false
	}
	if i = skipWord(b, i, wordEndfacet, 8); i < 0 || i-t.pos > longestWord {
		return false
	}
	t.pos = i
	return true
}

// skipSpaces returns the place of the first byte from i on that is no space.
func skipSpaces(b []byte, i int) int {
	for i < len(b) && isSpace(b[i]) {
		i++
	}
	return i
}

// skipWord returns the place behind a word of n letters in any case, and any
// white space before it, or -1 when something else comes.
func skipWord(b []byte, i int, word uint64, n int) int {
	i = skipSpaces(b, i)
	if len(b)-i < 9 { // eight to look at and a space
		return -1
	}
	const lower = 0x20_20_20_20_20_20_20_20
	got := (binary.LittleEndian.Uint64(b[i:]) | lower) << (64 - 8*n) >> (64 - 8*n)
	if got != word || !isSpace(b[i+n]) {
		return -1
	}
	return i + n
}

// skipNumeric returns the place behind a word of numeric characters, and any
// white space before it, or -1 when something else comes.
func skipNumeric(b []byte, i int) int {
	i = skipSpaces(b, i)
	start := i
	for i < len(b) && isNumeric(b[i]) {
		i++
	}
	if i == start || i == len(b) || !isSpace(b[i]) {
		return -1
	}
	return i
}
