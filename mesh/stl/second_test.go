package stl

import (
	"bytes"
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"bellyline/mesh/internal/manifest"

	"github.com/golang/geo/r3"
	"github.com/hschendel/stl"
)

// The stl library's reader is the second opinion on clean files: the same
// corners, bit for bit.
func TestReadAgainstSecondReader(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	solid := &stl.Solid{Name: "random"}
	for range 500 {
		var f stl.Triangle
		for v := range f.Vertices {
			for i := range f.Vertices[v] {
				f.Vertices[v][i] = float32((random.Float64() - 0.5) * math.Pow(10, float64(random.IntN(8)-3)))
			}
		}
		solid.Triangles = append(solid.Triangles, f)
	}
	for _, ascii := range []bool{false, true} {
		solid.IsAscii = ascii
		var file bytes.Buffer
		if err := solid.WriteAll(&file); err != nil {
			t.Fatal(err)
		}
		compareReaders(t, file.Bytes())
	}
}

// Models that both readers should agree on. The others are odd: see the manifest.
func TestReadModelsAgainstSecondReader(t *testing.T) {
	odd := map[string]bool{
		"npm_nodestl_raspi_housing.stl":   true, // two files glued, of which the library reads one
		"npm_stlmodels_wrong_count.stl":   true,
		"npm_stlmodels_utf8_mangled.stl":  true,
		"deb_assimp_sphere_with_hole.stl": true, // "solid" and a tab, which it refuses
		"numpystl_half_donut.stl":         true, // binary that begins with "solid", which it takes for text
	}
	for _, model := range manifest.Models(t) {
		if odd[model["file"]] {
			continue
		}
		t.Run(model["file"], func(t *testing.T) {
			got, err := ReadFile(context.Background(), model.Path(t), ReadOptions{})
			if err != nil {
				t.Fatal(err)
			}
			want, err := stl.ReadFile(model.Path(t))
			if err != nil {
				t.Fatalf("the library does not read it: %v", err)
			}
			compareModels(t, got, want)
		})
	}
}

func compareReaders(t *testing.T, file []byte) {
	t.Helper()
	got, err := Read(context.Background(), bytes.NewReader(file), ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	want, err := stl.ReadAll(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	compareModels(t, got, want)
}

func compareModels(t *testing.T, got *Model, want *stl.Solid) {
	t.Helper()
	if len(got.Mesh.Triangles) != len(want.Triangles) {
		t.Fatalf("%d facets, the library reads %d", len(got.Mesh.Triangles), len(want.Triangles))
	}
	for f := range want.Triangles {
		a, b, c := got.Mesh.Corners(f)
		for v, p := range [...]r3.Vector{a, b, c} {
			w := want.Triangles[f].Vertices[v]
			if p != (r3.Vector{X: float64(w[0]), Y: float64(w[1]), Z: float64(w[2])}) {
				t.Fatalf("facet %d, corner %d is %v, the library reads %v", f+1, v+1, p, w)
			}
		}
	}
}
