package fill

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/solids"
)

// Two cubes that share a half fill 12 of 2x2x2 each; under the line z = 1 + x/4 in
// the joined box of 3 x 2 x 2 lie 2 * (3 + 9/8).
func TestFoldFillsOverlapsOnce(t *testing.T) {
	m := mesh.New(solids.Join(
		solids.Box(r3.Vector{}, r3.Vector{X: 2, Y: 2, Z: 2}),
		solids.Box(r3.Vector{X: 1}, r3.Vector{X: 3, Y: 2, Z: 2})))
	f, err := mesh.NewFold(r3.Vector{X: 1}, r3.Vector{Z: 1}, []r2.Point{{X: 0, Y: 1}, {X: 1.5, Y: 1.375}, {X: 3, Y: 1.75}})
	if err != nil {
		t.Fatal(err)
	}
	cut, err := CutFlat(t.Context(), f.Flatten(m), 0)
	if err != nil {
		t.Fatal(err)
	}
	length := math.Hypot(3, 0.75)
	for what, c := range map[string][2]float64{
		"below":   {cut.BelowMM3, 2 * (3 + 9.0/8)},
		"above":   {cut.AboveMM3, 12 - 2*(3+9.0/8)},
		"section": {cut.SectionAreaMM2, 2 * length},
		"outline": {cut.OutlineMM, 2*length + 4},
		"skin":    {cut.OutsideBelowMM2 + cut.OutsideAboveMM2, 32},
	} {
		if got, want := c[0], c[1]; !(math.Abs(got-want) <= 1e-9*want) {
			t.Errorf("%s %.15g, want %.15g", what, got, want)
		}
	}
	if cut.Pieces != 1 {
		t.Errorf("%d pieces", cut.Pieces)
	}
}
