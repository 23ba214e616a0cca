package show

import "strings"

func plural(n int, word string) string {
	if n == 1 {
		return word
	}
	return word + "s"
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// words turns a JSON word into people's: "boundary_edge" into "boundary edge".
func words(key string) string { return strings.ReplaceAll(key, "_", " ") }
