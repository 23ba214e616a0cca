package mesh

import (
	"context"
	"errors"
	"strings"
	"testing"
)

// What the manifest's own tools counted, and the two files that they could not
// read for what they are: their count or their bytes are wrong.
func TestReadModels(t *testing.T) {
	refused := map[string]error{
		"npm_stlmodels_wrong_count.stl":  ErrCount,
		"npm_stlmodels_utf8_mangled.stl": ErrMangled,
	}
	// The manifest counts the first of two files; its note counts both.
	both := map[string]int{"npm_nodestl_raspi_housing.stl": 1944}
	for _, model := range manifest(t) {
		name := model["file"]
		t.Run(name, func(t *testing.T) {
			got, err := ReadFile(context.Background(), model.path(t), ReadOptions{})
			if want := refused[name]; want != nil {
				if !errors.Is(err, want) {
					t.Fatalf("got %v, want %v", err, want)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			want := model.whole(t, "triangles")
			if n, ok := both[name]; ok {
				want = n
			}
			if len(got.Mesh.Triangles) != want {
				t.Errorf("%d facets, want %d", len(got.Mesh.Triangles), want)
			}
			format := ASCII
			if strings.HasPrefix(model["format"], "stl-binary") {
				format = Binary
			}
			if got.Format != format {
				t.Errorf("read as %s, is %s", got.Format, format)
			}
		})
	}
}

func TestReadModelsNotes(t *testing.T) {
	for name, want := range map[string]Note{
		"npm_nodestl_raspi_housing.stl": {NoteSecondFile, 1, "1 whole binary file glued behind the first: all were read"},
		"numpystl_half_donut.stl":       {NoteTrailingBytes, 1, "1 byte behind the last facet: not used"},
	} {
		t.Run(name, func(t *testing.T) {
			var source string
			for _, m := range manifest(t) {
				if m["file"] == name {
					source = m["source"]
				}
			}
			path := model{"file": name, "source": source}.path(t) // skips what no registry serves
			got, err := ReadFile(context.Background(), path, ReadOptions{})
			if err != nil {
				t.Fatal(err)
			}
			if len(got.Notes) != 1 || got.Notes[0] != want {
				t.Errorf("notes %v, want %v", got.Notes, want)
			}
		})
	}
}
