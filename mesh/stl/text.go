package stl

import (
	"bytes"
	"fmt"
)

// whitespace is what may stand between the words of a text file.
const whitespace = " \t\n\v\f\r"

// isSpace reports whether b is one of whitespace.
func isSpace(b byte) bool {
	return b == ' ' || b-'\t' < 5
}

// lineBreaks counts the line ends in b, of all three kinds: LF, CRLF and CR.
func lineBreaks(b []byte) int {
	return bytes.Count(b, []byte("\n")) + bytes.Count(b, []byte("\r")) - bytes.Count(b, []byte("\r\n"))
}

// quote shows a word of a file in a message: shortened, and escaped so
// that a terminal obeys nothing in it.
func quote(word []byte) string {
	const most = 30
	if len(word) > most {
		return fmt.Sprintf("%q...", shorten(word, most))
	}
	return fmt.Sprintf("%q", word)
}

// count returns "1 facet", "2 facets" and so on.
func count(n int64, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
