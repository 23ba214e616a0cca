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

// model names the model that was read; "-" is no name.
func model(file string) string {
	if file == "-" {
		return "standard input"
	}
	return Line(file)
}
