package files

import (
	"strings"
	"unicode"
)

// plainText makes a name from a file fit for a terminal: control characters and
// other unprintable runes go, runs of white space become one space, and no more
// than 80 runes stay.
func plainText(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case !unicode.IsPrint(r):
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, ""))
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > 80 {
		s = string(r[:79]) + "…"
	}
	return s
}
