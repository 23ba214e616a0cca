package mesh

import (
	"fmt"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"

	"bellyline/mesh/halfedge"
	"bellyline/mesh/solids"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// Counts is a report without its places.
func Counts(r *Report) string {
	var b strings.Builder
	fmt.Fprintf(&b, "shells %d voids %d closed %v oriented %v", r.Shells, r.Voids, r.Closed, r.Oriented)
	for _, p := range r.Problems {
		fmt.Fprintf(&b, ", %s %d", p.Kind, p.Count)
	}
	return b.String()
}

// What each broken surface has to be called. The counts are by hand: a box has 12
// facets and 18 edges, each of them shared by two facets.
func TestCheckNamesEachDefect(t *testing.T) {
	box := solids.Cube(0, 10)
	facet := func(f int) []r3.Vector { return box[3*f : 3*f+3] }
	// Two boxes that share an edge: the edge is used by four facets.
	second := solids.Move(box, r3.Vector{X: 10, Y: 10})
	a, b, c := facet(0)[0], facet(0)[1], facet(0)[2]
	for name, test := range map[string]struct {
		corners []r3.Vector
		want    string
	}{
		"box":     {box, "shells 1 voids 0 closed true oriented true"},
		"nothing": {nil, "shells 0 voids 0 closed true oriented true"},
		"one facet missing": {box[3:],
			"shells 1 voids 0 closed false oriented false, boundary_edge 3"},
		"one facet flipped": {solids.Join(box[3:], solids.Flip(facet(0))),
			"shells 1 voids 0 closed true oriented false, misoriented_edge 3"},
		"inside out": {solids.Flip(box),
			"shells 1 voids 0 closed true oriented true, inside_out_shell 1"},
		"a facet twice": {solids.Join(box, facet(0)),
			"shells 1 voids 0 closed false oriented false, boundary_edge 3, nonmanifold_edge 3, duplicate_facet 1"},
		"a facet twice, once over and once turned": {solids.Join(box, facet(0), solids.Flip(facet(0))),
			"shells 1 voids 0 closed true oriented true, nonmanifold_edge 3, duplicate_facet 2"},
		"a sheet of no thickness": {solids.Join(facet(0), solids.Flip(facet(0))),
			"shells 1 voids 0 closed true oriented true, duplicate_facet 1"},
		"two boxes apart": {solids.Join(box, solids.Move(box, r3.Vector{X: 20})),
			"shells 2 voids 0 closed true oriented true"},
		"two boxes sharing a corner": {solids.Join(box, solids.Move(box, r3.Vector{X: 10, Y: 10, Z: 10})),
			"shells 2 voids 0 closed true oriented true"},
		"two boxes sharing an edge": {solids.Join(box, second),
			"shells 1 voids 0 closed true oriented true, nonmanifold_edge 1"},
		"facet with two equal corners": {solids.Join(box, []r3.Vector{a, a, b}),
			"shells 1 voids 0 closed true oriented true, degenerate_facet 1"},
		"facet that is a point": {solids.Join(box, []r3.Vector{c, c, c}),
			"shells 1 voids 0 closed true oriented true, degenerate_facet 1"},
		"only degenerate": {[]r3.Vector{a, b, a},
			"shells 0 voids 0 closed true oriented true, degenerate_facet 1"},
		// A facet a b c replaced by a m c and m b c, and the sliver a b m that joins
		// them to the facet beyond the edge a b: three corners on a line, but needed.
		"T-joint bridged by a flat facet": {solids.Join(box[3:], solids.Split(a, b, c), []r3.Vector{a, b, solids.Middle(a, b)}),
			"shells 1 voids 0 closed true oriented true, zero_area_facet 1"},
		"T-joint left open": {solids.Join(box[3:], solids.Split(a, b, c)),
			"shells 1 voids 0 closed false oriented false, boundary_edge 3"},
		"void in a box": {solids.Join(box, solids.Flip(solids.Cube(3, 2))),
			"shells 2 voids 1 closed true oriented true"},
		"inside out beside a box": {solids.Join(box, solids.Flip(solids.Cube(30, 2))),
			"shells 2 voids 0 closed true oriented true, inside_out_shell 1"},
		"inside out within a void": {solids.Join(box, solids.Flip(solids.Cube(1, 7)), solids.Flip(solids.Cube(2, 2))),
			"shells 3 voids 1 closed true oriented true, inside_out_shell 1"},
		"body within a void": {solids.Join(box, solids.Flip(solids.Cube(1, 7)), solids.Cube(2, 2)),
			"shells 3 voids 1 closed true oriented true"},
		// The first facet of the void lies in a face of the box: no answer there, the
		// next facet tells.
		"void with a face in the skin": {solids.Join(box, solids.Flip(solids.TetrahedronOf(
			r3.Vector{X: 4, Y: 4}, r3.Vector{X: 5, Y: 4}, r3.Vector{X: 4, Y: 5}, r3.Vector{X: 4, Y: 4, Z: 1}))),
			"shells 2 voids 1 closed true oriented true"},
		"Möbius band": {solids.Moebius(), "shells 1 voids 0 closed false oriented false, boundary_edge 9, misoriented_edge 1"},
	} {
		if got := Counts(New(test.corners).Check()); got != test.want {
			t.Errorf("%s:\n got %s\nwant %s", name, got, test.want)
		}
	}
}

// Open mesh, bow-tie hole: what is said about a place, word for word. Facet
// numbers in a text count from 1.
func TestPlaces(t *testing.T) {
	box := solids.Cube(0, 10)
	for name, test := range map[string]struct {
		corners []r3.Vector
		want    []Place
	}{
		// The second facet of the box, first here, has lost its neighbour.
		"hole": {box[3:], []Place{
			{Facet: 0, At: r3.Vector{}, Text: "open along 3 edges, 34.14 mm round, from (0, 0, 0)"}}},
		"flipped": {solids.Join(box[3:], solids.Flip(box[:3])), []Place{
			{Facet: 0, At: r3.Vector{X: 5, Y: 5}, Text: "edge from (0, 0, 0) to (10, 10, 0) is run 2 times one way, 0 the other"},
		}},
		"degenerate": {solids.Join(box, []r3.Vector{{}, {}, {X: 10}}), []Place{
			{Facet: 12, At: r3.Vector{}, Text: "two corners are equal: (0, 0, 0), (0, 0, 0), (10, 0, 0)"}}},
		"twice": {solids.Join(box, box[:3], solids.Flip(box[:3])), nil},
	} {
		r := New(test.corners).Check()
		if len(r.Problems) == 0 {
			t.Fatalf("%s: no problem", name)
		}
		if len(test.want) > 0 && !reflect.DeepEqual(r.Problems[0].Places[:len(test.want)], test.want) {
			t.Errorf("%s: %+v", name, r.Problems[0].Places)
		}
		for _, p := range r.Problems {
			if len(p.Places) == 0 || len(p.Places) > p.Count {
				t.Errorf("%s: %d places for %d of %s", name, len(p.Places), p.Count, p.Kind)
			}
		}
	}
	r := New(solids.Join(box, box[:3], solids.Flip(box[:3]))).Check()
	dup := r.Problems[len(r.Problems)-1]
	if dup.Kind != DuplicateFacet || !slices.ContainsFunc(dup.Places, func(p Place) bool {
		return p.Facet == 12 && p.Text == "same corners as facet 1, at (0, 0, 0)"
	}) || !slices.ContainsFunc(dup.Places, func(p Place) bool {
		return p.Facet == 13 && p.Text == "same corners as facet 1, the other way round, at (0, 0, 0)"
	}) {
		t.Errorf("duplicates: %+v", dup)
	}
}

func TestAtMostFivePlaces(t *testing.T) {
	soup := New(solids.Torus(9, 2, 20, 10)[:3*100]).Check()
	soup2 := &Mesh{}
	for i := range int32(40) { // 40 triangles apart
		x := float64(10 * i)
		soup2.Vertices = append(soup2.Vertices, r3.Vector{X: x}, r3.Vector{X: x + 1}, r3.Vector{X: x, Y: 1})
		soup2.Triangles = append(soup2.Triangles, [3]int32{3 * i, 3*i + 1, 3*i + 2})
	}
	r := soup2.Check()
	if r.Count(BoundaryEdge) != 120 || len(r.Problems[0].Places) != 5 || r.Shells != 40 {
		t.Errorf("%s, %d places", Counts(r), len(r.Problems[0].Places))
	}
	if soup.Count(BoundaryEdge) == 0 || soup.Count(NonmanifoldEdge) != 0 {
		t.Errorf("strip of a torus: %s", Counts(soup))
	}
}

// edgesByMap is the plain way to count, for comparison.
func edgesByMap(m *Mesh) halfedge.Counts {
	type run struct{ forward, backward int }
	edges := map[[2]int32]run{}
	facets := map[[3]int32]int{}
	for _, t := range m.Triangles {
		if halfedge.IsDegenerate(t) {
			continue
		}
		for k := range 3 {
			a, b := t[k], t[(k+1)%3]
			e := edges[[2]int32{min(a, b), max(a, b)}]
			if a < b {
				e.forward++
			} else {
				e.backward++
			}
			edges[[2]int32{min(a, b), max(a, b)}] = e
		}
		slices.Sort(t[:])
		facets[t]++
	}
	var c halfedge.Counts
	for _, e := range edges {
		n := e.forward + e.backward
		switch {
		case n%2 != 0:
			c.Boundary++
		case e.forward != e.backward:
			c.Misoriented++
		}
		if n > 2 {
			c.Nonmanifold++
		}
	}
	for _, n := range facets {
		c.Duplicate += n - 1
	}
	return c
}

// shellsByMap counts parts connected by edges the plain way.
func shellsByMap(m *Mesh) int {
	at := map[[2]int32][]int{}
	for f, t := range m.Triangles {
		for k := range 3 {
			a, b := t[k], t[(k+1)%3]
			at[[2]int32{min(a, b), max(a, b)}] = append(at[[2]int32{min(a, b), max(a, b)}], f)
		}
	}
	seen := map[int]bool{}
	n := 0
	for f, t := range m.Triangles {
		if seen[f] || halfedge.IsDegenerate(t) {
			continue
		}
		n++
		for todo := []int{f}; len(todo) > 0; {
			f := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			if seen[f] || halfedge.IsDegenerate(m.Triangles[f]) {
				continue
			}
			seen[f] = true
			for k := range 3 {
				a, b := m.Triangles[f][k], m.Triangles[f][(k+1)%3]
				todo = append(todo, at[[2]int32{min(a, b), max(a, b)}]...)
			}
		}
	}
	return n
}

// Triangles thrown at a few vertices have every defect at once: edges used many
// times, duplicates, degenerate facets, parts that touch at a vertex. A body with a
// facet or two dropped, flipped, doubled or made degenerate has just one of them.
func TestCountsOfSoupAgreeWithPlainMaps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { checkAgainstMaps(t, soup(t)) })
	rapid.Check(t, func(t *rapid.T) { checkAgainstMaps(t, damaged(t)) })
}

