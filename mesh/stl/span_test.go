package stl

import (
	"bytes"
	"context"
	"math/rand/v2"
	"runtime"
	"testing"

	"bellyline/mesh"

	"github.com/golang/geo/r3"
)

// tangle returns facets between random points of a lattice, each point used again
// and again all over the file, and some facets with points of their own.
func tangle(facets, points int) []rawFacet {
	random := rand.New(rand.NewPCG(7, 8))
	list := make([]rawFacet, facets)
	for f := range list {
		for v := range 3 {
			n := random.IntN(points)
			list[f][v] = [3]float32{float32(n % 31), float32(n / 31 % 31), float32(n / 31 / 31)}
			if random.IntN(10) == 0 {
				list[f][v][2] = float32(f) + random.Float32()
			}
		}
	}
	return list
}

// plainWeld is the weld in its simplest form.
func plainWeld(facets []rawFacet) *mesh.Mesh {
	m := &mesh.Mesh{}
	seen := map[[3]float32]int32{}
	for _, f := range facets {
		var tri [3]int32
		for v, c := range f {
			n, ok := seen[c]
			if !ok {
				n = int32(len(m.Vertices))
				seen[c] = n
				m.Vertices = append(m.Vertices, r3.Vector{X: float64(c[0]), Y: float64(c[1]), Z: float64(c[2])})
			}
			tri[v] = n
		}
		m.Triangles = append(m.Triangles, tri)
	}
	return m
}

// The result is that of one worker and of the simplest weld, bit for bit,
// whatever the number of workers.
func TestReadDoesNotDependOnThreads(t *testing.T) {
	facets := tangle(mostWorkers*workerBytes/facetBytes+1000, 5_000)
	want := plainWeld(facets)
	half := len(facets) / 2
	files := map[string][]byte{
		"binary":      binarySTL("", uint32(len(facets)), facets),
		"two binary":  glue(binarySTL("", uint32(half), facets[:half]), binarySTL("", uint32(len(facets)-half), facets[half:])),
		"text":        []byte(textSTL("t", facets)),
		"two solids":  []byte(textSTL("t", facets[:half]) + textSTL("facet normal", facets[half:])),
		"one line":    bytes.ReplaceAll([]byte(textSTL("t", facets)), []byte("\n"), []byte(" ")),
		"CR":          bytes.ReplaceAll([]byte(textSTL("t", facets)), []byte("\n"), []byte("\r")),
		"upper case":  bytes.ToUpper([]byte(textSTL("t", facets))),
		"odd normals": bytes.ReplaceAll([]byte(textSTL("t", facets)), []byte("normal 0"), []byte("normal nan")),
	}
	if testing.Short() {
		delete(files, "upper case")
		delete(files, "odd normals")
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for name, file := range files {
		for _, threads := range []int{1, 3, mostWorkers} {
			runtime.GOMAXPROCS(threads)
			got, err := Read(context.Background(), bytes.NewReader(file), ReadOptions{})
			if err != nil {
				t.Fatalf("%s, %d threads: %v", name, threads, err)
			}
			if got.WeldedWithinMM != 0 {
				t.Fatalf("%s: the test's file has cracks that were welded", name)
			}
			sameMesh(t, name, threads, got.Mesh, want)
		}
	}
}

func sameMesh(t *testing.T, name string, threads int, got, want *mesh.Mesh) {
	t.Helper()
	if len(got.Vertices) != len(want.Vertices) || len(got.Triangles) != len(want.Triangles) {
		t.Fatalf("%s, %d threads: %d vertices, %d facets, want %d, %d", name, threads,
			len(got.Vertices), len(got.Triangles), len(want.Vertices), len(want.Triangles))
	}
	for i := range want.Vertices {
		if got.Vertices[i] != want.Vertices[i] {
			t.Fatalf("%s, %d threads: vertex %d is %v, want %v", name, threads, i, got.Vertices[i], want.Vertices[i])
		}
	}
	for i := range want.Triangles {
		if got.Triangles[i] != want.Triangles[i] {
			t.Fatalf("%s, %d threads: facet %d is %v, want %v", name, threads, i, got.Triangles[i], want.Triangles[i])
		}
	}
}

// The first fault of the file is told, whichever worker comes to one first.
func TestReadTellsTheFirstFault(t *testing.T) {
	facets := tangle(mostWorkers*workerBytes/facetBytes+1000, 5_000)
	bad := rawFacet{{1, 2, 3}, {float32(inf()), 0, 0}, {0, 0, 0}}
	facets[20_000], facets[len(facets)-5] = bad, bad
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	// Facet n, from 0, is on lines 7n+2 to 7n+8, its second vertex on 7n+5.
	for name, c := range map[string]struct {
		file []byte
		want string
	}{
		"binary": {binarySTL("", uint32(len(facets)), facets), "byte 1000108, facet 20001: x of corner 2 is +Inf, not a finite number" + mendIt},
		"text":   {[]byte(textSTL("t", facets)), "line 140005, facet 20001: the coordinate \"+Inf\" is not a finite number" + mendIt},
	} {
		for _, threads := range []int{1, 2, mostWorkers} {
			runtime.GOMAXPROCS(threads)
			_, err := Read(context.Background(), bytes.NewReader(c.file), ReadOptions{})
			if err == nil || err.Error() != c.want {
				t.Errorf("%s, %d threads:\ngot  %v\nwant %s", name, threads, err, c.want)
			}
		}
	}
}
