package mesh

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh/internal/solids"
)

// openEdges counts edges that are not run as often one way as the other.
func openEdges(m *Mesh) int {
	runs := make(map[[2]int32]int)
	for _, t := range m.Triangles {
		for i := range t {
			u, v := t[i], t[(i+1)%3]
			if u < v {
				runs[[2]int32{u, v}]++
			} else if v < u {
				runs[[2]int32{v, u}]--
			}
		}
	}
	open := 0
	for _, n := range runs {
		if n != 0 {
			open++
		}
	}
	return open
}

// plainVolume sums tetrahedra about a point near the mesh.
func plainVolume(m *Mesh) float64 {
	if len(m.Triangles) == 0 {
		return 0
	}
	o := m.Bounds().Centre()
	sum := doubleDouble{}
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		sum = sum.plusFloat(a.Sub(o).Dot(b.Sub(o).Cross(c.Sub(o))) / 6)
	}
	return sum.value()
}

// bodies are closed solids of many kinds, in float32 as from a file.
func bodies() map[string][]r3.Vector {
	at := func(x, y, z float64) r3.Vector { return r3.Vector{X: x, Y: y, Z: z} }
	shift := func(c []r3.Vector, x, y, z float64) []r3.Vector { return solids.Move(c, at(x, y, z)) }
	comb := solids.Box(at(-1, -1, -6), at(41, 3, -2))
	for i := range 20 {
		comb = solids.Join(comb, solids.Box(at(2*float64(i), 0, 0), at(2*float64(i)+1, 1, 5)))
	}
	all := map[string][]r3.Vector{
		"box":          solids.Box(at(0, 0, 0), at(4, 3, 2)),
		"fine box":     solids.Subdivide(solids.Subdivide(solids.Box(at(0, 0, 0), at(4, 3, 2)))),
		"tetrahedron":  solids.CornerTetrahedron(5, 4, 3),
		"octahedron":   solids.Octahedron(6),
		"icosahedron":  solids.Icosahedron(6),
		"dodecahedron": solids.Dodecahedron(6),
		"sphere":       solids.Sphere(5, 32),
		"icosphere":    solids.Icosphere(5, 3),
		"torus":        solids.Torus(10, 3, 48, 24),
		"capsule":      solids.Capsule(5, 20, 24),
		"prism":        solids.Prism(5, 8, 17),
		"hollow":       solids.Join(solids.Sphere(5, 24), solids.Flip(solids.Sphere(3, 20))),
		"nested": solids.Join(solids.Icosphere(6, 2), solids.Flip(solids.Icosphere(5, 2)),
			solids.Icosphere(3, 2), solids.Flip(shift(solids.Icosphere(1, 2), 1, 0.5, 0.25))),
		"overlap": solids.Join(solids.Icosphere(5, 2), shift(solids.Icosphere(4, 2), 4, 1, 0.5)),
		"overlapping void": solids.Join(solids.Icosphere(5, 2), solids.Flip(shift(solids.Icosphere(2, 2), 3, 1, 0.5)),
			shift(solids.Icosphere(4, 2), 4, 1, 0.5)),
		"comb":       comb,
		"inside out": solids.Flip(solids.Join(solids.Sphere(5, 24), solids.Flip(solids.Sphere(3, 20)))),
	}
	for name, c := range all {
		all[name] = solids.Float32(c)
	}
	return all
}

