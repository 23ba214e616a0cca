package svg

import (
	"io"
	"strings"
	"testing"

	"bellyline/laminate"
)

// Of four baits two are all belly, one all back, one both: each kind is drawn, where
// once all were drawn as belly.
func TestSidesPicture(t *testing.T) {
	side := func(n int, belly float64) laminate.Side {
		return laminate.Side{Cavities: n, Colours: []laminate.SideShare{{Name: "belly", Share: belly}, {Name: "back", Share: 1 - belly}}}
	}
	a := &laminate.SideBySide{Sides: []laminate.Side{side(2, 1), side(1, 0.4), side(1, 0)}}
	var page strings.Builder
	if err := Sides(&page, views(), a); err != nil {
		t.Fatal(err)
	}
	seen := classes(t, page.String())
	for class, count := range map[string]int{"belly": 1, "back": 1, "blank": 1, "skin": 3} {
		if seen[class] != count {
			t.Errorf("%d of class %s, want %d", seen[class], class, count)
		}
	}
	for _, want := range []string{"2: all belly", "1: both", "1: all back"} {
		if !strings.Contains(page.String(), want) {
			t.Errorf("the picture does not say %q", want)
		}
	}
	if Sides(io.Discard, &laminate.Views{}, a) == nil {
		t.Error("nothing is drawn")
	}
}
