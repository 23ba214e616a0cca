package files

import (
	"strings"
	"unicode"
)

// longestName is how many characters of a name stay.
const longestName = 80

// plainText makes a name from a file fit for a terminal: control characters and
// other unprintable runes go, runs of white space become one space, and no more
// than 80 runes stay.
func plainText(s string) string {
	s = strings.Join(strings.Fields(printable(s)), " ")
	if r := []rune(s); len(r) > longestName {
		s = string(r[:longestName-1]) + "…"
	}
	return s
}

// printable makes one line of any text: white space of any kind becomes a space,
// what cannot be printed goes, and so does what would turn the writing direction.
func printable(s string) string {
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
