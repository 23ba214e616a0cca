package cavity

import (
	"path/filepath"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/stl"
)

// written writes corners to a binary STL file and returns its path.
func written(t *testing.T, corners []r3.Vector) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "body.stl")
	if err := stl.WriteFile(path, "body", mesh.New(corners)); err != nil {
		t.Fatal(err)
	}
	return path
}

// openUp opens a body with its back up and its nose along x.
func openUp(t *testing.T, corners []r3.Vector) *Cavity {
	t.Helper()
	c, err := Open(t.Context(), written(t, corners), Options{}, r3.Vector{Z: 1}, r3.Vector{X: 1})
	if err != nil {
		t.Fatal(err)
	}
	return c
}
