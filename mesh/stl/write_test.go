package stl

import (
	"bytes"
	"errors"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/hschendel/stl"

	"bellyline/mesh"
	"bellyline/mesh/solids"
)

// readBack reads an STL file by the library that wrote it and welds it.
func readBack(t *testing.T, data []byte) *mesh.Mesh {
	t.Helper()
	solid, err := stl.ReadAll(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	var corners []r3.Vector
	for _, f := range solid.Triangles {
		for _, v := range f.Vertices {
			corners = append(corners, r3.Vector{X: float64(v[0]), Y: float64(v[1]), Z: float64(v[2])})
		}
	}
	return mesh.New(corners)
}

func TestWriteDropsWhatRoundingFlattens(t *testing.T) {
	// A box with a spike 1e-9 wide on its top: in float32 the spike's four
	// corners fall into pairs and its sides come to lie on each other.
	const w = 1e-9
	o := r3.Vector{X: 1, Y: 1, Z: 1}
	spike := solids.Box(o, o.Add(r3.Vector{X: w, Y: 2, Z: 2}))
	m := mesh.New(solids.Join(solids.Box(r3.Vector{}, r3.Vector{X: 9, Y: 9, Z: 0.5}), spike))
	var file bytes.Buffer
	if err := Write(&file, "spike", m); err != nil {
		t.Fatal(err)
	}
	got := readBack(t, file.Bytes())
	if len(got.Triangles) != 12 {
		t.Errorf("%d facets written, want the 12 of the box alone", len(got.Triangles))
	}
	if r := got.Check(); !r.Closed {
		t.Errorf("open: %+v", r.Problems)
	}
}

func TestWriteKeepsFacetsThatWereFolded(t *testing.T) {
	// Two equal facets back to back, drawn so: nothing was lost to rounding, so
	// nothing is dropped.
	a, b, c := r3.Vector{}, r3.Vector{X: 1}, r3.Vector{Y: 1}
	var file bytes.Buffer
	if err := Write(&file, "", mesh.New([]r3.Vector{a, b, c, a, c, b})); err != nil {
		t.Fatal(err)
	}
	if got := readBack(t, file.Bytes()); len(got.Triangles) != 2 {
		t.Errorf("%d facets written, want 2", len(got.Triangles))
	}
}

func TestWriteNormalsAndHeader(t *testing.T) {
	for name, want := range map[string]string{
		"belly":                   "belly",
		"solid belly":             "binary solid belly",
		"Solid":                   "binary Solid",
		"be\x1b[2Jl\nly":          "be[2Jlly",
		string([]byte{0xff, 'a'}): "a",
	} {
		var file bytes.Buffer
		if err := Write(&file, name, mesh.New(solids.CornerTetrahedron(1, 1, 1))); err != nil {
			t.Fatal(err)
		}
		head := string(bytes.TrimRight(file.Bytes()[:80], "\x00"))
		if head != want {
			t.Errorf("name %q: header %q, want %q", name, head, want)
		}
		solid, err := stl.ReadAll(bytes.NewReader(file.Bytes()))
		if err != nil {
			t.Fatal(err)
		}
		if len(solid.Triangles) != 4 {
			t.Fatalf("%d facets, want 4", len(solid.Triangles))
		}
		for _, f := range solid.Triangles {
			n := r3.Vector{X: float64(f.Normal[0]), Y: float64(f.Normal[1]), Z: float64(f.Normal[2])}
			v := func(i int) r3.Vector {
				return r3.Vector{X: float64(f.Vertices[i][0]), Y: float64(f.Vertices[i][1]), Z: float64(f.Vertices[i][2])}
			}
			want := v(1).Sub(v(0)).Cross(v(2).Sub(v(0))).Normalize()
			if n.Sub(want).Norm() > 1e-6 { // float32 keeps 7 digits
				t.Errorf("normal %v, want %v", n, want)
			}
		}
	}
}

func TestWriteRefusesWhatFloat32CannotKeep(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "huge.stl")
	for _, x := range []float64{1e39, math.Inf(1), math.NaN()} {
		m := mesh.New(solids.CornerTetrahedron(1, 1, 1))
		m.Vertices[2].Y = x
		if err := WriteFile(file, "huge", m); !errors.Is(err, ErrUnwritable) {
			t.Errorf("coordinate %g: %v, want ErrUnwritable", x, err)
		}
	}
	left, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	if len(left) != 0 {
		t.Errorf("a failed write left %v", left)
	}
}

func TestWriteFileReplacesAndReportsAMissingFolder(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "part.stl")
	if err := os.WriteFile(file, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := WriteFile(file, "part", mesh.New(solids.CornerTetrahedron(1, 1, 1))); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if want := 84 + 4*50; len(data) != want { // the format's header and records
		t.Errorf("%d bytes, want %d", len(data), want)
	}
	if left, err := os.ReadDir(dir); err != nil || len(left) != 1 {
		t.Errorf("folder holds %v, %v", left, err)
	}
	if err := WriteFile(filepath.Join(dir, "none", "part.stl"), "part", &mesh.Mesh{}); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("missing folder: %v", err)
	}
}
