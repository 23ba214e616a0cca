package laminate

import (
	"path/filepath"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/mesh"
)

// openBox draws a box with its lowest corner at the origin and opens it as a cavity.
func openBox(t testing.TB, x, y, z float64) *cavity.Cavity {
	t.Helper()
	var corners []r3.Vector
	quad := func(a, b, c, d r3.Vector) { corners = append(corners, a, b, c, a, c, d) }
	at := func(i, j, k float64) r3.Vector { return r3.Vector{X: i * x, Y: j * y, Z: k * z} }
	quad(at(0, 0, 0), at(0, 1, 0), at(1, 1, 0), at(1, 0, 0))
	quad(at(0, 0, 1), at(1, 0, 1), at(1, 1, 1), at(0, 1, 1))
	quad(at(0, 0, 0), at(1, 0, 0), at(1, 0, 1), at(0, 0, 1))
	quad(at(1, 0, 0), at(1, 1, 0), at(1, 1, 1), at(1, 0, 1))
	quad(at(1, 1, 0), at(0, 1, 0), at(0, 1, 1), at(1, 1, 1))
	quad(at(0, 1, 0), at(0, 0, 0), at(0, 0, 1), at(0, 1, 1))
	path := filepath.Join(t.TempDir(), "box.stl")
	if err := mesh.WriteFile(path, "box", mesh.New(corners)); err != nil {
		t.Fatal(err)
	}
	c, err := cavity.Open(t.Context(), path, cavity.Options{}, r3.Vector{Z: 1}, r3.Vector{X: 1})
	if err != nil {
		t.Fatal(err)
	}
	return c
}
