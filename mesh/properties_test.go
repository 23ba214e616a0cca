package mesh

import (
	"math"
	"math/rand/v2"
	"testing"

	"bellyline/mesh/solids"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// plainBodies are shapes without symmetry about all axes, two of them in parts.
func plainBodies() [][]r3.Vector {
	return [][]r3.Vector{
		solids.Box(r3.Vector{X: -1, Y: 2, Z: 3}, r3.Vector{X: 4, Y: 6, Z: 9}),
		solids.CornerTetrahedron(5, 4, 3),
		solids.Ellipsoid(7, 3, 2, 16),
		solids.Torus(10, 3, 12, 9),
		solids.TruncatedCylinder(5, 10, 16, 11),
		solids.Join(solids.Capsule(2, 9, 8), solids.Move(solids.Icosahedron(3), r3.Vector{Y: 20})),
		// a void in a box
		solids.Join(solids.Box(r3.Vector{}, r3.Vector{X: 9, Y: 9, Z: 9}),
			solids.Flip(solids.Box(r3.Vector{X: 1, Y: 2, Z: 3}, r3.Vector{X: 4, Y: 5, Z: 6}))),
	}
}

// sameSolid compares what does not change when a body is drawn in another way.
func sameSolid(t *rapid.T, got, want Moments) {
	t.Helper()
	compare := func(what string, a, b, scale float64) {
		t.Helper()
		if !(math.Abs(a-b) <= 1e-12*scale) {
			t.Fatalf("%s %.17g, want %.17g", what, a, b)
		}
	}
	compare("volume", got.VolumeMM3, want.VolumeMM3, math.Abs(want.VolumeMM3))
	compare("area", got.AreaMM2, want.AreaMM2, want.AreaMM2)
	for i := range 3 {
		compare("principal moment", got.PrincipalMM5[i], want.PrincipalMM5[i], math.Abs(want.PrincipalMM5[2]))
	}
}

// sameReport compares all but places.
func sameReport(t *rapid.T, got, want *Report) {
	t.Helper()
	if got.Shells != want.Shells || got.Voids != want.Voids || got.Closed != want.Closed ||
		got.Oriented != want.Oriented || len(got.Problems) != len(want.Problems) {
		t.Fatalf("report %+v, want %+v", got, want)
	}
	for i := range got.Problems {
		if got.Problems[i].Kind != want.Problems[i].Kind || got.Problems[i].Count != want.Problems[i].Count {
			t.Fatalf("problem %+v, want %+v", got.Problems[i], want.Problems[i])
		}
	}
}

func TestMovingAndTurning(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		body := rapid.SampledFrom(plainBodies()).Draw(t, "body")
		turn := solids.RotationOf(rapid.Uint64().Draw(t, "turn"))
		reach := rapid.Float64Range(-100, 100)
		by := r3.Vector{X: reach.Draw(t, "x"), Y: reach.Draw(t, "y"), Z: reach.Draw(t, "z")}
		before := New(body)
		after := New(solids.Move(solids.Turn(body, turn), by))
		sameSolid(t, after.Moments(), before.Moments())
		sameReport(t, after.Check(), before.Check())
		want := turn.Apply(before.Moments().Centroid).Add(by)
		if d := after.Moments().Centroid.Distance(want); d > 1e-12*(100+before.Bounds().Diagonal()) {
			t.Fatalf("centroid is off by %g", d)
		}
	})
}

func TestReorderingFacetsAndRelabellingVertices(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		body := rapid.SampledFrom(plainBodies()).Draw(t, "body")
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "order"), 0))
		before := New(body)
		after := New(solids.Shuffle(body, rng))
		sameSolid(t, after.Moments(), before.Moments())
		sameReport(t, after.Check(), before.Check())

		perm := rng.Perm(len(before.Vertices))
		relabelled := &Mesh{Vertices: make([]r3.Vector, len(perm))}
		for v, p := range before.Vertices {
			relabelled.Vertices[perm[v]] = p
		}
		for _, tri := range before.Triangles {
			relabelled.Triangles = append(relabelled.Triangles,
				[3]int32{int32(perm[tri[0]]), int32(perm[tri[1]]), int32(perm[tri[2]])})
		}
		if relabelled.Moments() != before.Moments() {
			t.Fatal("moments depend on the numbers of the vertices")
		}
		sameReport(t, relabelled.Check(), before.Check())
	})
}

func TestSplittingFacetsAtMidpoints(t *testing.T) {
	for _, body := range plainBodies() {
		rapid.Check(t, func(t *rapid.T) {
			turned := solids.Turn(body, solids.RotationOf(rapid.Uint64().Draw(t, "turn")))
			before, after := New(turned), New(solids.Subdivide(turned))
			sameSolid(t, after.Moments(), before.Moments())
			sameReport(t, after.Check(), before.Check())
		})
	}
}

func TestFlippingAllChangesTheSign(t *testing.T) {
	for i, body := range plainBodies() {
		m, f := New(body), New(solids.Flip(body))
		got, want := f.Moments(), m.Moments()
		if got.VolumeMM3 != -want.VolumeMM3 || got.AreaMM2 != want.AreaMM2 {
			t.Errorf("body %d: volume %g and area %g, flipped %g and %g",
				i, want.VolumeMM3, want.AreaMM2, got.VolumeMM3, got.AreaMM2)
		}
		if d := got.Centroid.Distance(want.Centroid); d > 1e-14*m.Bounds().Diagonal() {
			t.Errorf("body %d: flipping moves the centroid by %g", i, d)
		}
		// What faced out, however many parts, is inside out now; a void in it becomes
		// a body of its own, the right way out.
		r := f.Check()
		if !r.Oriented || r.Count(InsideOutShell) != r.Shells-m.Check().Voids || r.Voids != 0 {
			t.Errorf("body %d: report %+v", i, r)
		}
	}
}
