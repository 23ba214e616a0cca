package stl

import (
	"bytes"
	"fmt"
	"unicode/utf8"
)

// findMangling recognises a binary file whose bytes a program changed that took
// them for text. It is asked only about files whose size is wrong, because
// every such change makes a file longer.
func findMangling(src source, part binaryPart) error {
	sample, err := src.block(make([]byte, min(1<<20, src.size)), 0)
	if err != nil {
		return err
	}
	const hint = "export it again and move it as a binary file"
	if n := bytes.Count(sample, []byte("\uFFFD")); n >= 3 && n > len(sample)/10_000 {
		return &FormatError{Byte: int64(bytes.Index(sample, []byte("\uFFFD"))), Err: ErrMangled,
			Msg:  "a program that took this binary STL for text has replaced bytes by the mark EF BF BD, and their values are lost",
			Hint: hint}
	}
	if n := multibyte(sample); n >= 8 {
		return &FormatError{Err: ErrMangled,
			Msg:  fmt.Sprintf("this binary STL was converted to UTF-8 text, which made %s of its bytes longer", countIn(n, src.size, sample)),
			Hint: hint}
	}
	if src.size <= int64(len(sample)) {
		pairs := bytes.Count(sample, []byte("\r\n"))
		if pairs > 0 && pairs == bytes.Count(sample, []byte("\n")) && part.end()+int64(pairs) == src.size {
			return &FormatError{Err: ErrMangled,
				Msg:  fmt.Sprintf("%s in this binary STL had a carriage return put before, as a copy in text mode does", count(int64(pairs), "byte")),
				Hint: "copy it again in binary mode"}
		}
	}
	return nil
}

// multibyte returns how many characters of several bytes b holds when it is all
// UTF-8 (up to a character cut at its end), else 0. Floats are hardly ever.
func multibyte(b []byte) int {
	n := 0
	for i := 0; i < len(b); {
		if b[i] < utf8.RuneSelf {
			i++
			continue
		}
		r, size := utf8.DecodeRune(b[i:])
		if r == utf8.RuneError && size == 1 {
			if len(b)-i < utf8.UTFMax {
				break
			}
			return 0
		}
		n++
		i += size
	}
	return n
}

// countIn returns n in words, "at least" when only a sample of the file was seen.
func countIn(n int, size int64, sample []byte) string {
	if int64(len(sample)) < size {
		return fmt.Sprintf("at least %d", n)
	}
	return fmt.Sprint(n)
}
