package svg

import (
	"strings"
	"testing"

	"bellyline/cavity"
	"bellyline/cavity/hollow"
)

// The picture of the example mold is well-formed, and shows the block, all nine
// numbers, the four gates and depths from light to dark.
func TestPartingFace(t *testing.T) {
	h, err := hollow.Open(t.Context(), "../../../examples/shadmold/plain-half.stl", cavity.Options{}, hollow.Options{})
	if err != nil {
		t.Fatal(err)
	}
	h.File = "<half> & 'co'\x1b"
	var b strings.Builder
	if err := PartingFace(&b, h); err != nil {
		t.Fatal(err)
	}
	count := classes(t, b.String())
	for class, want := range map[string]int{"block": 1, "number": 9, "gate": 4, "cavity": 4, "runner": 1, "hole": 4} {
		if count[class] != want {
			t.Errorf("%d of class %s, want %d", count[class], class, want)
		}
	}
	if count["depth"] < 4 {
		t.Errorf("%d bands of depth", count["depth"])
	}
}
