package halfedge_test

import (
	"testing"

	"bellyline/mesh/halfedge"
)

// loopsOf checks that each loop is closed and runs over edges that no other has, and
// returns their lengths.
func loopsOf(t *testing.T, edges []halfedge.Boundary) []int {
	t.Helper()
	used := make([]bool, len(edges))
	var lengths []int
	for _, loop := range halfedge.ChainLoops(edges) {
		visited := map[int32]bool{}
		for i, step := range loop {
			e, next := edges[step.Edge], loop[(i+1)%len(loop)].Vertex
			if used[step.Edge] || visited[step.Vertex] {
				t.Fatalf("edge %d or vertex %d twice", step.Edge, step.Vertex)
			}
			used[step.Edge], visited[step.Vertex] = true, true
			if e.From == step.Vertex && e.To == next || e.To == step.Vertex && e.From == next {
				continue
			}
			t.Fatalf("edge %v does not lead from %d to %d", e, step.Vertex, next)
		}
		lengths = append(lengths, len(loop))
	}
	for i, u := range used {
		if !u {
			t.Fatalf("edge %d is in no loop", i)
		}
	}
	return lengths
}

// A wall of n sides without its ends has two rims of n edges. Each edge runs as its
// facet does: the facet lies to its left.
func TestRimsOfAnOpenPrism(t *testing.T) {
	for _, n := range []int32{3, 4, 29, 1000} {
		facets := shuffled(openPrism(n), uint64(n))
		edges := halfedge.NewSurvey(facets, int(2*n)).BoundaryEdges()
		if len(edges) != int(2*n) {
			t.Fatalf("%d edges, want %d", len(edges), 2*n)
		}
		for i, e := range edges {
			f := facets[e.Facet]
			runs := false
			for k := range 3 {
				runs = runs || f[k] == e.From && f[halfedge.After(k)] == e.To
			}
			if !runs {
				t.Fatalf("facet %v does not run from %d to %d", f, e.From, e.To)
			}
			if i > 0 && min(e.From, e.To) < min(edges[i-1].From, edges[i-1].To) {
				t.Fatalf("edge %v after %v", e, edges[i-1])
			}
		}
		if got := loopsOf(t, edges); len(got) != 2 || got[0] != int(n) || got[1] != int(n) {
			t.Errorf("rims of %v, want two of %d", got, n)
		}
	}
}

// Where a walk comes back to a vertex a loop is cut off: two triangles that share a
// corner are two loops, whatever way their edges run.
func TestLoopsThroughOneVertex(t *testing.T) {
	eight := []halfedge.Boundary{{From: 0, To: 1}, {From: 1, To: 2}, {From: 2, To: 0}, {From: 2, To: 3}, {From: 3, To: 4}, {From: 4, To: 2}}
	for turned := range 1 << len(eight) {
		edges := append([]halfedge.Boundary{}, eight...)
		for i := range edges {
			if turned>>i&1 == 1 {
				edges[i].From, edges[i].To = edges[i].To, edges[i].From
			}
		}
		if got := loopsOf(t, edges); len(got) != 2 || got[0] != 3 || got[1] != 3 {
			t.Errorf("turned %b: loops of %v", turned, got)
		}
	}
}

// A surface without holes has no rim.
func TestNoRim(t *testing.T) {
	for _, b := range inOrder() {
		if e := halfedge.NewSurvey(b.triangles, b.vertices).BoundaryEdges(); len(e) != 0 {
			t.Errorf("%s: %v", b.name, e)
		}
	}
}
