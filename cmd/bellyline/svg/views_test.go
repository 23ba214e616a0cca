package svg

import (
	"io"
	"strings"
	"testing"

	"bellyline/laminate"
)

// views is a bait of 20 x 10 mm with one section and lines at so many heights.
func views(heights ...float64) *laminate.Views {
	v := &laminate.Views{
		Side:     []laminate.Reach{{AlongMM: 0, HighMM: 10}, {AlongMM: 20, HighMM: 10}},
		Sections: []laminate.CutAcross{{AlongMM: 5, Loops: [][][2]float64{{{-3, 0}, {3, 0}, {3, 10}, {-3, 10}}}}},
	}
	for _, h := range heights {
		v.Lines = append(v.Lines, laminate.DrawnLine{
			Side:     [][2]float64{{-1, h}, {21, h}, {21, -9}, {-1, -9}},
			Sections: [][][2]float64{{{-4, h}, {4, h}, {4, -9}, {-4, -9}}},
		})
	}
	return v
}

// Side and section are filled once for each colour, with a hatch of its own, and
// outlined once.
func TestViewsPicture(t *testing.T) {
	for lines, want := range map[int]map[string]int{
		0: {"belly": 2, "back": 0, "skin": 2, "edge": 0},
		1: {"belly": 2, "back": 2, "skin": 2, "edge": 2},
		2: {"belly": 2, "back": 2, "cross": 2, "skin": 2, "edge": 4},
	} {
		var page strings.Builder
		if err := Views(&page, views([]float64{3, 6}[:lines]...)); err != nil {
			t.Fatal(err)
		}
		seen := classes(t, page.String())
		for class, count := range want {
			if seen[class] != count {
				t.Errorf("%d lines: %d of class %s, want %d", lines, seen[class], class, count)
			}
		}
	}
	if Views(io.Discard, &laminate.Views{}) == nil {
		t.Error("nothing is drawn")
	}
}
