package files

import (
	"errors"
	"strings"

	"bellyline/cmd/bellyline/plain"

	"github.com/goccy/go-yaml"
)

// plainSyntax puts the YAML library's messages into words for people who do not
// know what a token is. The first that fits is used, so the order matters.
var plainSyntax = [...]struct{ says, means string }{
	{"found character '\t'", "a tab stands where spaces must; set lines in with spaces"},
	{"could not find end character of", "a quotation mark is opened here and never closed"},
	{"',' or ']' must be specified", "a bracket [ is not closed before this, or a comma is missing"},
	{"',' or '}' must be specified", "a bracket { is not closed before this, or a comma is missing"},
	{"sequence end token ']' not found", "a bracket [ is never closed"},
	{"could not find flow mapping end token", "a bracket { is never closed"},
	{"could not find '[' character", "a bracket ] closes what was never opened"},
	{"mapping value is not allowed", "a second colon in this line, or the next line is set in too far; text with a colon needs quotes"},
	{"map key-value is pre-defined", "something follows a value that is complete; text with quotation marks or brackets needs quotes around all of it"},
	{"value is not allowed in this context", "this line is not set in like its neighbours; line it up with them"},
	{"block sequence entries are not allowed", "a list begins on a new line below its key, with - before each entry"},
	{"is a reserved character", "text that begins with this character needs quotes"},
	{"unexpected directive value", "text that begins with % needs quotes"},
	{"found unknown escape character", "in double quotes a backslash is special; use / or single quotes"},
	{"unexpected key name", "every line is a key, a colon, a space and a value, like cavities: 2"},
	{"non-map value is specified", "every line is a key, a colon, a space and a value, like cavities: 2"},
}

// syntaxError turns the YAML library's error, which draws a picture of the
// place, into one line.
func syntaxError(path string, err error) *Error {
	e := &Error{File: path, Err: err}
	msg, _, _ := strings.Cut(err.Error(), "\n")
	var y yaml.Error
	if errors.As(err, &y) && y.GetToken() != nil {
		e.Line, msg = y.GetToken().Position.Line, y.GetMessage()
	}
	e.Msg = "cannot be read: " + inPlainWords(msg)
	return e
}

func inPlainWords(msg string) string {
	for _, p := range plainSyntax {
		if strings.Contains(msg, p.says) {
			return p.means
		}
	}
	return plain.Name(msg)
}
