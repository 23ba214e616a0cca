package mesh

import (
	"testing"

	"github.com/golang/geo/r3"
	"github.com/google/go-cmp/cmp"

	"bellyline/mesh/solids"
)

// A sound box, and boxes with one facet each turned over, repeated, and thinned to a
// line or a point: those facets are named, no others.
func TestWrongFacets(t *testing.T) {
	box := solids.Box(r3.Vector{}, r3.Vector{X: 1, Y: 2, Z: 3})
	whole := New(box)
	with := func(change func(t [][3]int32) [][3]int32) *Mesh {
		return &Mesh{Vertices: whole.Vertices, Triangles: change(append([][3]int32{}, whole.Triangles...))}
	}
	inward := with(func(t [][3]int32) [][3]int32 {
		for i := range t {
			t[i][0], t[i][1] = t[i][1], t[i][0]
		}
		return t
	})
	all := []WrongFacet{}
	for f := range whole.Triangles {
		all = append(all, WrongFacet{int32(f), InsideOutShell})
	}
	for name, c := range map[string]struct {
		m    *Mesh
		want []WrongFacet
	}{
		"sound":  {whole, []WrongFacet{}},
		"turned": {with(func(t [][3]int32) [][3]int32 { t[5][0], t[5][1] = t[5][1], t[5][0]; return t }), []WrongFacet{{5, MisorientedEdge}}},
		"twice":  {with(func(t [][3]int32) [][3]int32 { return append(t, t[3]) }), []WrongFacet{{12, DuplicateFacet}}},
		"point":  {with(func(t [][3]int32) [][3]int32 { return append(t, [3]int32{1, 1, 1}) }), []WrongFacet{{12, DegenerateFacet}}},
		"inward": {inward, all},
	} {
		if diff := cmp.Diff(c.want, c.m.WrongFacets(100)); diff != "" {
			t.Errorf("%s (- want, + got):\n%s", name, diff)
		}
	}
	line := &Mesh{Vertices: []r3.Vector{{}, {X: 1}, {X: 2}}, Triangles: [][3]int32{{0, 1, 2}}}
	if diff := cmp.Diff([]WrongFacet{{0, ZeroAreaFacet}}, line.WrongFacets(100)); diff != "" {
		t.Errorf("three corners on one line (- want, + got):\n%s", diff)
	}
	if got := inward.WrongFacets(4); len(got) != 4 {
		t.Errorf("%d facets where four at most are asked for", len(got))
	}
}
