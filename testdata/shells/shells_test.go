package shells

import (
	"bytes"
	"context"
	"fmt"
	"testing"

	"bellyline/mesh"
	"bellyline/mesh/stl"
	"bellyline/mesh/union"
)

// Each shell alone is sound: one piece, closed, outward, and it encloses nothing
// twice. The counts are what the models are drawn for.
func TestShellsAreSound(t *testing.T) {
	counts := map[string]int{"finned": 9, "toothed": 94, "skirted": 103}
	for _, fine := range []float64{1, 2.3} {
		for _, m := range All(fine) {
			if len(m.Shells) != counts[m.Name] {
				t.Errorf("%s has %d shells, want %d", m.Name, len(m.Shells), counts[m.Name])
			}
			for i, s := range m.Shells {
				sound(t, fmt.Sprintf("%s %g shell %d", m.Name, fine, i), mesh.New(s))
			}
		}
	}
}

func sound(t *testing.T, what string, m *mesh.Mesh) {
	t.Helper()
	r := m.Check()
	if !r.Closed || !r.Oriented || r.Shells != 1 || len(r.Problems) > 0 {
		t.Errorf("%s: closed %v, oriented %v, %d pieces, %v", what, r.Closed, r.Oriented, r.Shells, r.Problems)
		return
	}
	f, err := union.Of(context.Background(), m)
	if err != nil {
		t.Errorf("%s: %v", what, err)
		return
	}
	if v := m.Moments().VolumeMM3; v <= 0 || f.Crossings > 0 || f.OverlapMM3 != 0 {
		t.Errorf("%s: volume %g, fill %+v", what, v, f)
	}
}

// Every shell meets another one, or the models would be no test of unions.
func TestShellsOverlap(t *testing.T) {
	for _, m := range All(1) {
		f, err := union.Of(context.Background(), mesh.New(m.Corners()))
		if err != nil {
			t.Fatal(err)
		}
		signed := mesh.New(m.Corners()).Moments().VolumeMM3
		if share := 1 - f.VolumeMM3/signed; share < 0.02 {
			t.Errorf("%s: only %.3g of it overlaps", m.Name, share)
		}
	}
}

func TestSized(t *testing.T) {
	for _, draw := range []func(float64) Model{Finned, Toothed, Skirted} {
		if got := Sized(draw, 100_000).Facets(); got < 85_000 || got > 110_000 {
			t.Errorf("%d facets for 100,000", got)
		}
	}
}

// The corners lie on a grid that float32 keeps, so that a file holds what was drawn.
func TestSTLKeepsCorners(t *testing.T) {
	for _, m := range All(1) {
		read, err := stl.Read(context.Background(), bytes.NewReader(STL(m.Corners())), stl.ReadOptions{})
		if err != nil {
			t.Fatal(err)
		}
		want := mesh.New(m.Corners())
		if got := read.Mesh.Moments().VolumeMM3; got != want.Moments().VolumeMM3 || len(read.Mesh.Triangles) != m.Facets() {
			t.Errorf("%s: read %g mm3 of %d facets", m.Name, got, len(read.Mesh.Triangles))
		}
	}
}
