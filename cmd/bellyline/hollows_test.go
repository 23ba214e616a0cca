package main

import (
	"bytes"
	"context"
	"path/filepath"
	"strings"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/stl"
)

// pitted is a block of 60 x 40 x 30 with a pyramid-shaped pit in its top, its bottom,
// both or neither, as an STL file.
func pitted(t *testing.T, top, bottom bool) string {
	t.Helper()
	var corners []r3.Vector
	quad := func(a, b, c, d r3.Vector) { corners = append(corners, a, b, c, a, c, d) }
	ring := func(in, z float64) [4]r3.Vector {
		return [4]r3.Vector{{X: in, Y: in, Z: z}, {X: 60 - in, Y: in, Z: z}, {X: 60 - in, Y: 40 - in, Z: z}, {X: in, Y: 40 - in, Z: z}}
	}
	face := func(z float64, pit, up bool) {
		add := func(a, b, c, d r3.Vector) {
			if up {
				quad(a, b, c, d)
			} else {
				quad(d, c, b, a)
			}
		}
		o, i := ring(0, z), ring(10, z)
		if !pit {
			add(o[0], o[1], o[2], o[3])
			return
		}
		tip := r3.Vector{X: 30, Y: 20, Z: 12}
		if up {
			tip.Z = 18
		}
		for k := range 4 {
			n := (k + 1) % 4
			add(o[k], o[n], i[n], i[k])
			if up {
				corners = append(corners, i[k], i[n], tip)
			} else {
				corners = append(corners, i[n], i[k], tip)
			}
		}
	}
	face(30, top, true)
	face(0, bottom, false)
	lo, hi := ring(0, 0), ring(0, 30)
	for k := range 4 {
		n := (k + 1) % 4
		quad(lo[k], lo[n], hi[n], hi[k])
	}
	path := filepath.Join(t.TempDir(), "half.stl")
	if err := stl.WriteFile(path, "half", mesh.New(corners)); err != nil {
		t.Fatal(err)
	}
	return path
}

// What is no mold half, or no single one, gets exit status 1, nothing on standard
// output and one sentence that says what to do.
func TestHollowsRefusals(t *testing.T) {
	for _, c := range []struct {
		name string
		args []string
		want string
	}{
		{"two faces", []string{pitted(t, true, true)}, "hollows open on more than one face: +z (1 of 3200 mm3), -z (1 of 3200 mm3); say which is the parting face with --pull"},
		{"a plain block", []string{pitted(t, false, false)}, "no parting face: nothing opens in any of the 6 flat faces; is this a plain block or a bait? the model of a mold half is the block with its hollows cut out"},
		{"a pull along which nothing opens", []string{pitted(t, true, false), "--pull", "+x"}, "no parting face: no hollow opens in a flat face along +x; hollows open along +z"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var out, talk bytes.Buffer
			status := run(context.Background(), append([]string{"hollows"}, c.args...), &out, &talk)
			if want := "bellyline hollows: " + c.args[0] + ": " + c.want + "\n"; status != exitNoAnswer || out.Len() != 0 || talk.String() != want {
				t.Errorf("exit status %d, stdout %q, stderr\n got %s\nwant %s", status, out.String(), talk.String(), want)
			}
		})
	}
	// A pull makes the half with two faces one that can be read. The pit is a pyramid:
	// 40 x 20 x 12 / 3.
	text := string(answer(t, exitDone, "hollows", pitted(t, true, true), "--pull", "-z"))
	if !strings.Contains(text, "3200.000") || !strings.Contains(text, "hollows open along +z as well") {
		t.Error(text)
	}
}
