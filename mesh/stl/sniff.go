package stl

import (
	"bytes"
	"encoding/binary"
	"fmt"
)

// sniffBytes is how much of a file's start is looked at to tell what it is.
const sniffBytes = 1024

// byteOrderMark is what some editors put before UTF-8 text.
const byteOrderMark = "\xEF\xBB\xBF"

// sniff tells which encoding of STL a file is in, and refuses what is neither.
//
// A binary header may say anything, "solid" and "facet" included, so a file
// whose size fits its binary count is binary whatever it begins with: where a
// text file has that count stand characters, which would promise at least 27
// gigabytes (0x20202020 facets).
func sniff(src source) (Format, error) {
	head, err := src.block(make([]byte, sniffBytes), 0)
	if err != nil {
		return "", err
	}
	switch {
	case len(head) == 0:
		return "", &FormatError{Err: ErrEmpty, Msg: "the file is empty", Hint: "copy or export it again"}
	case fitsBinary(head, src.size):
		return Binary, nil
	case beginsWithSolid(head) && (!hasBinaryBytes(head) || firstLineThenFacet(head)):
		return ASCII, nil
	}
	if what, hint := foreign(head); what != "" {
		return "", &FormatError{Err: ErrNotSTL, Msg: "this is " + what + ", not an STL file", Hint: hint}
	}
	if !hasBinaryBytes(head) {
		return "", notSolid(head)
	}
	if implausible(head, src.size) {
		return "", &FormatError{Err: ErrNotSTL,
			Msg: fmt.Sprintf("this is not an STL file: where its facet count should be stands %d, and it has room for %d",
				binary.LittleEndian.Uint32(head[headerBytes:]), (src.size-frontBytes)/facetBytes),
			Hint: "export the model as binary STL"}
	}
	return Binary, nil
}

// fitsBinary reports whether the size is that of a binary file with its count.
func fitsBinary(head []byte, size int64) bool {
	if len(head) < frontBytes {
		return false
	}
	facets := int64(binary.LittleEndian.Uint32(head[headerBytes:]))
	return size == frontBytes+facets*facetBytes
}

// implausible reports whether a binary file that does not fit its count is so
// far from it that it is rather something else. A file cut short keeps some
// hundredth of its facets, or is short itself.
func implausible(head []byte, size int64) bool {
	if len(head) < sniffBytes {
		return false
	}
	facets := int64(binary.LittleEndian.Uint32(head[headerBytes:]))
	room := (size - frontBytes) / facetBytes
	return facets > 1<<24 && facets > 100*room
}

// beginsWithSolid reports whether the first word is "solid" in any case.
func beginsWithSolid(head []byte) bool {
	head = bytes.TrimLeft(bytes.TrimPrefix(head, []byte(byteOrderMark)), whitespace)
	const word = "solid"
	return len(head) >= len(word) && bytes.EqualFold(head[:len(word)], []byte(word)) &&
		(len(head) == len(word) || isSpace(head[len(word)]))
}

// hasBinaryBytes reports whether text would not have these bytes. The count and
// the zeros of a binary file's first facets always do.
func hasBinaryBytes(head []byte) bool {
	for _, b := range head {
		if b < ' ' && !isSpace(b) && b != 0x1A && b != 0x1B {
			return true
		}
	}
	return false
}

// firstLineThenFacet reports whether a line end and then "facet" or "endsolid"
// follow, so that a solid whose name has binary bytes is still text.
func firstLineThenFacet(head []byte) bool {
	end := bytes.IndexAny(head, "\r\n")
	if end < 0 {
		return false
	}
	next := bytes.ToLower(bytes.TrimLeft(head[end:], whitespace))
	return bytes.HasPrefix(next, []byte("facet ")) || bytes.HasPrefix(next, []byte("endsolid"))
}

