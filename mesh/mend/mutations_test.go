package mend

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"testing"

	"bellyline/mesh"
	"bellyline/mesh/solids"
	"bellyline/mesh/stl"

	"github.com/golang/geo/r3"
)

// mutation damages a binary STL file.
type mutation struct {
	name   string
	damage func(file []byte, rng *rand.Rand) []byte
}

// What a binary STL has: a header with a count, then a record for each facet.
const (
	fileHead    = 84
	recordBytes = 50
)

func facetsIn(file []byte) int { return (len(file) - fileHead) / recordBytes }

func facetAt(file []byte, f int) []byte {
	return file[fileHead+recordBytes*f : fileHead+recordBytes*(f+1)]
}

// recounted writes the true number of facets into the file.
func recounted(file []byte) []byte {
	binary.LittleEndian.PutUint32(file[80:], uint32(facetsIn(file)))
	return file
}

func mutations() []mutation {
	return []mutation{
		{"truncate", func(file []byte, rng *rand.Rand) []byte { return file[:rng.IntN(len(file))] }},
		{"truncate, count put right", func(file []byte, rng *rand.Rand) []byte {
			return recounted(file[:fileHead+recordBytes*(1+rng.IntN(facetsIn(file)))])
		}},
		{"flip any bit", func(file []byte, rng *rand.Rand) []byte {
			bit := rng.IntN(8 * len(file))
			file[bit/8] ^= 1 << (bit % 8)
			return file
		}},
		{"flip a bit of a corner", func(file []byte, rng *rand.Rand) []byte {
			bit := 12*8 + rng.IntN(36*8)
			facetAt(file, rng.IntN(facetsIn(file)))[bit/8] ^= 1 << (bit % 8)
			return file
		}},
		{"drop a facet", func(file []byte, rng *rand.Rand) []byte {
			f := rng.IntN(facetsIn(file))
			return recounted(slices.Delete(file, fileHead+recordBytes*f, fileHead+recordBytes*(f+1)))
		}},
		{"repeat a facet", func(file []byte, rng *rand.Rand) []byte {
			return recounted(append(file, facetAt(file, rng.IntN(facetsIn(file)))...))
		}},
		{"reverse a facet", func(file []byte, rng *rand.Rand) []byte {
			f := facetAt(file, rng.IntN(facetsIn(file)))
			for i := range 12 {
				f[24+i], f[36+i] = f[36+i], f[24+i]
			}
			return file
		}},
	}
}

// mutatedBodies are small enough to try thousands of mutations: round, sharp,
// with a hole through, with needles, in parts, with a void.
func mutatedBodies() [][]r3.Vector {
	return [][]r3.Vector{
		solids.Cube(0, 10),
		solids.Subdivide(solids.Cube(-4, 8)),
		solids.Sphere(6, 12),
		solids.Icosphere(5, 2),
		solids.Torus(12, 4, 16, 10),
		solids.Frustum(5, 0, 10, 20),
		latheWithBore(),
		solids.TetrahedronOf(r3.Vector{}, r3.Vector{X: 7}, r3.Vector{Y: 8}, r3.Vector{Z: 9}),
		solids.Join(solids.Icosphere(5, 1), solids.Move(solids.Cube(0, 5), r3.Vector{X: 20})),
		solids.Join(solids.Cube(0, 10), solids.Flip(solids.Move(solids.Icosphere(2, 1), r3.Vector{X: 5, Y: 5, Z: 5}))),
	}
}

// Files damaged at random, once or several times over: no panic, and a volume only
// if it is that of the file before within what the mends say they left open.
func TestMendMutatedFiles(t *testing.T) {
	rounds := 300
	if testing.Short() {
		rounds = 60
	}
	kinds := mutations()
	outcomes := map[string]int{}
	for b, body := range mutatedBodies() {
		whole := mesh.New(solids.Float32(body))
		moments := whole.Moments()
		var file bytes.Buffer
		if err := stl.Write(&file, "", whole); err != nil {
			t.Fatal(err)
		}
		for round := range rounds {
			rng := rand.New(rand.NewPCG(uint64(b), uint64(round)))
			data := slices.Clone(file.Bytes())
			var names []string
			for range 1 + rng.IntN(3) {
				if len(data) <= fileHead+recordBytes {
					break
				}
				kind := kinds[rng.IntN(len(kinds))]
				data = kind.damage(data, rng)
				names = append(names, kind.name)
			}
			model, err := stl.Read(context.Background(), bytes.NewReader(data), stl.ReadOptions{})
			if err != nil {
				outcomes["not read"]++
				continue
			}
			got, mends, err := mendTwice(t, model.Mesh)
			if t.Failed() {
				t.Fatalf("body %d, round %d, %v", b, round, names)
			}
			switch {
			case errors.Is(err, ErrBeyond):
				outcomes["refused"]++
				continue
			case err != nil:
				t.Fatalf("body %d, round %d, %v: %v", b, round, names, err)
			}
			outcomes["mended"]++
			// Corners that the reader welded are off by its tolerance.
			slack := 1e-12*math.Abs(moments.VolumeMM3) + model.WeldedWithinMM*moments.AreaMM2
			if off := math.Abs(got.Moments().VolumeMM3 - moments.VolumeMM3); off > openOf(mends)+slack {
				if why := excuse(names); why != "" {
					outcomes[why]++
					continue
				}
				t.Fatalf("body %d, round %d, %v: off by %g of %g, bound %g, %s, %+v", b, round, names, off, moments.VolumeMM3, openOf(mends), kindsOf(mends), mends)
			}
		}
	}
	t.Log(outcomes)
	if n := outcomes[severalFaults]; n > outcomes["mended"]/100 {
		t.Errorf("off by more than the bound in %d of %d files with several faults", n, outcomes["mended"])
	}
	if outcomes["mended"] < rounds || outcomes["refused"] == 0 || outcomes["not read"] == 0 {
		t.Errorf("outcomes %v", outcomes)
	}
}

