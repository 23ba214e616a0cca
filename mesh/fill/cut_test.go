package fill

import (
	"math"
	"testing"

	"bellyline/mesh"

	"github.com/golang/geo/r3"
)

// Two boxes of 4 mm sunk into each other by 2, cut level: everything by counting.
func TestFillCutOfSunkBoxes(t *testing.T) {
	m := mesh.New(append(boxAt(0, 0, 0, 4), boxAt(2, 2, 2, 4)...))
	tests := []struct {
		name                          string
		height                        float64
		below, above, section, length float64
		pieces                        int
	}{
		{"through the lower box", 1, 16, 104, 16, 16, 1},
		// At 3 both are cut: 4x4 and 4x4 share 2x2. Below: 48 + 16 - 4.
		{"through both", 3, 60, 60, 28, 24, 1},
		{"through the upper box", 5, 104, 16, 16, 16, 1},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			cut, err := Cut(t.Context(), m, mesh.Plane{Normal: r3.Vector{Z: 1}, HeightMM: tt.height})
			if err != nil {
				t.Fatal(err)
			}
			same := func(what string, got, want float64) {
				if math.Abs(got-want) > 1e-9*want {
					t.Errorf("%s: %.12g, want %g", what, got, want)
				}
			}
			same("below", cut.Below.VolumeMM3, tt.below)
			same("above", cut.Above.VolumeMM3, tt.above)
			same("section", cut.SectionAreaMM2, tt.section)
			same("outline", cut.OutlineMM, tt.length)
			if cut.Pieces != tt.pieces {
				t.Errorf("%d pieces, want %d", cut.Pieces, tt.pieces)
			}
		})
	}
}

// Without overlap both cuts agree: a box beside a box.
func TestFillCutAgreesWithCut(t *testing.T) {
	m := mesh.New(append(boxAt(0, 0, 0, 4), boxAt(7, 1, 1, 3)...))
	p := mesh.Plane{Normal: r3.Vector{X: 0.3, Y: 0.2, Z: 1}, HeightMM: 4.5}
	want, err := m.Cut(p)
	if err != nil {
		t.Fatal(err)
	}
	got, err := Cut(t.Context(), m, p)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range [][2]float64{
		{got.Below.VolumeMM3, want.Below.VolumeMM3}, {got.Above.VolumeMM3, want.Above.VolumeMM3},
		{got.SectionAreaMM2, want.SectionAreaMM2}, {got.OutlineMM, want.OutlineMM},
		{got.Below.OutsideMM2, want.Below.OutsideMM2}, {got.Above.OutsideMM2, want.Above.OutsideMM2},
	} {
		if math.Abs(x[0]-x[1]) > 1e-9*math.Abs(x[1]) {
			t.Errorf("%.12g, want %.12g", x[0], x[1])
		}
	}
	if got.Pieces != want.Pieces || got.Pieces != 2 {
		t.Errorf("%d pieces, want 2 as Cut's %d", got.Pieces, want.Pieces)
	}
}
