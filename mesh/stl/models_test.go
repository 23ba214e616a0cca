package stl

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"bellyline/mesh/internal/manifest"
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
	for _, model := range manifest.Models(t) {
		name := model["file"]
		t.Run(name, func(t *testing.T) {
			got, err := ReadFile(context.Background(), model.Path(t), ReadOptions{})
			if want := refused[name]; want != nil {
				if !errors.Is(err, want) {
					t.Fatalf("got %v, want %v", err, want)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			want := model.Whole(t, "triangles")
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
			got, err := ReadFile(context.Background(), modelNamed(t, name).Path(t), ReadOptions{})
			if err != nil {
				t.Fatal(err)
			}
			if len(got.Notes) != 1 || got.Notes[0] != want {
				t.Errorf("notes %v, want %v", got.Notes, want)
			}
		})
	}
}

// Two files glued are one model: the manifest's note says that the first alone
// has 288 boundary edges and a wrong volume of 140005.7, and both together are
// closed and hold 139853.002.
func TestReadModelGlued(t *testing.T) {
	model, err := ReadFile(context.Background(), modelNamed(t, "npm_nodestl_raspi_housing.stl").Path(t), ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if !model.Mesh.Check().Closed {
		t.Error("not closed")
	}
	if got := model.Mesh.Moments().VolumeMM3; math.Abs(got-139853.002) > 0.0005 {
		t.Errorf("volume %.4f, want 139853.002", got)
	}
}

// modelNamed returns the line of the manifest with a name.
func modelNamed(t *testing.T, name string) manifest.Model {
	for _, m := range manifest.Models(t) {
		if m["file"] == name {
			return m
		}
	}
	t.Fatalf("the manifest has no %s", name)
	return nil
}
