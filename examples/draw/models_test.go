package main

import (
	"bytes"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strconv"
	"testing"

	"bellyline/mesh"
	"bellyline/mesh/stl"

	"github.com/golang/geo/r3"
	hschendel "github.com/hschendel/stl"
)

// expected is what the shop of the examples was to have, settled before the
// models were drawn: sizes and volumes of baits of these kinds in mm and mL,
// how they lie, and that a file stays small.
var expected = map[string]struct {
	shells         int
	length         [2]float64 // along x
	millilitres    [2]float64 // of all shells, a sunk part counted twice
	partingHeights []float64  // of each shell, in the order of the file
}{
	"paddletail/bait.stl":   {2, [2]float64{99, 102}, [2]float64{8, 15}, []float64{0, 6}},
	"paddletail/runner.stl": {1, [2]float64{50, 70}, [2]float64{6, 8}, []float64{0}},
	"ringgrub/bait.stl":     {1, [2]float64{74, 77}, [2]float64{4, 6}, []float64{0}},
	"clawcraw/bait.stl":     {1, [2]float64{88, 92}, [2]float64{9, 13}, []float64{0}},
}

const (
	largestFile = 300_000 // bytes
	mostFacets  = 5_990   // with 84 + 50 bytes a facet
)

func committed(t *testing.T, m model) (data []byte, path string) {
	t.Helper()
	path = filepath.Join("..", filepath.FromSlash(m.path))
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data, path
}

