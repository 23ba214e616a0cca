package mesh_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"bellyline/mesh"
	"bellyline/mesh/internal/manifest"
	"bellyline/mesh/internal/models"
	"bellyline/mesh/internal/near"

	"github.com/golang/geo/r3"
)

// firstFile cuts the file that is two files in one down to the first, which is
// all that the manifest's own program read.
func firstFile(t *testing.T, want manifest.Model, m *mesh.Mesh) *mesh.Mesh {
	if n := want.Whole(t, "triangles"); n < len(m.Triangles) {
		var corners []r3.Vector
		for f := range n {
			a, b, c := m.Corners(f)
			corners = append(corners, a, b, c)
		}
		return mesh.New(corners)
	}
	return m
}

// vertexComponents counts parts connected by vertices.
func vertexComponents(m *mesh.Mesh) int {
	part := make([]int, len(m.Vertices))
	for v := range part {
		part[v] = v
	}
	find := func(v int) int {
		for part[v] != v {
			v = part[v]
		}
		return v
	}
	for _, t := range m.Triangles {
		for _, v := range t {
			part[find(int(v))] = find(int(t[0]))
		}
	}
	n := 0
	for v := range part {
		if part[v] == v {
			n++
		}
	}
	return n
}

// Counts of defects that another program found in the same files, each in the
// manifest. Where a definition differs the test says so.
func TestCheckOfModelsAgreesWithTheManifest(t *testing.T) {
	models.Each(t, func(t *testing.T, want manifest.Model, m *mesh.Mesh) {
		m = firstFile(t, want, m)
		r := m.Check()
		for column, kind := range map[string]mesh.ProblemKind{
			"boundary_edges":    mesh.BoundaryEdge,
			"nonmanifold_edges": mesh.NonmanifoldEdge,
			"misoriented_edges": mesh.MisorientedEdge,
			"collapsed":         mesh.DegenerateFacet,
			"dup_facets":        mesh.DuplicateFacet,
		} {
			if n := r.Count(kind); n != want.Whole(t, column) {
				t.Errorf("%s: %d, the manifest has %s", kind, n, want[column])
			}
		}
		// The manifest joins what touches at a vertex to one shell, we want an edge:
		// in one file the numbers differ by the shells that touch like that.
		if n := vertexComponents(m); n != want.Whole(t, "shells") {
			t.Errorf("%d parts connected by vertices, the manifest has %s shells", n, want["shells"])
		}
		more := 0
		if want["file"] == "npm_stl_ship.stl" {
			more = 1
		}
		if r.Shells != want.Whole(t, "shells")+more {
			t.Errorf("%d shells, the manifest has %s", r.Shells, want["shells"])
		}
		// Its signs of shells that are open or misoriented are those of a sum that
		// depends on the origin; we give none.
		if n := r.Voids + r.Count(mesh.InsideOutShell); r.Oriented && n != want.Whole(t, "neg_shells") {
			t.Errorf("%d shells face inward, the manifest has %s", n, want["neg_shells"])
		}
		if closed := !strings.HasPrefix(want["watertight"], "no"); closed != r.Oriented {
			t.Errorf("oriented %v, the manifest says watertight %q", r.Oriented, want["watertight"])
		}
		// Its bound for a zero area is not given, and tighter than half a float32 step:
		// all it counts are thin for us, some more as well. Ours counted exactly:
		n := r.Count(mesh.ZeroAreaFacet)
		if exact := mesh.ThinFacets(m); n != exact || n < want.Whole(t, "zero_area") {
			t.Errorf("%d facets without area, exactly %d, the manifest has %s", n, exact, want["zero_area"])
		}
	})
}

// Volume, area and box to the digits that the manifest prints: eight and six.
func TestMomentsOfModelsAgreeWithTheManifest(t *testing.T) {
	models.Each(t, func(t *testing.T, want manifest.Model, m *mesh.Mesh) {
		m = firstFile(t, want, m)
		got := m.Moments()
		near.Number(t, "area", got.AreaMM2, want.Number(t, "own_area"), 1e-7)
		if m.Check().Oriented {
			volume := want.Number(t, "own_signed_volume")
			near.Number(t, "volume", got.VolumeMM3, volume, 1e-7)
			if got.RoundingMM3 > 1e-12*math.Abs(volume) {
				t.Errorf("rounding bound %g of %g", got.RoundingMM3, volume)
			}
		}
		box := m.Bounds()
		for column, corner := range map[string]r3.Vector{"bbox_min": box.Min, "bbox_size": box.Size()} {
			var x, y, z float64
			if _, err := fmt.Sscan(want[column], &x, &y, &z); err != nil {
				t.Fatal(err)
			}
			if d := corner.Distance(r3.Vector{X: x, Y: y, Z: z}); d > 1e-5*box.Diagonal() {
				t.Errorf("%s: %v, the manifest has %s", column, corner, want[column])
			}
		}
	})
}

// What the manifest's notes say by word.
func TestModelsWithExactAnswers(t *testing.T) {
	models.Each(t, func(t *testing.T, want manifest.Model, m *mesh.Mesh) {
		got, r := m.Moments(), m.Check()
		switch want["file"] {
		case "npm_stl_cube_with_hole.stl": // 20 x 20 x 10 less 10 x 10 x 10
			near.Number(t, "volume", got.VolumeMM3, 3000, 1e-14)
			near.Number(t, "area", got.AreaMM2, 1800, 1e-14)
		case "openscad_M_pocket_block.stl": // the pocket's floor is 195.2332 mm^2, 10 deep
			near.Number(t, "pocket", 30*30*15-got.VolumeMM3, 1952.332, 1e-6)
		case "npm_nodestl_raspi_housing.stl": // both files of the one
			near.Number(t, "volume", got.VolumeMM3, 139853.002, 1e-8)
			if !r.Oriented || r.Shells != 1 {
				t.Errorf("both blocks together: %s", mesh.Counts(r))
			}
		case "deb_assimp_sphere_with_hole.stl": // three facets are missing, at touching corners
			if loops := m.BoundaryLoops(); len(loops) != 3 || len(loops[0]) != 3 {
				t.Errorf("loops %v", loops)
			}
		case "openscad_hollow_projection.stl":
			if r.Voids != 1 || len(r.Problems) != 0 {
				t.Errorf("outer and inner shell: %s", mesh.Counts(r))
			}
		case "numpystl_half_donut.stl":
			// From the tests of numpy-stl, where they were compared with another program;
			// they print six decimals.
			near.Number(t, "volume", got.VolumeMM3, 2.343149026, 1e-7)
			near.Vector(t, "centroid", got.Centroid, r3.Vector{X: 1.500001, Y: 0.209472, Z: 1.500001}, 1e-6)
			for i, moment := range [3]float64{1.390429, 2.701025, 1.390429} {
				near.Number(t, "inertia", got.Inertia[i][i], moment, 1e-6)
			}
		}
	})
}
