package hollow

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"bellyline/mesh"
	"bellyline/mesh/stl"
)

// drawnBy runs testdata/halves.scad and returns one part of one mold.
func drawnBy(t *testing.T, program, mold, part string) *mesh.Mesh {
	t.Helper()
	path := filepath.Join(t.TempDir(), mold+"-"+part+".stl")
	out, err := exec.Command(program, "-q", "--export-format", "binstl", "-D", fmt.Sprintf("mold=%q", mold), "-D", fmt.Sprintf("part=%q", part),
		"-o", path, filepath.Join("testdata", "halves.scad")).CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	m, err := stl.ReadFile(t.Context(), path, stl.ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return m.Mesh
}

// Halves drawn by another program: openscad takes solids out of a block, and the
// same program's own solids, cut to the block, say what each hollow must hold.
// Both go through float32 files, which moves every corner by up to half a step.
func TestHalvesDrawnByOpenscad(t *testing.T) {
	program, err := exec.LookPath("openscad")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("openscad is not installed")
		}
		t.Skip("openscad is not installed")
	}
	if testing.Short() {
		t.Skip("openscad takes some seconds")
	}
	for mold, want := range map[string]struct {
		kinds  map[Kind]int
		levels int
	}{
		"swim":  {map[Kind]int{Cavity: 2, Runner: 1, Hole: 4}, 1},
		"sprue": {map[Kind]int{Cavity: 2, Runner: 1}, 1},
		"steps": {map[Kind]int{Cavity: 2, Runner: 1}, 2},
	} {
		t.Run(mold, func(t *testing.T) {
			half := find(t, drawnBy(t, program, mold, "half"), Options{})
			count := map[Kind]int{}
			all := 0.0
			for _, o := range half.Hollows {
				count[o.Kind]++
				all += o.VolumeMM3
			}
			for _, k := range []Kind{Cavity, Runner, Hole} {
				if count[k] != want.kinds[k] {
					t.Errorf("%d of kind %s, want %d", count[k], k, want.kinds[k])
				}
			}
			if len(half.LevelsMM) != want.levels {
				t.Errorf("levels %v, want %d", half.LevelsMM, want.levels)
			}
			agree(t, "all that was cut out", all, drawnBy(t, program, mold, "all"))
			if mold == "steps" { // nothing hangs together: the network is the groove alone
				agree(t, "the groove", half.Hollows[2].VolumeMM3, drawnBy(t, program, mold, "network"))
				agree(t, "the lower hollow", half.Hollows[1].VolumeMM3, drawnBy(t, program, mold, "lower"))
				agree(t, "the upper hollow", half.Hollows[0].VolumeMM3, drawnBy(t, program, mold, "bait"))
				return
			}
			if len(half.Connected) != 1 {
				t.Fatalf("connected %v", half.Connected)
			}
			// The bait was drawn without its gate: the cut lies within a millimetre of where
			// the gate goes into it.
			bait, gate := drawnBy(t, program, mold, "bait").Moments(), half.Hollows[0].Gates[0]
			near(t, "one bait", half.Hollows[0].VolumeMM3, bait.VolumeMM3, gate.AreaMM2*1)
		})
	}
}

// agree compares with a solid's volume, within what steps of float32 can do to both.
func agree(t *testing.T, what string, got float64, solid *mesh.Mesh) {
	t.Helper()
	m := solid.Moments()
	near(t, what, got, m.VolumeMM3, 2*m.StepMM3)
}
