package hollow

import (
	"errors"
	"path/filepath"
	"slices"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/mesh"
	"bellyline/mesh/mend"
	"bellyline/mesh/stl"
)

// saved writes a body without some of its facets to a file.
func saved(t *testing.T, corners []r3.Vector, without func(a, b, c r3.Vector) bool) string {
	t.Helper()
	var kept []r3.Vector
	for i := 0; i < len(corners); i += 3 {
		if !without(corners[i], corners[i+1], corners[i+2]) {
			kept = append(kept, corners[i:i+3]...)
		}
	}
	path := filepath.Join(t.TempDir(), "half.stl")
	if err := stl.WriteFile(path, "half", mesh.New(kept)); err != nil {
		t.Fatal(err)
	}
	return path
}

// A half whose back is missing is measured all the same, and says so: its hollows
// are whole. One with a hole in a cavity is refused, naming the place.
func TestOpenHalves(t *testing.T) {
	corners := blockOf(box{0, 0, -20, 60, 40, 0}).less(box{10, 10, -8, 50, 30, 0}).corners()
	all := func(z float64) func(a, b, c r3.Vector) bool {
		return func(a, b, c r3.Vector) bool { return a.Z == z && b.Z == z && c.Z == z }
	}
	h, err := Open(t.Context(), saved(t, corners, all(-20)), cavity.Options{}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(h.Hollows) != 1 || !slices.ContainsFunc(h.Warnings, contains("the hollows are whole")) {
		t.Errorf("%s, warnings %q", briefly(h.Hollows), h.Warnings)
	}
	near(t, "volume", h.Hollows[0].VolumeMM3, 40*20*8, 1e-6)
	if _, err := Open(t.Context(), saved(t, corners, all(-8)), cavity.Options{}, Options{}); !errors.Is(err, ErrOpen) {
		t.Errorf("a cavity without a floor: %v", err)
	}
	// With leave to mend, the flat hole is closed.
	h, err = Open(t.Context(), saved(t, corners, all(-8)), cavity.Options{Mend: mend.Options{Allow: true}}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mended", h.Hollows[0].VolumeMM3, 40*20*8, 1e-6)
}