func soup(t *rapid.T) *Mesh {
	n := rapid.IntRange(3, 40).Draw(t, "vertices")
	m := &Mesh{}
	for i := range n {
		m.Vertices = append(m.Vertices, r3.Vector{X: float64(i * i % 7), Y: float64(i), Z: float64(i * 3 % 11)})
	}
	corner := rapid.Int32Range(0, int32(n-1))
	for range rapid.IntRange(0, 120).Draw(t, "facets") {
		m.Triangles = append(m.Triangles, [3]int32{corner.Draw(t, "a"), corner.Draw(t, "b"), corner.Draw(t, "c")})
	}
	return m
}

func damaged(t *rapid.T) *Mesh {
	m := New(rapid.SampledFrom(plainBodies()).Draw(t, "body"))
	for range rapid.IntRange(0, 2).Draw(t, "defects") {
		f := rapid.IntRange(0, len(m.Triangles)-1).Draw(t, "facet")
		tri := m.Triangles[f]
		switch rapid.SampledFrom([]string{"drop", "flip", "double", "turn", "pinch", "needle"}).Draw(t, "defect") {
		case "drop":
			m.Triangles = append(m.Triangles[:f], m.Triangles[f+1:]...)
		case "flip":
			m.Triangles[f] = [3]int32{tri[0], tri[2], tri[1]}
		case "double":
			m.Triangles = append(m.Triangles, tri)
		case "turn":
			m.Triangles = append(m.Triangles, [3]int32{tri[0], tri[2], tri[1]})
		case "pinch":
			m.Triangles[f][0] = tri[1]
		case "needle":
			m.Triangles = append(m.Triangles, [3]int32{tri[0], tri[0], tri[2]})
		}
	}
	return m
}

