package laminate

import (
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
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
	return openBody(t, "box.stl", r3.Vector{Z: 1}, corners)
}
