package laminate

import (
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/mesh/solids"
)

// openBox draws a box with its lowest corner at the origin and opens it as a cavity.
func openBox(t testing.TB, x, y, z float64) *cavity.Cavity {
	t.Helper()
	return openBody(t, "box.stl", r3.Vector{Z: 1}, solids.Block(x, y, z))
}