// planesFor draws planes of every kind that is hard: through the middle, through
// one, two and three vertices, along facets, and across an axis at the height of
// a vertex.
func planesFor(m *Mesh, rng *rand.Rand, n int) []Plane {
	box := m.Bounds()
	vertex := func() r3.Vector { return m.Vertices[rng.IntN(len(m.Vertices))] }
	axes := []r3.Vector{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}, {Z: 1}, {Z: -1}}
	var planes []Plane
	for i := range n {
		normal := r3.Vector{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}
		through := box.Centre().Add(r3.Vector{
			X: (rng.Float64() - 0.5) * box.Size().X,
			Y: (rng.Float64() - 0.5) * box.Size().Y,
			Z: (rng.Float64() - 0.5) * box.Size().Z,
		})
		switch i % 7 {
		case 0: // any
		case 1: // one vertex
			through = vertex()
		case 2: // an edge
			a, b, _ := m.Corners(rng.IntN(len(m.Triangles)))
			through, normal = a, b.Sub(a).Cross(normal)
		case 3: // a facet
			a, b, c := m.Corners(rng.IntN(len(m.Triangles)))
			through, normal = a, b.Sub(a).Cross(c.Sub(a))
		case 4: // three vertices
			a, b, c := vertex(), vertex(), vertex()
			through, normal = a, b.Sub(a).Cross(c.Sub(a))
		case 5: // across an axis at a vertex
			through, normal = vertex(), axes[rng.IntN(len(axes))]
		case 6: // across an axis anywhere
			normal = axes[rng.IntN(len(axes))]
		}
		if rng.IntN(2) == 0 {
			if u, ok := unit(normal); ok {
				normal = u
			}
		}
		if normal == (r3.Vector{}) {
			normal = axes[0]
		}
		planes = append(planes, Plane{Normal: normal, HeightMM: normal.Dot(through)})
	}
	return planes
}

// mustAddUp cuts m by p and demands what holds for every cut.
func mustAddUp(t *testing.T, m *Mesh, p Plane) {
	t.Helper()
	cut, err := m.Cut(p)
	if err != nil {
		t.Fatal(err)
	}
	whole := plainVolume(m)
	if diff := math.Abs(cut.Below.VolumeMM3 + cut.Above.VolumeMM3 - whole); diff > 1e-12*math.Abs(whole) {
		t.Errorf("%v: below %v + above %v = whole %v + %g", p, cut.Below.VolumeMM3, cut.Above.VolumeMM3, whole, diff)
	}
	below, above, err := m.CutSolids(p)
	if err != nil {
		t.Fatal(err)
	}
	for _, half := range []struct {
		name   string
		mesh   *Mesh
		volume float64
	}{{"below", below, cut.Below.VolumeMM3}, {"above", above, cut.Above.VolumeMM3}} {
		if n := openEdges(half.mesh); n != 0 {
			t.Errorf("%v: %s has %d open edges", p, half.name, n)
		}
		if got := plainVolume(half.mesh); math.Abs(got-half.volume) > 1e-12*math.Abs(whole) {
			t.Errorf("%v: solid %s holds %v, the cut says %v", p, half.name, got, half.volume)
		}
	}
}

func TestBothPartsOfGeneratedBodiesAddUpAndAreClosed(t *testing.T) {
	for name, corners := range bodies() {
		t.Run(name, func(t *testing.T) {
			m := New(corners)
			rng := rand.New(rand.NewPCG(1, 2))
			for _, p := range planesFor(m, rng, 60) {
				mustAddUp(t, m, p)
			}
		})
	}
}

func ExampleMesh_Cut() {
	box := New(solids.Box(r3.Vector{}, r3.Vector{X: 4, Y: 3, Z: 2}))
	cut, err := box.Cut(Plane{Normal: r3.Vector{Z: 1}, HeightMM: 0.5})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("below %.0f mm³, above %.0f mm³, section %.0f mm², line %.0f mm, pieces %d\n",
		cut.Below.VolumeMM3, cut.Above.VolumeMM3, cut.SectionAreaMM2, cut.OutlineMM, cut.Pieces)
	fmt.Printf("skin below %.0f mm², above %.0f mm²; centres at %.2f and %.2f\n",
		cut.Below.OutsideMM2, cut.Above.OutsideMM2, cut.Below.Centroid.Z, cut.Above.Centroid.Z)
	// Output:
	// below 6 mm³, above 18 mm³, section 12 mm², line 14 mm, pieces 1
	// skin below 19 mm², above 33 mm²; centres at 0.25 and 1.25
}
