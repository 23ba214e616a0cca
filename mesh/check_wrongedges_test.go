package mesh

import (
	"testing"

	"github.com/golang/geo/r3"
	"github.com/google/go-cmp/cmp"

	"bellyline/mesh/solids"
)

// A box of twelve facets has eighteen edges. Without one facet its three sides are
// open; with one facet turned its three sides are run the same way twice.
func TestWrongEdges(t *testing.T) {
	whole := New(solids.Box(r3.Vector{}, r3.Vector{X: 1, Y: 2, Z: 3}))
	if got := whole.WrongEdges(10); len(got) != 0 {
		t.Errorf("a sound box has wrong edges %v", got)
	}
	last := whole.Triangles[len(whole.Triangles)-1]
	sides := map[[2]int32]bool{}
	for k := range 3 {
		a, b := last[k], last[(k+1)%3]
		sides[[2]int32{min(a, b), max(a, b)}] = true
	}
	open := &Mesh{Vertices: whole.Vertices, Triangles: whole.Triangles[:len(whole.Triangles)-1]}
	turned := &Mesh{Vertices: whole.Vertices, Triangles: append(append([][3]int32{}, open.Triangles...), [3]int32{last[0], last[2], last[1]})}
	for name, m := range map[string]*Mesh{"open": open, "turned": turned} {
		got := map[[2]int32]bool{}
		for _, e := range m.WrongEdges(10) {
			got[e] = true
		}
		if diff := cmp.Diff(sides, got); diff != "" {
			t.Errorf("%s (- sides of the facet, + wrong edges):\n%s", name, diff)
		}
		if got := m.WrongEdges(2); len(got) != 2 {
			t.Errorf("%s: %d edges where two at most are asked for", name, len(got))
		}
	}
}
