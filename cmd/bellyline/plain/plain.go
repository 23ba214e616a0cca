// Package plain makes text from files and models fit to be shown: nothing in it
// can steer a terminal.
package plain

import (
	"strings"
	"unicode"
)

// longestName is how many characters of a name stay.
const longestName = 80

// Name makes a name fit for a terminal: as Line does, runs of white space become
// one space, and no more than 80 runes stay.
func Name(s string) string {
	s = strings.Join(strings.Fields(Line(s)), " ")
	if r := []rune(s); len(r) > longestName {
		s = string(r[:longestName-1]) + "…"
	}
	return s
}

// Line makes one line of any text: white space of any kind becomes a space, what
// cannot be printed goes, and so does what would turn the writing direction.
func Line(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case !unicode.IsPrint(r):
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, ""))
}
