package hollow

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"bellyline/cavity"
)

// realModel returns the path of a model that is other people's work, below the
// folder that BELLYLINE_MODELS names. Without it the test is skipped, except where
// CI=true promises that nothing is; served says that .ci/models fetches the model.
func realModel(t *testing.T, file string, served bool) string {
	t.Helper()
	folder := os.Getenv("BELLYLINE_MODELS")
	path := filepath.Join(folder, file)
	_, err := os.Stat(path)
	switch {
	case folder != "" && err == nil:
		return path
	case os.Getenv("CI") == "true" && (folder == "" || served):
		t.Fatalf("%s is not to be had: BELLYLINE_MODELS is %q", file, folder)
	}
	t.Skipf("%s: BELLYLINE_MODELS does not name a folder that has it", file)
	return ""
}

// Real trays, cups and holders. None was made for pouring baits, but each is a block
// with hollows open on a face. Why the numbers are right:
//
//   - The M block is a solid block of 30 x 30 x 15 less its pocket: 13500 mm3 minus
//     the 11547.668 mm3 of the model, which two other programs measured too. The
//     pocket is 10 deep with upright walls.
//   - The two M blocks are the same, 27000 - 23029.012 in all, side by side in one
//     file: two blocks make one face, and the gap between them is a notch.
//   - The cube with a hole is 20 x 20 x 10 less a square hole of 10 x 10 through it:
//     4000 - 3000. It is no cavity: plastic would run out.
//   - The socket holder has its face 3.75 mm below a rim. Its sockets lean, so that
//     423 mm2 of wall, seen from above, face down; whoever listed the model worked
//     its one connected hollow out by a method of their own: 34523.846 mm3 through
//     an opening of 4157.215 mm2, 16.757 deep (33370 by heights seen from above).
//   - The housing is a box of 174 x 42 x 137 open on one side, with four screw posts:
//     its inside is one hollow, cut through at one wall (slots for cables), so that
//     it counts as a way in and not as a cavity; and the posts have round holes.
func TestRealTraysCupsAndHolders(t *testing.T) {
	type wanted struct {
		kind                                  Kind
		volume, opening, depth, undercut, per float64
	}
	for _, c := range []struct {
		file   string
		served bool
		pull   string
		want   []wanted
	}{
		{"openscad_M_pocket_block.stl", true, "+z", []wanted{{Cavity, 30*30*15 - 11547.668, (30*30*15 - 11547.668) / 10, 10, 0, 1e-3}}},
		{"openscad_two_M_blocks.stl", true, "+z", []wanted{{Cavity, (27000 - 23029.012) / 2, (27000 - 23029.012) / 20, 10, 0, 1e-2}, {Cavity, (27000 - 23029.012) / 2, (27000 - 23029.012) / 20, 10, 0, 1e-2}}},
		{"npm_stl_cube_with_hole.stl", true, "+z", []wanted{{Hole, 4000 - 3000, 100, 10, 0, 1e-6}}},
		{"vector76_socket_holder_metric.stl", false, "+z", []wanted{{Cavity, 34523.8458, 4157.215, 16.757, 423.2, 1e-1}}},
	} {
		t.Run(c.file, func(t *testing.T) {
			h, err := Open(t.Context(), realModel(t, c.file, c.served), cavity.Options{}, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if got := DirectionText(h.Pull); got != c.pull {
				t.Errorf("pulled along %s, want %s", got, c.pull)
			}
			if len(h.Hollows) != len(c.want) {
				t.Fatalf("found %s", briefly(h.Hollows))
			}
			for i, w := range c.want {
				o := h.Hollows[i]
				if o.Kind != w.kind {
					t.Errorf("hollow %d is a %s, want a %s", o.ID, o.Kind, w.kind)
				}
				near(t, "volume", o.VolumeMM3, w.volume, w.per)
				near(t, "opening", o.OpeningMM2, w.opening, 5e-3)
				near(t, "depth", o.DepthMM, w.depth, 1e-3)
				near(t, "undercut", o.UndercutMM2, w.undercut, 0.1)
			}
		})
	}
	t.Run("housing", func(t *testing.T) {
		h, err := Open(t.Context(), realModel(t, "npm_nodestl_raspi_housing.stl", true), cavity.Options{}, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if h.Hollows[0].Kind != Runner || len(h.Hollows) != 5 || DirectionText(h.Pull) != "-y" {
			t.Fatalf("found %s along %v", briefly(h.Hollows), h.Pull)
		}
		// The box less its walls: it holds less than its outside, more than three quarters
		// of it, and the holes are 12.75 deep, all four alike.
		if v := h.Hollows[0].VolumeMM3; v > 174*42*137 || v < 0.75*174*42*137 {
			t.Errorf("inside %g mm3", v)
		}
		for _, o := range h.Hollows[1:] {
			if o.Kind != Hole {
				t.Errorf("%s of %g mm3", o.Kind, o.VolumeMM3)
			}
			near(t, "post", o.VolumeMM3, h.Hollows[1].VolumeMM3, 1e-2)
		}
	})
}

// Baits and machine parts are no mold halves, and are told so.
func TestRealModelsThatAreNoHalves(t *testing.T) {
	for file, want := range map[string]error{
		"blub_fish_low.stl":              ErrBait,
		"npm_jscad_frog.stl":             ErrNoParting, // it stands on flat feet
		"openscad_hollow_projection.stl": ErrNoParting,
		"npm_stl_effector_base.stl":      ErrNoParting,
	} {
		t.Run(file, func(t *testing.T) {
			_, err := Open(t.Context(), realModel(t, file, file != "blub_fish_low.stl"), cavity.Options{}, Options{})
			if !errors.Is(err, want) {
				t.Errorf("%v, want %v", err, want)
			}
		})
	}
}
