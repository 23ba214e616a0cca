package halfedge_test

import (
	"slices"
	"testing"

	"bellyline/mesh/halfedge"
	"bellyline/mesh/solids"
)

func edgeCount(triangles [][3]int32, vertices int) int {
	n := 0
	halfedge.NewTable(triangles, vertices).EachEdge(0, vertices, func(int32, []halfedge.Use) { n++ })
	return n
}

// Surfaces in order: nothing to report, the shells they were drawn with, and Euler's
// formula, in whatever order their facets come.
func TestSurveyOfSurfacesInOrder(t *testing.T) {
	for _, b := range inOrder() {
		if len(b.triangles) != b.facets || b.vertices != b.corners {
			t.Errorf("%s: drawn with %d facets, %d corners, want %d, %d", b.name, len(b.triangles), b.vertices, b.facets, b.corners)
		}
		for seed := range uint64(4) {
			facets := shuffled(b.triangles, seed)
			s := halfedge.NewSurvey(facets, b.vertices)
			if s.Counts != (halfedge.Counts{}) || s.Degenerate != 0 || s.Table != nil {
				t.Errorf("%s: out of order: %+v, %d degenerate", b.name, s.Counts, s.Degenerate)
			}
			if got := s.ShellCount(); got != b.shells {
				t.Errorf("%s: %d shells, want %d", b.name, got, b.shells)
			}
			if euler := b.vertices - edgeCount(facets, b.vertices) + len(facets); euler != b.euler {
				t.Errorf("%s: Euler's number %d, want %d", b.name, euler, b.euler)
			}
			if !halfedge.AllBalanced(facets) {
				t.Errorf("%s: not balanced", b.name)
			}
		}
	}
}

// What is out of order is counted; numbers from the drawings, by hand.
func TestSurveyCountsWhatIsOutOfOrder(t *testing.T) {
	box, corners := numbered(solids.Block(1, 2, 3))
	moebius, places := numbered(solids.Moebius())
	turned := slices.Clone(box)
	turned[0][1], turned[0][2] = turned[0][2], turned[0][1]
	for _, c := range []struct {
		name       string
		facets     [][3]int32
		vertices   int
		want       halfedge.Counts
		degenerate int
		shells     int
	}{
		{"a facet missing", box[1:], corners, halfedge.Counts{Boundary: 3}, 0, 1},
		{"a facet turned", turned, corners, halfedge.Counts{Misoriented: 3}, 0, 1},
		// Its three edges are used three times.
		{"a facet twice", append(slices.Clone(box), box[0]), corners, halfedge.Counts{Boundary: 3, Nonmanifold: 3, Duplicate: 1}, 0, 1},
		// Two run each edge each way.
		{"all facets twice", append(slices.Clone(box), box...), corners, halfedge.Counts{Nonmanifold: 18, Duplicate: 12}, 0, 1},
		{"a facet and its back", [][3]int32{{0, 1, 2}, {0, 2, 1}}, 3, halfedge.Counts{Duplicate: 1}, 0, 1},
		{"a facet without area", append(slices.Clone(box), [3]int32{1, 1, 2}), corners, halfedge.Counts{}, 1, 1},
		{"a wall without ends", openPrism(7), 14, halfedge.Counts{Boundary: 14}, 0, 1},
		{"three at an edge", fan(3), 5, halfedge.Counts{Boundary: 7, Nonmanifold: 1}, 0, 1},
		{"four at an edge", fan(4), 6, halfedge.Counts{Boundary: 8, Nonmanifold: 1}, 0, 1},
		{"two apart", [][3]int32{{0, 1, 2}, {3, 4, 5}}, 6, halfedge.Counts{Boundary: 6}, 0, 2},
		{"touching in a corner", [][3]int32{{0, 1, 2}, {2, 3, 4}}, 5, halfedge.Counts{Boundary: 6}, 0, 2},
		{"one facet", [][3]int32{{0, 1, 2}}, 3, halfedge.Counts{Boundary: 3}, 0, 1},
		{"none", nil, 0, halfedge.Counts{}, 0, 0},
	} {
		for seed := range uint64(4) {
			facets := shuffled(c.facets, seed)
			s := halfedge.NewSurvey(facets, c.vertices)
			if s.Counts != c.want || s.Degenerate != c.degenerate || s.ShellCount() != c.shells {
				t.Errorf("%s: %+v, %d degenerate, %d shells; want %+v, %d, %d", c.name, s.Counts, s.Degenerate, s.ShellCount(), c.want, c.degenerate, c.shells)
			}
			if got, want := halfedge.AllBalanced(facets), c.want.Boundary+c.want.Misoriented == 0; got != want {
				t.Errorf("%s: balanced: %v", c.name, got)
			}
		}
	}
	// Nine facets, a side of each on the rim, the other edges used twice.
	s := halfedge.NewSurvey(moebius, places)
	if s.Boundary != 9 || s.Nonmanifold != 0 || s.ShellCount() != 1 {
		t.Errorf("Moebius strip: %+v, %d shells", s.Counts, s.ShellCount())
	}
	if rim := halfedge.ChainLoops(s.BoundaryEdges()); len(rim) != 1 || len(rim[0]) != 9 {
		t.Errorf("Moebius strip: its rim is %v, want one loop of 9", rim)
	}
}

// Shells are numbered by their first facets; degenerate facets have none; a shell is
// torn if an edge of its own is.
func TestShellNumbersAndTornShells(t *testing.T) {
	box, n := numbered(solids.Block(1, 2, 3))
	var facets [][3]int32
	var want []int32
	for i := range int32(3) { // shells a facet at a time; the second lacks its last one
		for k, f := range box {
			if i == 1 && k == len(box)-1 {
				continue
			}
			d := i * int32(n)
			facets, want = append(facets, [3]int32{f[0] + d, f[1] + d, f[2] + d}), append(want, i)
		}
		facets, want = append(facets, [3]int32{0, 0, 1}), append(want, -1)
	}
	s := halfedge.NewSurvey(facets, 3*n)
	of, count := s.ShellNumbers()
	if count != 3 || !slices.Equal(of, want) {
		t.Fatalf("%d shells: %v, want %v", count, of, want)
	}
	torn := s.TornShells(of, count)
	if torn[0].Load() || !torn[1].Load() || torn[2].Load() {
		t.Error("the second shell alone is torn")
	}
}
