package stl

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// oddFile is a file that is odd and read all the same: it holds the tetrahedron
// once or a few times.
type oddFile struct {
	name   string
	data   []byte
	format Format
	times  int
	solids []string
	notes  []Note
}

func oddFiles() []oddFile {
	text := textSTL("t", tetrahedron)
	good := binarySTL("t", 4, tetrahedron)
	one := []string{"t"}
	corner := frontBytes + 2*facetBytes + 12
	cr := func(s string) []byte { return []byte(strings.ReplaceAll(s, "\n", "\r")) }
	blanks := strings.Join(strings.Fields(text), " ")
	return []oddFile{
		{"plain binary", good, Binary, 1, one, nil},
		{"plain text", []byte(text), ASCII, 1, one, nil},
		{"header begins with solid", binarySTL("solid t", 4, tetrahedron), Binary, 1, []string{"solid t"}, nil},
		{"header has solid and facet", binarySTL("solid t\n facet normal", 4, tetrahedron), Binary, 1, []string{"solid t facet normal"}, nil},
		{"header without zeros", binarySTL("solid"+strings.Repeat(" ", 75), 4, tetrahedron), Binary, 1, []string{"solid"}, nil},
		{"header is a picture's", binarySTL("\xFF\xD8\xFF", 4, tetrahedron), Binary, 1, []string{"\uFFFD"}, nil},
		{"header would move a cursor", binarySTL("\x1b[2Jt\x07\u202e", 4, tetrahedron), Binary, 1, []string{"[2Jt"}, nil},
		{"trailing byte", glue(good, []byte{0}), Binary, 1, one,
			[]Note{{NoteTrailingBytes, 1, "1 byte behind the last facet: not used"}}},
		{"trailing text", glue(good, []byte(strings.Repeat("made by hand ", 20))), Binary, 1, one,
			[]Note{{NoteTrailingBytes, 260, "260 bytes behind the last facet: not used"}}},
		{"trailing zeros", glue(good, make([]byte, 150)), Binary, 1, one,
			[]Note{{NoteTrailingBytes, 150, "150 bytes behind the last facet: not used"}}},
		{"solid and trailing byte", glue(binarySTL("solid t", 4, tetrahedron), []byte("\n")), Binary, 1, []string{"solid t"},
			[]Note{{NoteTrailingBytes, 1, "1 byte behind the last facet: not used"}}},
		{"two files", glue(good, binarySTL("u", 4, tetrahedron)), Binary, 2, []string{"t", "u"},
			[]Note{{NoteSecondFile, 1, "1 whole binary file glued behind the first: all were read"}}},
		{"three files and a byte", glue(good, good, good, []byte{7}), Binary, 3, []string{"t", "t", "t"},
			[]Note{{NoteSecondFile, 2, "2 whole binary files glued behind the first: all were read"},
				{NoteTrailingBytes, 1, "1 byte behind the last facet: not used"}}},
		{"nan in a normal", with(good, corner-8, 0, 0, 0xC0, 0x7F), Binary, 1, one,
			[]Note{{NoteNormal, 1, "normals that are not three finite numbers: 1; normals are not used"}}},
		{"attributes", with(good, corner+36, 0xFF, 0x7F), Binary, 1, one, nil},
		{"minus zero", with(good, corner+4, 0, 0, 0, 0x80), Binary, 1, one, nil},

		{"text: two solids", []byte(text + textSTL("u", tetrahedron)), ASCII, 2, []string{"t", "u"}, nil},
		{"text: first solid empty", []byte("solid none\nendsolid none\n" + text), ASCII, 1, []string{"none", "t"}, nil},
		{"text: CRLF", []byte(strings.ReplaceAll(text, "\n", "\r\n")), ASCII, 1, one, nil},
		{"text: CR", cr(text), ASCII, 1, one, nil},
		{"text: CR, two solids", cr(text + textSTL("u v", tetrahedron)), ASCII, 2, []string{"t", "u v"}, nil},
		{"text: byte order mark", []byte(byteOrderMark + text), ASCII, 1, one, nil},
		{"text: byte order mark twice", []byte(byteOrderMark + text + byteOrderMark + text), ASCII, 2, []string{"t", "t"}, nil},
		{"text: upper case", []byte(strings.ToUpper(text)), ASCII, 1, []string{"T"}, nil},
		{"text: no name", []byte(textSTL("", tetrahedron)), ASCII, 1, []string{""}, nil},
		{"text: no name at all", []byte("solid\n" + textFacets(tetrahedron) + "endsolid"), ASCII, 1, []string{""}, nil},
		{"text: name of many words", []byte(textSTL("a facet of  the bait", tetrahedron)), ASCII, 1, []string{"a facet of  the bait"}, nil},
		{"text: name with bytes of a binary", []byte(textSTL("a\x00b\x1b[2J", tetrahedron)), ASCII, 1, []string{"ab[2J"}, nil},
		{"text: name in Latin-1", []byte(textSTL("K\xF6der", tetrahedron)), ASCII, 1, []string{"K\uFFFDder"}, nil},
		{"text: name of a megabyte", []byte(textSTL(strings.Repeat("n", 1<<20), tetrahedron)), ASCII, 1, []string{strings.Repeat("n", 200)}, nil},
		{"text: all on one line", []byte(blanks), ASCII, 1, one, nil},
		{"text: two solids on one line", []byte(blanks + " " + blanks), ASCII, 2, []string{"t", "t"}, nil},
		{"text: blank lines before", []byte("\n\n  " + text), ASCII, 1, one, nil},
		{"text: tabs", []byte(strings.ReplaceAll(text, " ", "\t\t")), ASCII, 1, one, nil},
		{"text: a megabyte of blanks", []byte(edit(text, "endsolid", strings.Repeat(" ", 1<<20)+"endsolid")), ASCII, 1, one, nil},
		{"text: zeros behind", []byte(text + "\x00\x00\x00"), ASCII, 1, one, nil},
		{"text: end mark of DOS", []byte(text + "\x1A"), ASCII, 1, one, nil},
		{"text: exponents and signs", []byte(strings.NewReplacer("x 1 ", "x +1.000E+00 ", " 1\n", " 1e-0\n").Replace(text)), ASCII, 1, one, nil},
		{"text: minus zero", []byte(strings.Replace(text, "vertex 0 0", "vertex -0.0 -0", 1)), ASCII, 1, one, nil},
		{"text: nan in a normal", []byte(strings.Replace(text, "normal 0 0 0", "normal nan -nan(ind) 1.#QNAN", 1)), ASCII, 1, one,
			[]Note{{NoteNormal, 1, "normals that are not three finite numbers: 1; normals are not used"}}},
		{"text: words in a normal", []byte(strings.Replace(text, "normal 0 0 0", "normal up and away", 1)), ASCII, 1, one,
			[]Note{{NoteNormal, 1, "normals that are not three finite numbers: 1; normals are not used"}}},
		{"text: a word in two normals", []byte(strings.Replace(text, "normal 0 0 0", "normal 0 x 0", 2)), ASCII, 1, one,
			[]Note{{NoteNormal, 2, "normals that are not three finite numbers: 2; normals are not used"}}},
		{"text: short normal", []byte(strings.Replace(text, "normal 0 0 0", "normal 0 0", 1)), ASCII, 1, one,
			[]Note{{NoteNormal, 1, "normals that are not three finite numbers: 1; normals are not used"}}},
		{"text: no numbers in a normal", []byte(strings.Replace(text, "normal 0 0 0", "normal", 1)), ASCII, 1, one,
			[]Note{{NoteNormal, 1, "normals that are not three finite numbers: 1; normals are not used"}}},
		{"text: long normal", []byte(strings.Replace(text, "normal 0 0 0", "normal 0 0 1 0", 1)), ASCII, 1, one,
			[]Note{{NoteNormal, 1, "normals that are not three finite numbers: 1; normals are not used"}}},
		{"text: decimal commas in a normal", []byte(strings.Replace(text, "normal 0 0 0", "normal 0,5 0,5 0,7", 1)), ASCII, 1, one,
			[]Note{{NoteNormal, 1, "normals that are not three finite numbers: 1; normals are not used"}}},
		{"text: huge normal", []byte(strings.Replace(text, "normal 0 0 0", "normal 1e99 0 0", 1)), ASCII, 1, one, nil},
	}
}

