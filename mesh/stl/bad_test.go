package stl

import (
	"bytes"
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"
)

// badFile is a file that is refused, with the whole line that says why.
type badFile struct {
	name string
	data []byte
	err  error
	line string
}

const (
	copyAgain   = "; copy or export the file again"
	exportAgain = "; export the model again, best as binary STL"
	exportIt    = "; export the model as binary STL"
	mendIt      = "; mend the model where it was drawn and export it again"
)

// badFiles returns files of every kind that is refused.
func badFiles() []badFile {
	return append(append(badBinaries(), badTexts()...), foreignFiles()...)
}

func badBinaries() []badFile {
	good := binarySTL("tetrahedron", 4, tetrahedron)
	corner := frontBytes + 2*facetBytes + 12 // first corner of facet 3
	second := frontBytes + facetBytes
	// 1 is 00 00 80 3F as a float32, little-endian, and 8.625 is 00 00 0A 41.
	replaced := bytes.ReplaceAll(good, []byte{0x80}, []byte("\uFFFD"))
	latin := latinToUTF8(binarySTL("", 8, append(slices.Clone(tetrahedron), tetrahedron...)))
	lines := binarySTL("lines", 2, []rawFacet{tetrahedron[0], {{0, 0, 0}, {8.625, 0, 0}, {0, 8.625, 0}}})
	return []badFile{
		{"empty", nil, ErrEmpty, "the file is empty; copy or export it again"},
		{"blank", []byte(" \r\n\t\n"), ErrEmpty, "the file holds nothing but blanks; copy or export it again"},
		{"no facet", binarySTL("nothing", 0, nil), ErrEmpty, "the model has no facets; export it again with the body selected"},
		{"cut in header", good[:50], ErrTruncated, "byte 50: the file ends after 50 bytes, a binary STL has 84 before its first facet" + copyAgain},
		{"one byte", []byte{0}, ErrTruncated, "byte 1: the file ends after 1 byte, a binary STL has 84 before its first facet" + copyAgain},
		{"cut in count", good[:83], ErrTruncated, "byte 83: the file ends after 83 bytes, a binary STL has 84 before its first facet" + copyAgain},
		{"cut in facet", good[:frontBytes+120], ErrTruncated, "byte 204, facet 3: the file ends inside facet 3 of 4" + copyAgain},
		{"cut by a byte", good[:len(good)-1], ErrTruncated, "byte 283, facet 4: the file ends inside facet 4 of 4" + copyAgain},
		{"cut, begins with solid", binarySTL("solid tetrahedron", 4, tetrahedron)[:frontBytes+120], ErrTruncated,
			"byte 204, facet 3: the file ends inside facet 3 of 4" + copyAgain},
		{"cut between facets", good[:frontBytes+100], ErrCount,
			"byte 80: the header promises 4 facets, the file holds 2; the file was cut short or its count is wrong: copy or export it again"},
		{"count too high", binarySTL("tetrahedron", 66, tetrahedron), ErrCount,
			"byte 80: the header promises 66 facets, the file holds 4; the file was cut short or its count is wrong: copy or export it again"},
		{"count beyond memory", binarySTL("tetrahedron", math.MaxUint32, tetrahedron), ErrCount,
			"byte 80: the header promises 4294967295 facets, the file holds 4; the file was cut short or its count is wrong: copy or export it again"},
		{"count too low", binarySTL("tetrahedron", 2, tetrahedron), ErrCount,
			"byte 80: the header promises 2 facets, the file holds at least 4; export the file again"},
		{"count of zero", binarySTL("tetrahedron", 0, tetrahedron), ErrCount,
			"byte 80: the header promises 0 facets, the file holds at least 4; export the file again"},
		{"count too low, normals", with(binarySTL("", 1, tetrahedron), second, float32Bytes(-1)...), ErrCount,
			"byte 80: the header promises 1 facet, the file holds at least 4; export the file again"},
		{"nan", with(good, corner, float32Bytes(math.NaN())...), ErrNotFinite, "byte 196, facet 3: x of corner 1 is NaN, not a finite number" + mendIt},
		{"infinity", with(good, corner+16, float32Bytes(math.Inf(1))...), ErrNotFinite, "byte 212, facet 3: y of corner 2 is +Inf, not a finite number" + mendIt},
		{"minus infinity", with(good, corner+32, float32Bytes(math.Inf(-1))...), ErrNotFinite, "byte 228, facet 3: z of corner 3 is -Inf, not a finite number" + mendIt},
		{"huge", with(good, corner+4, float32Bytes(-3e38)...), ErrTooLarge, "byte 200, facet 3: y of corner 1 is -3e+38, too large for a length" + copyAgain},
		{"nan in the second file", glue(good, with(good, corner, float32Bytes(math.NaN())...)), ErrNotFinite,
			"byte 480, facet 7: x of corner 1 is NaN, not a finite number" + mendIt},
		{"bytes replaced", replaced, ErrMangled,
			"byte 114: a program that took this binary STL for text has replaced bytes by the mark EF BF BD, and their values are lost; export it again and move it as a binary file"},
		{"bytes made UTF-8", latin, ErrMangled,
			"this binary STL was converted to UTF-8 text, which made 18 of its bytes longer; export it again and move it as a binary file"},
		{"line ends converted", bytes.ReplaceAll(lines, []byte("\n"), []byte("\r\n")), ErrMangled,
			"2 bytes in this binary STL had a carriage return put before, as a copy in text mode does; copy it again in binary mode"},
		{"noise", bytes.Repeat([]byte{0x9C, 0x01}, 2000), ErrNotSTL, // 0x019C019C is 27001244
			"this is not an STL file: where its facet count should be stands 27001244, and it has room for 78; export the model as binary STL"},
	}
}

