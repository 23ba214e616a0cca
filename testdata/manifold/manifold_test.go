package manifold

import (
	"math"
	"testing"

	"bellyline/testdata/shells"
)

// How far the library can be trusted: blocks whose union is counted cell by cell.
// Blocks that share corners are left out: the script takes them for one shell, and
// the library takes no surface with four facets at an edge.
func TestLibraryCountsBlocks(t *testing.T) {
	pile := shells.Pile()
	shifted := shells.Blocks{{High: [3]int{9, 9, 9}}, {Low: [3]int{3, 3, 3}, High: [3]int{12, 12, 9}}} // tops in one plane
	for _, blocks := range []shells.Blocks{pile[:2], {pile[0], pile[5]}, shifted} {
		volume, area := blocks.Union()
		_, u := Asked(t, blocks.Corners())
		if u.Shells != len(blocks) {
			t.Errorf("%d shells, want %d", u.Shells, len(blocks))
		}
		if math.Abs(u.VolumeMM3-float64(volume)) > 1e-12*float64(volume) || math.Abs(u.AreaMM2-float64(area)) > 1e-12*float64(area) {
			t.Errorf("%v: %.17g mm3 and %.17g mm2, counted %d and %d", blocks, u.VolumeMM3, u.AreaMM2, volume, area)
		}
	}
}

// The library computes in float64: it takes edges of 1e-12 of the model's size for
// rounding, and not those of float32, which are 1.2e-7 of it.
func TestLibraryIsFine(t *testing.T) {
	m := shells.Finned(1)
	_, u := Asked(t, m.Corners())
	if u.ToleranceMM > 1e-11*110 { // the model is 104 mm long
		t.Errorf("tolerance %g mm", u.ToleranceMM)
	}
}
