package stl

import (
	"bytes"
	"strings"
	"unicode"
	"unicode/utf8"
)

// longestName is how many bytes of a name are kept. A name is for people to
// read; a binary header has 80.
const longestName = 200

// printable returns text of a file without what could move a terminal's cursor
// or turn its writing direction: control and format characters are dropped,
// bytes that are not UTF-8 show as U+FFFD.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r == '\u2028' || r == '\u2029' {
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "\uFFFD"))
}

// nameOf returns the name of a solid, fit for showing.
func nameOf(b []byte) string {
	return strings.TrimSpace(printable(string(shorten(bytes.TrimSpace(b), longestName))))
}

// shorten cuts b to at most n bytes, and not inside a character.
func shorten(b []byte, n int) []byte {
	if len(b) <= n {
		return b
	}
	for n > 0 && !utf8.RuneStart(b[n]) {
		n--
	}
	return b[:n]
}
