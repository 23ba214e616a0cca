package stl

import (
	"bytes"
	"fmt"
)

// fault says what is wrong at the word last read.
func (t *textReader) fault(sentinel error, msg, hint string) error {
	if t.err != nil {
		return t.err
	}
	line, err := lineAt(t.src, t.from)
	if err != nil {
		return err
	}
	facet := 0
	if t.open >= 0 {
		facet = t.facets + 1
	}
	return &FormatError{Line: line, Facet: facet, Err: sentinel, Msg: msg, Hint: hint}
}

// unexpected says that another word should stand where one was read.
func (t *textReader) unexpected(word []byte, want string) error {
	switch {
	case len(word) == 0, t.open >= 0 && t.offset() == t.src.size:
		return t.fault(ErrTruncated, fmt.Sprintf("the file ends where %s should stand", want), hintCopy)
	case number(word):
		return t.fault(ErrSyntax, fmt.Sprintf("one number too many: %s stands where %s should", quote(word), want), hintExport)
	}
	return t.fault(ErrSyntax, fmt.Sprintf("%s stands where %s should", quote(word), want), hintExport)
}

// notNumber says that a number should stand where a word was read.
func (t *textReader) notNumber(word []byte) error {
	switch {
	case len(word) == 0:
		return t.fault(ErrTruncated, "the file ends where a number should stand", hintCopy)
	case bytes.IndexByte(word, ',') >= 0 && number(bytes.Replace(word, []byte(","), []byte("."), 1)):
		return t.fault(ErrSyntax, fmt.Sprintf("%s has a decimal comma", quote(word)), "export the model again with decimal points, or as binary STL")
	}
	return t.fault(ErrSyntax, fmt.Sprintf("%s stands where a number should", quote(word)), hintExport)
}

// number reports whether a word is a decimal number.
func number(word []byte) bool {
	_, n := decimal(word)
	return n > 0 && n == len(word)
}

// vertices returns n vertices in words.
func vertices(n int) string {
	if n == 1 {
		return "1 vertex"
	}
	return fmt.Sprintf("%d vertices", n)
}

// noEnd says that the file ends between two facets.
func (t *textReader) noEnd() error {
	line, err := lineAt(t.src, t.from)
	if err != nil {
		return err
	}
	return &FormatError{Line: line, Err: ErrTruncated, Hint: hintCopy,
		Msg: fmt.Sprintf("the file ends without endsolid, after %s", count(int64(t.facets), "facet"))}
}