// asRead returns the mesh of a file as the stl library reads it, corners with the
// same coordinates joined.
func asRead(t *testing.T, data []byte) *mesh.Mesh {
	t.Helper()
	solid, err := hschendel.ReadAll(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	m := &mesh.Mesh{}
	number := map[hschendel.Vec3]int32{}
	for _, f := range solid.Triangles {
		var corners [3]int32
		for i, v := range f.Vertices {
			n, seen := number[v]
			if !seen {
				n = int32(len(m.Vertices))
				number[v] = n
				m.Vertices = append(m.Vertices, r3.Vector{X: float64(v[0]), Y: float64(v[1]), Z: float64(v[2])})
			}
			corners[i] = n
		}
		m.Triangles = append(m.Triangles, corners)
	}
	return m
}

// eachModel runs a test on the committed file of each bait and of the runner.
func eachModel(t *testing.T, test func(t *testing.T, m model, data []byte, read *mesh.Mesh)) {
	eachOf(t, models(), test)
}

func eachOf(t *testing.T, list []model, test func(t *testing.T, m model, data []byte, read *mesh.Mesh)) {
	for _, m := range list {
		t.Run(m.path, func(t *testing.T) {
			data, _ := committed(t, m)
			test(t, m, data, asRead(t, data))
		})
	}
}

// The committed files are what this program draws. Corners are on a grid, so
// they must be the same on every machine; normals may differ in a last bit where
// the compiler fuses multiplications and additions.
func TestCommittedFilesAreDrawnAgain(t *testing.T) {
	eachOf(t, append(models(), halves()...), func(t *testing.T, m model, data []byte, read *mesh.Mesh) {
		drawn := m.draw()
		var again bytes.Buffer
		if err := stl.Write(&again, m.header(), drawn); err != nil {
			t.Fatal(err)
		}
		if len(read.Triangles) != len(drawn.Triangles) {
			t.Fatalf("the file has %d facets, %d are drawn; run go run ./examples/draw", len(read.Triangles), len(drawn.Triangles))
		}
		for f := range drawn.Triangles {
			a, b, c := drawn.Corners(f)
			ra, rb, rc := read.Corners(f)
			if a != ra || b != rb || c != rc {
				t.Fatalf("facet %d of the file is %v %v %v, drawn is %v %v %v; run go run ./examples/draw", f+1, ra, rb, rc, a, b, c)
			}
		}
		if runtime.GOARCH == "amd64" && !bytes.Equal(data, again.Bytes()) {
			t.Error("the bytes of the file are not those drawn; run go run ./examples/draw")
		}
	})
}

func TestModelsAreClosedShells(t *testing.T) {
	eachModel(t, func(t *testing.T, m model, data []byte, read *mesh.Mesh) {
		want := expected[m.path]
		wantClosed(t, read)
		shells := shellsOf(read)
		if len(shells) != want.shells {
			t.Errorf("%d shells, want %d", len(shells), want.shells)
		}
		for i, s := range shells {
			if v := volume(s); v <= 0 {
				t.Errorf("shell %d has the volume %g mm3: inside out", i+1, v)
			}
		}
		if ml := volume(read) / 1000; ml < want.millilitres[0] || ml > want.millilitres[1] {
			t.Errorf("%.2f mL, want %v", ml, want.millilitres)
		}
		if x := read.Bounds().Size().X; x < want.length[0] || x > want.length[1] {
			t.Errorf("%.1f mm long, want %v", x, want.length)
		}
	})
}

func TestFilesAreSmallAndSayTheyAreInvented(t *testing.T) {
	eachOf(t, append(models(), halves()...), func(t *testing.T, m model, data []byte, read *mesh.Mesh) {
		if len(data) > largestFile || len(read.Triangles) > mostFacets {
			t.Errorf("%d bytes, %d facets", len(data), len(read.Triangles))
		}
		if !bytes.Contains(data[:80], []byte("all data invented")) {
			t.Errorf("the header is %q", data[:80])
		}
	})
}

// A facet as thin as the grid would have a normal that rounding made up. The
// smallest height of a facet must be many grid steps.
func TestFacetsAreNoNeedles(t *testing.T) {
	const leastHeight = 0.02 // mm, 80 grid steps
	eachModel(t, func(t *testing.T, m model, data []byte, read *mesh.Mesh) {
		for f := range read.Triangles {
			a, b, c := read.Corners(f)
			longest := max(b.Sub(a).Norm(), c.Sub(b).Norm(), a.Sub(c).Norm())
			if height := b.Sub(a).Cross(c.Sub(a)).Norm() / longest; height < leastHeight {
				t.Errorf("facet %d is only %g mm high", f+1, height)
			}
		}
	})
}

// Above its parting height no facet faces down and below it none faces up, so
// two mold halves that part there can be pulled straight off. The sign is exact:
// so are products of grid steps.
func TestModelsLeaveTheMold(t *testing.T) {
	eachModel(t, func(t *testing.T, m model, data []byte, read *mesh.Mesh) {
		for i, s := range shellsOf(read) {
			parting := expected[m.path].partingHeights[i]
			for f := range s.Triangles {
				a, b, c := s.Corners(f)
				low, high := min(a.Z, b.Z, c.Z), max(a.Z, b.Z, c.Z)
				if low < parting && high > parting {
					t.Fatalf("shell %d, facet %d crosses the parting height", i+1, f+1)
				}
				facing := b.Sub(a).Cross(c.Sub(a)).Z
				if low < parting {
					facing = -facing
				}
				if facing <= 0 {
					t.Errorf("shell %d, facet %d at %v is undercut", i+1, f+1, a)
				}
			}
		}
	})
}

// The fin is a shell of its own that starts inside the back and ends above it.
func TestFinIsSunkIntoTheBack(t *testing.T) {
	shells := shellsOf(paddletail())
	body, fin := shells[0], shells[1]
	for _, x := range []float64{47.03, 51.03, 57.03, 63.03, 69.03} {
		const y = 0.013 // beside the corners in the plane of symmetry
		b, f := column(body, x, y), column(fin, x, y)
		if len(b) != 2 || len(f) != 2 {
			t.Fatalf("at x = %g the upright line passes the body at %v and the fin at %v", x, b, f)
		}
		if b[0] >= f[0] || f[0] >= b[1]-1 || b[1] >= f[1] {
			t.Errorf("at x = %g the fin goes from %g to %g, the body from %g to %g", x, f[0], f[1], b[0], b[1])
		}
	}
}

func TestRunnerEndsShortOfTheNoses(t *testing.T) {
	nose, gate := paddletail().Bounds().Max.X, runner().Bounds().Min.X
	if gap := gate - nose; gap <= 0 || gap > 1 {
		t.Errorf("the gates end %g mm before the noses", gap)
	}
}

// admesh, an independent program, agrees on shells, closedness and volume. It
// sums in float32, hence the tolerance of 1e-5.
func TestAdmeshAgrees(t *testing.T) {
	program, err := exec.LookPath("admesh")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("admesh is not installed")
		}
		t.Skip("admesh is not installed")
	}
	eachModel(t, func(t *testing.T, m model, data []byte, read *mesh.Mesh) {
		_, path := committed(t, m)
		out, err := exec.Command(program, path).CombinedOutput()
		if err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		found := func(pattern string) float64 {
			match := regexp.MustCompile(pattern).FindSubmatch(out)
			if match == nil {
				t.Fatalf("no %q in what admesh says: %s", pattern, out)
			}
			x, err := strconv.ParseFloat(string(match[1]), 64)
			if err != nil {
				t.Fatal(err)
			}
			return x
		}
		for _, fault := range []string{`Total disconnected facets +: +(\d+)`, `Degenerate facets +: +(\d+)`, `Facets reversed +: +(\d+)`, `Edges fixed +: +(\d+)`} {
			if n := found(fault); n != 0 {
				t.Errorf("%q is %g", fault, n)
			}
		}
		if n := found(`Number of parts +: +(\d+)`); int(n) != expected[m.path].shells {
			t.Errorf("%g parts", n)
		}
		if theirs, ours := found(`Volume +: +([0-9.]+)`), volume(read); math.Abs(theirs-ours) > 1e-5*ours {
			t.Errorf("volume %g mm3, ours is %g", theirs, ours)
		}
	})
}