// latinToUTF8 is what a program does that takes bytes for Latin-1 text.
func latinToUTF8(b []byte) []byte {
	var text []byte
	for _, c := range b {
		text = utf8.AppendRune(text, rune(c))
	}
	return text
}

func badTexts() []badFile {
	good := textSTL("t", tetrahedron)
	at := func(from, to string) []byte {
		i := strings.Index(good, from)
		return []byte(good[:i] + to + good[i+len(from):])
	}
	last2 := strings.Index(good, "vertex 0 0 1\n") // the last vertex of facet 2
	return []badFile{
		{"text: no facet", []byte("solid a\nendsolid a\n"), ErrEmpty, "the model has no facets; export it again with the body selected"},
		{"text: only solid", []byte("solid"), ErrTruncated, "line 1: the file ends without endsolid, after 0 facets" + copyAgain},
		{"text: two solids without facets", []byte("solid a\nendsolid a\nsolid b\nendsolid b"), ErrEmpty, "the model has no facets; export it again with the body selected"},
		{"text: no endsolid", []byte(strings.TrimSuffix(good, "endsolid t\n")), ErrTruncated, "line 30: the file ends without endsolid, after 4 facets" + copyAgain},
		{"text: cut in facet", []byte(good[:last2]), ErrTruncated, "line 13, facet 2: the file ends where vertex should stand" + copyAgain},
		{"text: cut in vertex", []byte(good[:last2+len("vertex 0 0")]), ErrTruncated, "line 13, facet 2: the file ends where a number should stand" + copyAgain},
		{"text: cut in word", []byte(good[:strings.Index(good, "endloop")+3]), ErrTruncated, "line 7, facet 1: the file ends where endloop should stand" + copyAgain},
		{"text: two solids, one open", []byte("solid a\n" + textFacets(tetrahedron) + good), ErrSyntax, "line 30, facet 5: a solid begins before the endsolid of the one before" + exportAgain},
		{"text: two vertices", at("      vertex 1 0 0\n", ""), ErrSyntax, "line 6, facet 1: the loop has 2 vertices, a facet needs 3" + exportAgain},
		{"text: one vertex", []byte("solid\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nendloop\nendfacet\nendsolid"), ErrSyntax, "line 5, facet 1: the loop has 1 vertex, a facet needs 3" + exportAgain},
		{"text: four vertices", at("vertex 1 0 0\n", "vertex 1 0 0\n vertex 1 1 0\n"), ErrSyntax, "line 7, facet 1: the loop has more than 3 vertices, a facet has 3; cut the model's faces into triangles and export it again"},
		{"text: two numbers", at("vertex 0 1 0", "vertex 0 1"), ErrSyntax, "line 6, facet 1: the vertex has 2 numbers, it needs 3" + exportAgain},
		{"text: four numbers", at("vertex 0 1 0", "vertex 0 1 0 7"), ErrSyntax, "line 5, facet 1: one number too many: \"7\" stands where vertex should" + exportAgain},
		{"text: two numbers, last vertex", at("vertex 1 0 0", "vertex 1 0"), ErrSyntax, "line 7, facet 1: the vertex has 2 numbers, it needs 3" + exportAgain},
		{"text: a vertex behind a normal", at("outer loop\n", ""), ErrSyntax, "line 3, facet 1: \"vertex\" stands where outer should" + exportAgain},
		{"text: a normal and no more", []byte("solid\nfacet normal up 0 0"), ErrTruncated, "line 2, facet 1: the file ends where outer should stand" + copyAgain},
		{"text: no normal", at("facet normal 0 0 0", "facet"), ErrSyntax, "line 3, facet 1: \"outer\" stands where normal should" + exportAgain},
		{"text: no endloop", at("endloop\n", "\n"), ErrSyntax, "line 8, facet 1: \"endfacet\" stands where endloop should" + exportAgain},
		{"text: no endfacet", at("endfacet\n", "\n"), ErrSyntax, "line 9, facet 1: \"facet\" stands where endfacet should" + exportAgain},
		{"text: no outer", at("outer loop", "loop"), ErrSyntax, "line 3, facet 1: \"loop\" stands where outer should" + exportAgain},
		{"text: junk", at("    endloop", "    junk\n    endloop"), ErrSyntax, "line 7, facet 1: \"junk\" stands where endloop should" + exportAgain},
		{"text: junk in vertex", at("vertex 0 1 0", "vertex 0 one 0"), ErrSyntax, "line 5, facet 1: \"one\" stands where a number should" + exportAgain},
		{"text: junk after number", at("vertex 0 1 0", "vertex 0 1mm 0"), ErrSyntax, "line 5, facet 1: \"1mm\" stands where a number should" + exportAgain},
		{"text: junk between facets", at("  facet", "  colour 1 0 0\n  facet"), ErrSyntax, "line 2, facet 1: \"colour\" stands where facet or endsolid should" + exportAgain},
		{"text: junk behind", []byte(good + "junk"), ErrSyntax, "line 31: \"junk\" stands where solid should" + exportAgain},
		{"text: decimal comma", at("vertex 0 1 0", "vertex 0 1,5 0"), ErrSyntax, "line 5, facet 1: \"1,5\" has a decimal comma; export the model again with decimal points, or as binary STL"},
		{"text: nan", at("vertex 0 1 0", "vertex 0 nan 0"), ErrNotFinite, "line 5, facet 1: the coordinate \"nan\" is not a finite number" + mendIt},
		{"text: nan as one compiler writes it", at("vertex 0 1 0", "vertex 0 -1.#IND 0"), ErrNotFinite, "line 5, facet 1: the coordinate \"-1.#IND\" is not a finite number" + mendIt},
		{"text: infinity", at("vertex 0 1 0", "vertex 0 -Infinity 0"), ErrNotFinite, "line 5, facet 1: the coordinate \"-Infinity\" is not a finite number" + mendIt},
		{"text: beyond float32", at("vertex 0 1 0", "vertex 0 1e39 0"), ErrTooLarge, "line 5, facet 1: the coordinate \"1e39\" is too large for a length" + exportAgain},
		{"text: huge", at("vertex 0 1 0", "vertex 0 -2e30 0"), ErrTooLarge, "line 5, facet 1: the coordinate \"-2e30\" is too large for a length" + exportAgain},
		{"text: hexadecimal", at("vertex 0 1 0", "vertex 0 0x1p3 0"), ErrSyntax, "line 5, facet 1: \"0x1p3\" stands where a number should" + exportAgain},
		{"text: CR, junk on line 7", bytes.ReplaceAll(at("endloop", "junk"), []byte("\n"), []byte("\r")), ErrSyntax, "line 7, facet 1: \"junk\" stands where endloop should" + exportAgain},
		{"text: CRLF, junk on line 7", bytes.ReplaceAll(at("endloop", "junk"), []byte("\n"), []byte("\r\n")), ErrSyntax, "line 7, facet 1: \"junk\" stands where endloop should" + exportAgain},
		{"text: a word of a megabyte", at("endloop", strings.Repeat("x", 1<<20)), ErrSyntax, "line 7, facet 1: \"" + strings.Repeat("x", 30) + "\"... stands where endloop should" + exportAgain},
		{"text: a word without end", []byte("solid " + strings.Repeat("name", 1<<18) + "\n" + strings.Repeat("\x00", 1<<20)), ErrSyntax,
			"line 2, facet 1: \"" + strings.Repeat("\\x00", 30) + "\"... stands where facet or endsolid should" + exportAgain},
		{"text: what would colour a terminal", at("endloop", "\x1b[31mred"), ErrSyntax, "line 7, facet 1: \"\\x1b[31mred\" stands where endloop should" + exportAgain},
		{"text: no solid", []byte(textFacets(tetrahedron)), ErrNotSTL, "line 1: a text STL begins with \"solid\", this file with \"facet\"" + exportIt},
		{"text: words before solid", []byte("\n# drawn by hand\n" + good), ErrNotSTL, "line 2: a text STL begins with \"solid\", this file with \"#\"" + exportIt},
		{"text: a word like solid", []byte("solids\n" + good), ErrNotSTL, "line 1: a text STL begins with \"solid\", this file with \"solids\"" + exportIt},
	}
}

