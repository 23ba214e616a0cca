package mesh_test

import (
	"bytes"
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"bellyline/mesh"
	"bellyline/mesh/internal/manifest"
	"bellyline/mesh/internal/models"
	"bellyline/mesh/stl"

	"github.com/golang/geo/r3"
)

// mustKeep cuts m by p, writes both halves, reads them again, and demands that they are
// as closed and as large as the cut says.
func mustKeep(t *testing.T, m *mesh.Mesh, p mesh.Plane) {
	t.Helper()
	cut, err := m.Cut(p)
	if err != nil {
		t.Fatal(err)
	}
	below, above, err := m.CutSolids(p)
	if err != nil {
		t.Fatal(err)
	}
	mustKeepHalf(t, p, "below", below, cut.Below.VolumeMM3, m)
	mustKeepHalf(t, p, "above", above, cut.Above.VolumeMM3, m)
}

func mustKeepHalf(t *testing.T, p mesh.Plane, name string, half *mesh.Mesh, volume float64, whole *mesh.Mesh) {
	t.Helper()
	if len(half.Triangles) == 0 {
		return
	}
	var file bytes.Buffer
	switch err := stl.Write(&file, name, half); {
	case errors.Is(err, stl.ErrUnwritable) && math.Abs(volume) < mesh.Sliver(whole):
		return
	case err != nil:
		t.Fatal(err)
	}
	back, err := stl.Read(context.Background(), &file, stl.ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if report := back.Mesh.Check(); !report.Oriented || back.WeldedWithinMM != 0 {
		t.Errorf("%v: saved %s is not closed: %+v", p, name, report.Problems)
	}
	if got := back.Mesh.Moments().VolumeMM3; !(math.Abs(got-volume) <= mesh.Sliver(whole)) {
		t.Errorf("%v: saved %s holds %v, the cut says %v", p, name, got, volume)
	}
}

func TestHalvesOfBodiesSurviveAFile(t *testing.T) {
	for name, m := range mesh.Bodies() {
		t.Run(name, func(t *testing.T) {
			rng := rand.New(rand.NewPCG(1, 2))
			for _, p := range mesh.PlanesFor(m, rng, mesh.PlaneCount(28)) { // 21 bodies: 588 planes
				mustKeep(t, m, p)
			}
		})
	}
}

func TestPartsOfModels(t *testing.T) {
	closed := 0
	models.Each(t, func(t *testing.T, want manifest.Model, m *mesh.Mesh) {
		if !m.Check().Oriented {
			if _, err := m.Cut(mesh.Plane{Normal: r3.Vector{Z: 1}}); !errors.Is(err, mesh.ErrNotClosed) {
				t.Errorf("cut of an open model: %v, want ErrNotClosed", err)
			}
			return
		}
		closed++
		rng := rand.New(rand.NewPCG(3, 4))
		for _, p := range mesh.PlanesFor(m, rng, mesh.PlaneCount(42)) { // 11 models: 462 planes
			mesh.MustAddUp(t, m, p)
			mustKeep(t, m, p)
		}
	})
	if closed < 11 { // the manifest's watertight and balanced models, both halves of the glued file one
		t.Errorf("only %d models could be cut", closed)
	}
}

func TestSectionIsTheDerivativeOfVolumeOfModels(t *testing.T) {
	models.Each(t, func(t *testing.T, want manifest.Model, m *mesh.Mesh) {
		if m.Check().Oriented {
			mesh.CheckSlopes(t, m, rand.New(rand.NewPCG(9, 10)))
		}
	})
}