func checkAgainstMaps(t *rapid.T, m *Mesh) {
	t.Helper()
	r := m.Check()
	got := halfedge.Counts{Boundary: r.Count(BoundaryEdge), Misoriented: r.Count(MisorientedEdge), Nonmanifold: r.Count(NonmanifoldEdge), Duplicate: r.Count(DuplicateFacet)}
	if want := edgesByMap(m); got != want {
		t.Fatalf("counts %+v, want %+v", got, want)
	}
	if want := shellsByMap(m); r.Shells != want {
		t.Fatalf("%d shells, want %d", r.Shells, want)
	}
	checkLoops(t, m, r)
	checkShells(t, m, r)
}

// checkLoops fails unless the loops are closed, visit no vertex twice, and use
// each boundary edge once.
func checkLoops(t *rapid.T, m *Mesh, r *Report) {
	t.Helper()
	uses := map[[2]int32]int{}
	for _, f := range m.Triangles {
		for k := range 3 {
			a, b := f[k], f[(k+1)%3]
			uses[[2]int32{min(a, b), max(a, b)}]++
		}
	}
	edges := 0
	for _, loop := range m.BoundaryLoops() {
		sorted := slices.Sorted(slices.Values(loop))
		if len(loop) < 3 || len(slices.Compact(sorted)) != len(loop) {
			t.Fatalf("loop %v is no loop", loop)
		}
		for i, a := range loop {
			b := loop[(i+1)%len(loop)]
			key := [2]int32{min(a, b), max(a, b)}
			if uses[key]%2 == 0 {
				t.Fatalf("loop %v: edge %v is no boundary, or is used twice", loop, key)
			}
			uses[key] = 0
			edges++
		}
	}
	if edges != r.Count(BoundaryEdge) {
		t.Fatalf("loops have %d edges of %d", edges, r.Count(BoundaryEdge))
	}
}

