package cavity

import (
	"path/filepath"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/stl"
)

// boxCorners draws a closed box from the origin, edges in mm, facets outward.
func boxCorners(x, y, z float64) []r3.Vector {
	var corners []r3.Vector
	at := func(i, j, k float64) r3.Vector { return r3.Vector{X: i * x, Y: j * y, Z: k * z} }
	quad := func(a, b, c, d r3.Vector) { corners = append(corners, a, b, c, a, c, d) }
	quad(at(0, 0, 0), at(0, 1, 0), at(1, 1, 0), at(1, 0, 0))
	quad(at(0, 0, 1), at(1, 0, 1), at(1, 1, 1), at(0, 1, 1))
	quad(at(0, 0, 0), at(1, 0, 0), at(1, 0, 1), at(0, 0, 1))
	quad(at(1, 0, 0), at(1, 1, 0), at(1, 1, 1), at(1, 0, 1))
	quad(at(1, 1, 0), at(0, 1, 0), at(0, 1, 1), at(1, 1, 1))
	quad(at(0, 1, 0), at(0, 0, 0), at(0, 0, 1), at(0, 1, 1))
	return corners
}

// turnedOver turns every facet inside out.
func turnedOver(corners []r3.Vector) []r3.Vector {
	out := make([]r3.Vector, len(corners))
	for i := 0; i < len(corners); i += 3 {
		out[i], out[i+1], out[i+2] = corners[i], corners[i+2], corners[i+1]
	}
	return out
}

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
