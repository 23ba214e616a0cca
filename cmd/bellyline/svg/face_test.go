package svg

import (
	"encoding/xml"
	"errors"
	"io"
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
	count := map[string]int{}
	in := xml.NewDecoder(strings.NewReader(b.String()))
	for {
		token, err := in.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if e, ok := token.(xml.StartElement); ok {
			for _, a := range e.Attr {
				if a.Name.Local == "class" {
					count[a.Value]++
				}
			}
		}
	}
	for class, want := range map[string]int{"block": 1, "number": 9, "gate": 4, "cavity": 4, "runner": 1, "hole": 4} {
		if count[class] != want {
			t.Errorf("%d of class %s, want %d", count[class], class, want)
		}
	}
	if count["depth"] < 4 {
		t.Errorf("%d bands of depth", count["depth"])
	}
}