const severalFaults = "several faults at one place"

// excuse says why a volume may be off by more than the mends left open, "" if there
// is no excuse. A file cut off in its middle may end at a flat rim where something
// round went on: the bound says that it assumes a flat face there. And a corner
// that lands on another one, next to a second fault, can make up a surface that
// looks as if meant.
func excuse(names []string) string {
	moved := false
	for _, name := range names {
		if strings.HasPrefix(name, "truncate") {
			return "cut off at a flat rim"
		}
		moved = moved || strings.HasPrefix(name, "flip")
	}
	if moved && len(names) > 1 {
		return severalFaults
	}
	return ""
}

// mendTwice mends with and without being allowed to, and checks the results.
func mendTwice(t *testing.T, m *mesh.Mesh) (*mesh.Mesh, []Mend, error) {
	t.Helper()
	got, mends, err := Surface(context.Background(), m, Options{Allow: true})
	asked, wanted, askErr := Surface(context.Background(), m, Options{})
	switch {
	case err != nil:
		if !errors.Is(err, ErrBeyond) || !errors.Is(askErr, ErrBeyond) || got != nil {
			t.Errorf("allowed: %v, not allowed: %v", err, askErr)
		}
		return nil, nil, err
	case askErr == nil:
		if kindsOf(wanted) != kindsOf(mends) || asked.Moments() != got.Moments() {
			t.Errorf("allowed %s, not allowed %s", kindsOf(mends), kindsOf(wanted))
		}
	case !errors.Is(askErr, ErrNeeded) || asked != nil || kindsOf(wanted) != kindsOf(mends):
		t.Errorf("not allowed: %v, %s", askErr, kindsOf(wanted))
	}
	checkMended(t, m, got, mends)
	return got, mends, nil
}

// Facets thrown at a few vertices: every defect at once, many times over.
func TestMendSoup(t *testing.T) {
	mended := 0
	for seed := range uint64(3000) {
		rng := rand.New(rand.NewPCG(seed, 5))
		m := &mesh.Mesh{}
		n := int32(4 + rng.IntN(6))
		for range n {
			m.Vertices = append(m.Vertices, r3.Vector{X: float64(rng.IntN(5)), Y: float64(rng.IntN(5)), Z: float64(rng.IntN(5))})
		}
		for range rng.IntN(16) {
			m.Triangles = append(m.Triangles, [3]int32{rng.Int32N(n), rng.Int32N(n), rng.Int32N(n)})
		}
		if _, _, err := mendTwice(t, m); err == nil {
			mended++
		}
		if t.Failed() {
			t.Fatalf("seed %d: %v %v", seed, m.Vertices, m.Triangles)
		}
	}
	if mended == 0 {
		t.Error("nothing was ever mended")
	}
}

// What mending takes is in proportion to the facets.
func TestMendMemory(t *testing.T) {
	for name, corners := range map[string][]r3.Vector{
		"every tenth facet missing": everyTenth(solids.Torus(20, 6, 300, 150), false),
		"every tenth twice":         everyTenth(solids.Torus(20, 6, 300, 150), true),
		"one corner far off":        append(slices.Clone(solids.Torus(20, 6, 300, 150)[3:]), r3.Vector{X: 1e30}, r3.Vector{Y: 1}, r3.Vector{Z: 1}),
	} {
		m := mesh.New(corners)
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, mends, err := Surface(context.Background(), m, Options{Allow: true})
		runtime.ReadMemStats(&after)
		// All that was ever allocated, a dozen surveys of 16 bytes a facet and more.
		if took := (after.TotalAlloc - before.TotalAlloc) / uint64(len(m.Triangles)); took > 3000 {
			t.Errorf("%s: %d bytes a facet, %s, %v", name, took, kindsOf(mends), err)
		}
	}
}

// everyTenth leaves out every tenth facet, or repeats it.
func everyTenth(corners []r3.Vector, again bool) []r3.Vector {
	var out []r3.Vector
	for f := range len(corners) / 3 {
		facet := corners[3*f : 3*f+3]
		if f%10 != 0 {
			out = append(out, facet...)
		} else if again {
			out = append(out, facet...)
			out = append(out, facet...)
		}
	}
	return out
}
