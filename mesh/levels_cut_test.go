package mesh

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh/solids"
)

// compareWithCut fails unless a query and a direct cut agree: volumes to 1e-12 of
// the part where the plane is 1e-3 of the height inside, else of the whole;
// areas and lines to 1e-12 of the whole's. Fewer digits of area and line can be
// had where facets lie nearly in the plane, so those are asked for only where
// their neighbours at heights a little off, by what rounding may do, agree too.
func compareWithCut(t *testing.T, name string, l *Levels, h float64) {
	t.Helper()
	cut, err := l.mesh.Cut(l.Plane(h))
	if err != nil {
		t.Fatal(err)
	}
	got := l.At(h)
	lowest, highest := l.Range()
	size := highest - lowest
	volume, area, line := wholes(l.mesh)
	part := func(side string, got, want, depth float64) {
		allowed := 1e-12 * math.Abs(want)
		if depth < 1e-3*size {
			allowed = 1e-12 * math.Abs(l.VolumeMM3())
		}
		if math.Abs(got-want) > allowed {
			t.Errorf("%s along %v at %.17g: %s %.17g, cut %.17g", name, l.dir, h, side, got, want)
		}
	}
	part("below", got.VolumeBelowMM3, cut.Below.VolumeMM3, h-lowest)
	part("above", got.VolumeAboveMM3, cut.Above.VolumeMM3, highest-h)
	if volume == 0 {
		t.Fatalf("%s has no size", name)
	}
	area *= 1e-12
	line *= 1e-12 * float64(len(l.mesh.Triangles))
	near := l.At(h + 4*l.doubt)
	if math.Abs(got.SectionAreaMM2-cut.SectionAreaMM2) > area+math.Abs(near.SectionAreaMM2-got.SectionAreaMM2) {
		t.Errorf("%s along %v at %.17g: area %.17g, cut %.17g", name, l.dir, h, got.SectionAreaMM2, cut.SectionAreaMM2)
	}
	if math.Abs(got.LineMM-cut.OutlineMM) > line+math.Abs(near.LineMM-got.LineMM) {
		t.Errorf("%s along %v at %.17g: line %.17g, cut %.17g", name, l.dir, h, got.LineMM, cut.OutlineMM)
	}
	// At an end or in a face rounding decides what the smallest pieces are.
	steady := l.Pieces(h-4*l.doubt) == l.Pieces(h+4*l.doubt)
	if pieces := l.Pieces(h); steady && pieces != cut.Pieces {
		t.Errorf("%s along %v at %.17g: %d pieces, cut %d", name, l.dir, h, pieces, cut.Pieces)
	}
}

// CompareAtManyHeights takes even shares of the range, both ends, and heights of
// vertices.
func CompareAtManyHeights(t *testing.T, name string, m *Mesh, rng *rand.Rand, heights int) {
	t.Helper()
	skew := r3.Vector{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}
	for _, dir := range []r3.Vector{{Z: 1}, {Y: -1}, {X: 1}, skew} {
		l := levelsOf(t, m, dir)
		lowest, highest := l.Range()
		for i := range heights {
			compareWithCut(t, name, l, lowest+(highest-lowest)*float64(i)/float64(heights-1))
			compareWithCut(t, name, l, l.dir.Dot(m.Vertices[rng.IntN(len(m.Vertices))]))
		}
		compareWithCut(t, name, l, lowest+1.001e-3*(highest-lowest))
		compareWithCut(t, name, l, highest-1.001e-3*(highest-lowest))
	}
}

func TestLevelsAgainstCuts(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for name, m := range levelBodies() {
		CompareAtManyHeights(t, name, m, rng, 10)
	}
	hollow := solids.Join(solids.Sphere(5, 30), solids.Flip(solids.Sphere(3, 20)), solids.Sphere(1, 10))
	CompareAtManyHeights(t, "ball in a void", New(hollow), rng, 20)
	two := solids.Join(solids.Torus(10, 3, 30, 12), solids.Move(solids.Torus(10, 3, 30, 12), r3.Vector{X: 10, Y: 1}))
	CompareAtManyHeights(t, "two rings that overlap", New(two), rng, 20)
}

// A pair of facets back to back is no part of the section; of three alike, two
// one way and one the other, one counts.
func TestLevelsOfFolds(t *testing.T) {
	a, b, c := r3.Vector{X: 9, Z: 1}, r3.Vector{X: 9.5, Z: 3}, r3.Vector{X: 10, Y: 2, Z: 4}
	box := solids.Box(r3.Vector{}, r3.Vector{X: 2, Y: 3, Z: 5})
	for name, fold := range map[string][]r3.Vector{
		"one":           {a, b, c, a, c, b},
		"one, rotated":  {a, b, c, b, a, c},
		"twice over":    {a, b, c, a, c, b, c, a, b, b, a, c},
		"with a double": append(solids.TetrahedronOf(a, b, c, r3.Vector{X: 10, Y: 9, Z: 3}), a, b, c, c, b, a),
	} {
		m := New(solids.Join(box, fold))
		l := levelsOf(t, m, r3.Vector{Z: 1})
		compareWithCut(t, name, l, 2)
		// The box's section is 2 by 3: a line of 10.
		if got := l.At(2).LineMM; name != "with a double" && got != 10 {
			t.Errorf("%s: line %.17g, want 10", name, got)
		}
	}
}

// Nearly all facets between two heights close together: crowded layers, sorted
// through and not, and a flat face of many facets.
func TestLevelsOfCrowdedLayers(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	needle := solids.TetrahedronOf(r3.Vector{X: 9}, r3.Vector{X: 10}, r3.Vector{X: 9, Y: 1}, r3.Vector{X: 9, Z: 3000})
	flat := solids.Subdivide(solids.Subdivide(solids.Subdivide(solids.Subdivide(solids.Box(r3.Vector{}, r3.Vector{X: 2, Y: 3, Z: 1})))))
	for name, c := range map[string][]r3.Vector{
		"ball and needle": solids.Join(solids.Icosphere(1, 4), needle),
		"slab and needle": solids.Join(flat, needle),
	} {
		m := New(solids.Shuffle(c, rng))
		l := levelsOf(t, m, r3.Vector{Z: 1})
		crowded := 0
		for i := range len(l.layers) - 1 {
			if l.layers[i+1]-l.layers[i] > crowdedLayer {
				crowded++
			}
		}
		if crowded == 0 {
			t.Errorf("%s has no crowded layer", name)
		}
		for i := range 40 {
			compareWithCut(t, name, l, -1.01+0.0513*float64(i))
			compareWithCut(t, name, l, m.Vertices[rng.IntN(len(m.Vertices))].Z)
		}
	}
}
