package stl

import (
	"bytes"
	"context"
	"math"
	"testing"

	"bellyline/mesh"

	"github.com/golang/geo/r3"
	"github.com/google/go-cmp/cmp"
)

// up returns the next float32 above x.
func up(x float32) float32 { return math.Nextafter32(x, math.MaxFloat32) }

func readFacets(t *testing.T, facets []rawFacet) *Model {
	t.Helper()
	model, err := Read(context.Background(), bytes.NewReader(binarySTL("", uint32(len(facets)), facets)), ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return model
}

// One facet of a tetrahedron was written with last bits of its own. Its three
// corners belong to the others, and the first in the file stays.
func TestCrackOfLastBitIsWelded(t *testing.T) {
	cracked := append([]rawFacet{}, tetrahedron...)
	cracked[3] = rawFacet{{up(1), 0, 0}, {0, up(1), 0}, {0, 0, up(1)}}
	model := readFacets(t, cracked)
	whole := readFacets(t, tetrahedron)
	if diff := cmp.Diff(whole.Mesh, model.Mesh); diff != "" {
		t.Errorf("not welded to the tetrahedron:\n%s", diff)
	}
	// The box is up(1) wide, its diagonal sqrt(3) but for a last bit.
	if got, want := model.WeldedWithinMM, 1e-6*math.Sqrt(3); math.Abs(got-want) > 1e-12 {
		t.Errorf("welded within %g mm, want %g", got, want)
	}
	want := []Note{{NoteNearWeld, 3, "3 corners welded to others within 1.7e-06 mm to close cracks"}}
	if diff := cmp.Diff(want, model.Notes); diff != "" {
		t.Errorf("notes (- want, + got):\n%s", diff)
	}
}

func TestNoCrackIsWeldedWithoutNeed(t *testing.T) {
	open := tetrahedron[:3]
	wide := append([]rawFacet{}, tetrahedron...)
	wide[3] = rawFacet{{1 + 3e-6, 0, 0}, {0, 1, 0}, {0, 0, 1}} // beyond 1.7e-6
	// Two closed bodies whose corners are near: no edge is odd, so each stays.
	apart := append([]rawFacet{}, tetrahedron...)
	for _, f := range tetrahedron {
		for v := range f {
			for i := range f[v] {
				f[v][i] = up(f[v][i])
			}
		}
		apart = append(apart, f)
	}
	// An open sliver thinner than the distance would collapse.
	sliver := []rawFacet{{{0, 0, 0}, {1, 0, 0}, {1, 1e-7, 0}}}
	for name, c := range map[string]struct {
		facets   []rawFacet
		vertices int
	}{"open": {open, 4}, "wide": {wide, 5}, "apart": {apart, 8}, "sliver": {sliver, 3}} {
		model := readFacets(t, c.facets)
		if model.WeldedWithinMM != 0 || len(model.Notes) != 0 || len(model.Mesh.Vertices) != c.vertices {
			t.Errorf("%s: welded within %g mm to %d vertices, want none and %d; notes %v",
				name, model.WeldedWithinMM, len(model.Mesh.Vertices), c.vertices, model.Notes)
		}
	}
}

// A crack is closed though a sliver elsewhere would have collapsed.
func TestCrackBesideSliver(t *testing.T) {
	facets := append([]rawFacet{}, tetrahedron...)
	facets[3] = rawFacet{{up(1), 0, 0}, {0, 1, 0}, {0, 0, 1}}
	facets = append(facets, rawFacet{{3, 0, 0}, {3, 1, 0}, {3, 1, 1e-7}})
	model := readFacets(t, facets)
	if len(model.Mesh.Vertices) != 7 || len(model.Notes) != 1 || model.Notes[0].Count != 1 {
		t.Errorf("%d vertices, want 4 of the tetrahedron and 3 of the sliver; notes %v", len(model.Mesh.Vertices), model.Notes)
	}
}

func TestEdgesHash(t *testing.T) {
	closed, vertices := readFacets(t, tetrahedron).Mesh.Triangles, make([]r3.Vector, 4)
	degenerate := append(append([][3]int32{}, closed...), [3]int32{1, 1, 2}, [3]int32{3, 3, 3})
	for name, c := range map[string]struct {
		triangles [][3]int32
		odd       int
	}{
		"closed": {closed, 0}, "twice": {append(closed, closed...), 0}, "degenerate": {degenerate, 0},
		"open": {closed[:3], 3}, "one": {closed[:1], 3}, "none": {nil, 0},
	} {
		if got, _ := oddEdges((&mesh.Mesh{Vertices: vertices, Triangles: c.triangles})); got != c.odd {
			t.Errorf("%s: %d odd edges, want %d", name, got, c.odd)
		}
		if got := edgesHash(c.triangles) == 0; got != (c.odd == 0) {
			t.Errorf("%s: edges even: %v", name, got)
		}
	}
}