func TestReadOddFiles(t *testing.T) {
	// Drawn by hand: corners in the order in which the tetrahedron's facets first
	// use them.
	vertices := [][3]float64{{0, 0, 0}, {0, 1, 0}, {1, 0, 0}, {0, 0, 1}}
	triangles := [][3]int32{{0, 1, 2}, {0, 2, 3}, {0, 3, 1}, {2, 1, 3}}
	for _, odd := range oddFiles() {
		t.Run(odd.name, func(t *testing.T) {
			got, err := Read(context.Background(), bytes.NewReader(odd.data), ReadOptions{Unit: Inch})
			if err != nil {
				t.Fatal(err)
			}
			if got.Format != odd.format {
				t.Errorf("read as %s", got.Format)
			}
			if diff := cmp.Diff(odd.solids, got.Solids); diff != "" {
				t.Errorf("solids (- want, + got):\n%s", diff)
			}
			if diff := cmp.Diff(odd.notes, got.Notes); diff != "" {
				t.Errorf("notes (- want, + got):\n%s", diff)
			}
			var want [][3]int32
			for range odd.times {
				want = append(want, triangles...)
			}
			if diff := cmp.Diff(want, got.Mesh.Triangles); diff != "" {
				t.Errorf("triangles (- want, + got):\n%s", diff)
			}
			var corners [][3]float64
			for _, v := range got.Mesh.Vertices {
				corners = append(corners, [3]float64{v.X / 25.4, v.Y / 25.4, v.Z / 25.4})
			}
			if diff := cmp.Diff(vertices, corners); diff != "" {
				t.Errorf("vertices (- want, + got):\n%s", diff)
			}
			if got.WeldedWithinMM != 0 {
				t.Errorf("welded within %g mm", got.WeldedWithinMM)
			}
		})
	}
}