// notSolid refuses text that does not begin as STL does.
func notSolid(head []byte) error {
	start := bytes.TrimLeft(bytes.TrimPrefix(head, []byte(byteOrderMark)), whitespace)
	if len(start) == 0 {
		return &FormatError{Err: ErrEmpty, Msg: "the file holds nothing but blanks", Hint: "copy or export it again"}
	}
	line := 1 + lineBreaks(head[:len(head)-len(start)])
	word := start
	if end := bytes.IndexAny(start, whitespace); end > 0 {
		word = start[:end]
	}
	return &FormatError{Line: line, Err: ErrNotSTL,
		Msg:  fmt.Sprintf("a text STL begins with \"solid\", this file with %s", quote(word)),
		Hint: "export the model as binary STL"}
}

// foreign returns what a file is by its first bytes and what to do with it, or
// nothing when they say nothing.
func foreign(head []byte) (what, hint string) {
	const export = "export the model as binary STL"
	for _, sign := range []struct{ start, what, hint string }{
		{"\xFF\xD8\xFF", "a JPEG picture", "a picture has no volume: " + export},
		{"\x89PNG", "a PNG picture", "a picture has no volume: " + export},
		{"GIF8", "a GIF picture", "a picture has no volume: " + export},
		{"%PDF", "a PDF document", export},
		{"\x1F\x8B", "a gzip archive", "unpack it first"},
		{"7z\xBC\xAF", "a 7z archive", "unpack it first"},
		{"Rar!", "a RAR archive", "unpack it first"},
		{"\xFF\xFE", "text in UTF-16", "save it as UTF-8, or export the model as binary STL"},
		{"\xFE\xFF", "text in UTF-16", "save it as UTF-8, or export the model as binary STL"},
		{"\xD0\xCF\x11\xE0", "a document of a CAD or office program", "open it there and " + export},
		{"ISO-10303-21", "a STEP model", "open it in a CAD program and " + export},
		{"glTF", "a glTF model", export},
		{"ply", "a PLY model", export},
		{"OFF", "an OFF model", export},
		{"Kaydara FBX", "an FBX model", export},
		{"version https://git-lfs", "a pointer to a file in Git LFS", "fetch the file itself with git lfs pull"},
	} {
		if bytes.HasPrefix(head, []byte(sign.start)) {
			return sign.what, sign.hint
		}
	}
	if bytes.HasPrefix(head, []byte("PK\x03\x04")) {
		if bytes.Contains(head, []byte("3D/")) || bytes.Contains(head, []byte("[Content_Types].xml")) {
			return "a 3MF model", "open it in a slicer or a CAD program and " + export
		}
		return "a ZIP archive", "unpack it first"
	}
	if hasBinaryBytes(head) {
		return "", ""
	}
	return foreignText(head)
}

// foreignText is foreign for files of readable characters.
func foreignText(head []byte) (what, hint string) {
	const export = "export the model as binary STL"
	text := bytes.ToLower(bytes.TrimLeft(bytes.TrimPrefix(head, []byte(byteOrderMark)), whitespace))
	switch {
	case bytes.HasPrefix(text, []byte("<!doctype html")), bytes.HasPrefix(text, []byte("<html")):
		return "a web page", "the download went wrong: fetch the model itself"
	case bytes.HasPrefix(text, []byte("<")) && bytes.Contains(text, []byte("<amf")):
		return "an AMF model", export
	case bytes.HasPrefix(text, []byte("<svg")), bytes.HasPrefix(text, []byte("<")) && bytes.Contains(text, []byte("<svg")):
		return "an SVG drawing", "a drawing has no volume: " + export
	case bytes.HasPrefix(text, []byte("<")):
		return "an XML document", export
	case bytes.HasPrefix(text, []byte("{")):
		return "a JSON document", export
	}
	for line := range bytes.Lines(text) {
		line = bytes.TrimSpace(line)
		word, _, _ := bytes.Cut(line, []byte(" "))
		switch string(word) {
		case "v", "vn", "vt", "mtllib", "usemtl":
			return "an OBJ model", export
		case "g0", "g1", "g21", "g28", "g90", "m104", "m140":
			return "G-code", "it moves a machine and has no surface: " + export
		}
		if len(line) > 0 && line[0] != '#' && line[0] != ';' && string(word) != "o" && string(word) != "g" {
			break
		}
	}
	return "", ""
}
