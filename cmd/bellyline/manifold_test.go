package main

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"bellyline/cavity"
	"bellyline/mesh/stl"
	"bellyline/mesh/union"
	"bellyline/testdata/manifold"
	baits "bellyline/testdata/shells"

	"github.com/golang/geo/r3"
)

// sameUnion is the share of the whole by which two programs may differ: the library
// computes in float64, as we do (TestLibraryCountsBlocks of testdata/manifold shows
// 1e-12 on blocks).
const sameUnion = 1e-9

// Baits of 9, 94 and 103 shells fill what another program's union of the shells has,
// and have its skin.
func TestFillIsAnotherProgramsUnion(t *testing.T) {
	sizes := []int{0, 40_000}
	if testing.Short() {
		sizes = sizes[:1]
	}
	for _, facets := range sizes {
		for _, draw := range []func(float64) baits.Model{baits.Finned, baits.Toothed, baits.Skirted} {
			m := baits.Sized(draw, facets)
			file, want := manifold.Asked(t, m.Corners())
			if want.Shells != len(m.Shells) {
				t.Errorf("%s: %d shells united, want %d", m.Name, want.Shells, len(m.Shells))
			}
			ours := filled(t, file)
			nearUnion(t, m.Name+" volume", *ours.FillVolumeMM3, want.VolumeMM3)
			nearUnion(t, m.Name+" sum of shells", *ours.VolumeMM3, want.SignedMM3)
			nearUnion(t, m.Name+" skin", unite(t, file).AreaMM2, want.AreaMM2)
		}
	}
}

// Blocks of whole millimetres that overlap, touch and share faces fill as many cells
// as are counted one by one. The skin is compared where no block stands on the middle
// of another's face: today such a contact counts as skin on both sides.
func TestFillCountsBlocks(t *testing.T) {
	blocks := baits.Pile()
	volume, _ := blocks.Union()
	nearUnion(t, "volume", *filled(t, bodyFile(t, blocks.Corners())).FillVolumeMM3, float64(volume))
	blocks = slices.DeleteFunc(blocks, func(b baits.Block) bool { return b.Low[2] == 8 && b.High[2] == 12 && b.Low[0] == 3 })
	_, area := blocks.Union()
	nearUnion(t, "skin", unite(t, bodyFile(t, blocks.Corners())).AreaMM2, float64(area))
}

func filled(t *testing.T, file string) *cavity.Measurement {
	t.Helper()
	m := measureOne(t, file)
	if m.FillVolumeMM3 == nil {
		t.Fatalf("%s: %s", file, m.Reason)
	}
	return m
}

func unite(t *testing.T, file string) union.Solid {
	t.Helper()
	read, err := stl.ReadFile(context.Background(), file, stl.ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	solid, err := union.Of(context.Background(), read.Mesh)
	if err != nil {
		t.Fatal(err)
	}
	return solid
}

func bodyFile(t *testing.T, corners []r3.Vector) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "body.stl")
	if err := os.WriteFile(path, baits.STL(corners), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func nearUnion(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= sameUnion*want) {
		t.Errorf("%s: %.17g, another way %.17g, %.2g of it apart", what, got, want, math.Abs(got/want-1))
	}
}