// Files that are something else, by their first bytes.
func foreignFiles() []badFile {
	long := strings.Repeat("\x00\x01\x02\x03rest of the file", 100)
	return []badFile{
		{"foreign: JPEG", []byte("\xFF\xD8\xFF\xE0\x00\x10JFIF" + long), ErrNotSTL, "this is a JPEG picture, not an STL file; a picture has no volume: export the model as binary STL"},
		{"foreign: PNG", []byte("\x89PNG\r\n\x1a\n" + long), ErrNotSTL, "this is a PNG picture, not an STL file; a picture has no volume: export the model as binary STL"},
		{"foreign: PDF", []byte("%PDF-1.7\n" + long), ErrNotSTL, "this is a PDF document, not an STL file" + exportIt},
		{"foreign: 3MF", []byte("PK\x03\x04\x14\x00\x00\x00\x08\x00[Content_Types].xml" + long), ErrNotSTL, "this is a 3MF model, not an STL file; open it in a slicer or a CAD program and export the model as binary STL"},
		{"foreign: ZIP", []byte("PK\x03\x04\x14\x00\x00\x00\x08\x00bait.stl" + long), ErrNotSTL, "this is a ZIP archive, not an STL file; unpack it first"},
		{"foreign: gzip", []byte("\x1F\x8B\x08\x00" + long), ErrNotSTL, "this is a gzip archive, not an STL file; unpack it first"},
		{"foreign: OBJ", []byte("# drawn\no bait\nv 0 0 0\nv 1 0 0\n"), ErrNotSTL, "this is an OBJ model, not an STL file" + exportIt},
		{"foreign: web page", []byte("<!DOCTYPE html>\n<html><body>404</body></html>"), ErrNotSTL, "this is a web page, not an STL file; the download went wrong: fetch the model itself"},
		{"foreign: STEP", []byte("ISO-10303-21;\nHEADER;"), ErrNotSTL, "this is a STEP model, not an STL file; open it in a CAD program and export the model as binary STL"},
		{"foreign: AMF", []byte("<?xml version=\"1.0\"?>\n<amf unit=\"millimeter\">"), ErrNotSTL, "this is an AMF model, not an STL file" + exportIt},
		{"foreign: G-code", []byte("; layer 1\nG28 X0\nG1 X10\n"), ErrNotSTL, "this is G-code, not an STL file; it moves a machine and has no surface: export the model as binary STL"},
		{"foreign: UTF-16", utf16(textSTL("t", tetrahedron)), ErrNotSTL, "this is text in UTF-16, not an STL file; save it as UTF-8, or export the model as binary STL"},
		{"foreign: LFS", []byte("version https://git-lfs.github.com/spec/v1\noid sha256:00\nsize 12\n"), ErrNotSTL, "this is a pointer to a file in Git LFS, not an STL file; fetch the file itself with git lfs pull"},
		{"foreign: PLY", []byte("ply\nformat ascii 1.0\n"), ErrNotSTL, "this is a PLY model, not an STL file" + exportIt},
		{"foreign: prose", []byte("The bait is four inches long.\n"), ErrNotSTL, "line 1: a text STL begins with \"solid\", this file with \"The\"" + exportIt},
	}
}

func TestReadRefuses(t *testing.T) {
	for _, bad := range badFiles() {
		t.Run(bad.name, func(t *testing.T) {
			model, err := Read(context.Background(), bytes.NewReader(bad.data), ReadOptions{})
			if err == nil {
				t.Fatalf("read %d facets, want the error %q", len(model.Mesh.Triangles), bad.line)
			}
			if err.Error() != bad.line {
				t.Errorf("got  %s\nwant %s", err, bad.line)
			}
			var format *FormatError
			if !errors.As(err, &format) || !errors.Is(err, bad.err) {
				t.Errorf("%v does not wrap %v", err, bad.err)
			}
		})
	}
}
