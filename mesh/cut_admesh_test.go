package mesh_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"path/filepath"
	"testing"

	"bellyline/mesh"
	"bellyline/mesh/internal/admesh"
	"bellyline/mesh/internal/manifest"
	"bellyline/mesh/internal/models"
	"bellyline/mesh/solids"
	"bellyline/mesh/stl"

	"github.com/golang/geo/r3"
)

// admeshHalves saves both halves of cuts of m and has admesh look at them.
func admeshHalves(t *testing.T, program string, m *mesh.Mesh, planes []mesh.Plane) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "half.stl")
	for _, p := range planes {
		below, above, err := m.CutSolids(p)
		if err != nil {
			t.Fatal(err)
		}
		for _, half := range []*mesh.Mesh{below, above} {
			switch err := stl.WriteFile(file, "half", half); {
			case errors.Is(err, stl.ErrUnwritable) && math.Abs(half.Moments().VolumeMM3) < mesh.Sliver(m):
				continue
			case err != nil:
				t.Fatal(err)
			}
			if n := admesh.Disconnected(t, program, file); n != 0 {
				t.Errorf("%v: admesh finds %d disconnected facets", p, n)
			}
		}
	}
}

func TestAdmeshFindsHalvesOfBodiesClosed(t *testing.T) {
	program := admesh.Find(t)
	for name, m := range mesh.Bodies() {
		t.Run(name, func(t *testing.T) {
			admeshHalves(t, program, m, mesh.PlanesFor(m, rand.New(rand.NewPCG(9, 10)), 7))
		})
	}
}

func TestAdmeshFindsHalvesOfModelsClosed(t *testing.T) {
	program := admesh.Find(t)
	models.Each(t, func(t *testing.T, want manifest.Model, m *mesh.Mesh) {
		if m.Check().Oriented {
			admeshHalves(t, program, m, mesh.PlanesFor(m, rand.New(rand.NewPCG(11, 12)), 7))
		}
	})
}

// A half that comes back open must be seen by our check, by the map and by
// admesh, or the tests above prove nothing.
func TestAnOpenHalfWouldBeSeen(t *testing.T) {
	program := admesh.Find(t)
	m := mesh.New(solids.Float32(solids.Sphere(5, 32)))
	below, _, err := m.CutSolids(mesh.Plane{Normal: r3.Vector{Z: 1}, HeightMM: 1})
	if err != nil {
		t.Fatal(err)
	}
	below.Triangles = below.Triangles[:len(below.Triangles)-1] // one facet of the cap
	if n := mesh.OpenEdges(below); n != 3 {
		t.Errorf("%d open edges, want the 3 of the missing facet", n)
	}
	if below.Check().Closed {
		t.Error("Check sees nothing")
	}
	file := filepath.Join(t.TempDir(), "open.stl")
	if err := stl.WriteFile(file, "open", below); err != nil {
		t.Fatal(err)
	}
	if n := admesh.Disconnected(t, program, file); n != 3 {
		t.Errorf("admesh sees %d facets disconnected, want the 3 neighbours of the missing one", n)
	}
}