// checkShells fails unless shells split the facets.
func checkShells(t *rapid.T, m *Mesh, r *Report) {
	t.Helper()
	seen := map[int32]bool{}
	oriented := true
	for _, s := range m.Shells() {
		if len(s.Triangles) == 0 || !slices.IsSorted(s.Triangles) {
			t.Fatalf("shell %v", s.Triangles)
		}
		for _, f := range s.Triangles {
			if seen[f] || halfedge.IsDegenerate(m.Triangles[f]) {
				t.Fatalf("facet %d is in two shells, or degenerate", f)
			}
			seen[f] = true
		}
		oriented = oriented && s.Oriented
	}
	if len(seen)+r.Count(DegenerateFacet) != len(m.Triangles) {
		t.Fatalf("%d of %d facets are in shells", len(seen), len(m.Triangles))
	}
	if oriented != r.Oriented {
		t.Fatalf("shells oriented %v, report %v", oriented, r.Oriented)
	}
}

func TestReportDoesNotDependOnThreads(t *testing.T) {
	torus := solids.Torus(20, 6, 150, 60)
	m := New(solids.Join(torus[300:9000], torus[9003:], torus[600:660], solids.Flip(solids.Cube(40, 3)), torus[:9]))
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	want, shells, loops := m.Check(), m.Shells(), m.BoundaryLoops()
	if want.Closed || len(want.Problems) < 4 {
		t.Fatalf("too tame to tell: %s", Counts(want))
	}
	for _, n := range []int{2, 3, 8} {
		runtime.GOMAXPROCS(n)
		if got := m.Check(); !reflect.DeepEqual(got, want) {
			t.Errorf("%d threads: %s, want %s", n, Counts(got), Counts(want))
		}
		if !reflect.DeepEqual(m.Shells(), shells) || !reflect.DeepEqual(m.BoundaryLoops(), loops) {
			t.Errorf("%d threads: shells or loops differ", n)
		}
	}
}

// What must not take time with the square of the facets at one place: fifty
// thousand at the tip of a cone, at one edge, one on the other, and in parts that
// are all inside out. What is found is what counts here.
func TestManyFacetsAtOnePlace(t *testing.T) {
	const many = 50_000
	book, pile, dust := &Mesh{}, &Mesh{}, &Mesh{}
	pile.Vertices = []r3.Vector{{}, {X: 1}, {Y: 1}}
	book.Vertices = []r3.Vector{{}, {X: 1}}
	speck := New(solids.Flip(solids.Tetrahedron(0.5)))
	for i := range int32(many) {
		pile.Triangles = append(pile.Triangles, [3]int32{0, 1, 2})
		book.Vertices = append(book.Vertices, r3.Vector{Y: 1 + float64(i), Z: float64(i)})
		book.Triangles = append(book.Triangles, [3]int32{0, 1, i + 2})
	}
	for i := range int32(many / 4) {
		for _, p := range speck.Vertices {
			dust.Vertices = append(dust.Vertices, p.Add(r3.Vector{X: float64(i)}))
		}
		for _, f := range speck.Triangles {
			dust.Triangles = append(dust.Triangles, [3]int32{f[0] + 4*i, f[1] + 4*i, f[2] + 4*i})
		}
	}
	for name, test := range map[string]struct {
		m    *Mesh
		want string
	}{
		"cone": {New(solids.Frustum(5, 0, 10, many)), "shells 1 voids 0 closed true oriented true"},
		"book": {book, fmt.Sprintf(
			"shells 1 voids 0 closed false oriented false, boundary_edge %d, misoriented_edge 1, nonmanifold_edge 1", 2*many)},
		"pile": {pile, fmt.Sprintf(
			"shells 1 voids 0 closed true oriented false, misoriented_edge 3, nonmanifold_edge 3, duplicate_facet %d", many-1)},
		"dust": {dust, fmt.Sprintf("shells %d voids 0 closed true oriented true, inside_out_shell %[1]d", many/4)},
	} {
		if got := Counts(test.m.Check()); got != test.want {
			t.Errorf("%s:\n got %s\nwant %s", name, got, test.want)
		}
	}
}
