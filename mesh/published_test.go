package mesh

import (
	"math"
	"testing"

	"bellyline/mesh/internal/near"
	"bellyline/mesh/solids"

	"github.com/golang/geo/r3"
)

// The cube, tetrahedron and icosahedron that come with the program of Mirtich,
// J. Graphics Tools 1(2) (1996) 31. The values are exact by elementary integrals.
func TestMirtichShapes(t *testing.T) {
	cube := New(solids.Box(r3.Vector{X: -10, Y: -10, Z: -10}, r3.Vector{X: 10, Y: 10, Z: 10})).Moments()
	near.Number(t, "cube volume", cube.VolumeMM3, 8000, 1e-14)
	for i := range 3 {
		near.Number(t, "cube inertia", cube.Inertia[i][i], 2*8000*400/12.0, 1e-14)
		near.Number(t, "cube principal moment", cube.PrincipalMM5[i], 2*8000*400/12.0, 1e-14)
	}

	tetra := New(solids.CornerTetrahedron(5, 4, 3)).Moments()
	near.Number(t, "tetrahedron volume", tetra.VolumeMM3, 10, 1e-14)
	near.Vector(t, "tetrahedron centroid", tetra.Centroid, r3.Vector{X: 1.25, Y: 1, Z: 0.75}, 1e-14)
	// About the centroid; off the diagonal minus the integrals of xy, zx, yz, which
	// are -2.5, -1.875, -1.5.
	want := [3][3]float64{{9.375, 2.5, 1.875}, {2.5, 12.75, 1.5}, {1.875, 1.5, 15.375}}
	for i := range 3 {
		for j := range 3 {
			near.Number(t, "tetrahedron inertia", tetra.Inertia[i][j], want[i][j], 1e-13)
		}
	}

	// Circumradius 1, so edge 1.051462224.
	icosa := New(solids.Icosahedron(1 / math.Sin(2*math.Pi/5))).Moments()
	near.Number(t, "icosahedron volume", icosa.VolumeMM3, 2.536150710, 1e-9)
	near.Number(t, "icosahedron area", icosa.AreaMM2, 9.574541383, 1e-9)
}

// The worked example of Tonon, J. Math. Stat. 1 (2005) 8. Its printed digits hold
// to about 2e-7. The paper's products of inertia a', b', c' are the integrals of
// yz, zx, xy; its matrix has b' and c' in each other's place.
func TestTononTetrahedron(t *testing.T) {
	got := New(solids.TetrahedronOf(
		r3.Vector{X: 8.33220, Y: -11.86875, Z: 0.93355}, r3.Vector{X: 0.75523, Y: 5, Z: 16.37072},
		r3.Vector{X: 52.61236, Y: 5, Z: -5.38580}, r3.Vector{X: 2, Y: 5, Z: 3})).Moments()
	// The mean of the corners is 15.9249475 in x; the paper prints 15.92492.
	near.Vector(t, "centroid", got.Centroid, r3.Vector{X: 15.92492, Y: 0.78281, Z: 3.72962}, 2e-6)
	near.Number(t, "Ixx", got.Inertia[0][0], 43520.33257, 2e-7)
	near.Number(t, "Iyy", got.Inertia[1][1], 194711.28938, 2e-7)
	near.Number(t, "Izz", got.Inertia[2][2], 191168.76173, 2e-7)
	near.Number(t, "a'", -got.Inertia[1][2], 4417.66150, 2e-7)
	near.Number(t, "b'", -got.Inertia[0][2], -46343.16662, 2e-7)
	near.Number(t, "c'", -got.Inertia[0][1], 11996.20119, 2e-7)
	// The characteristic polynomial has the same roots whatever solves it: trace and
	// determinant of the matrix are sum and product of the principal moments.
	p, i := got.PrincipalMM5, got.Inertia
	near.Number(t, "trace", p[0]+p[1]+p[2], i[0][0]+i[1][1]+i[2][2], 1e-14)
	near.Number(t, "determinant", p[0]*p[1]*p[2], determinant(i), 1e-12)
}

func determinant(a [3][3]float64) float64 {
	row := func(i int) r3.Vector { return r3.Vector{X: a[i][0], Y: a[i][1], Z: a[i][2]} }
	return row(0).Dot(row(1).Cross(row(2)))
}

// Regular solids of edge 6: closed forms, Zwillinger, CRC Standard Mathematical
// Tables (from memory).
func TestPlatonicSolids(t *testing.T) {
	for name, c := range map[string]struct {
		corners      []r3.Vector
		volume, area float64
	}{
		"tetrahedron":  {solids.Tetrahedron(6), 25.45584412, 62.35382907},
		"cube":         {solids.Box(r3.Vector{}, r3.Vector{X: 6, Y: 6, Z: 6}), 216, 216},
		"octahedron":   {solids.Octahedron(6), 101.8233765, 2 * math.Sqrt(3) * 36},
		"icosahedron":  {solids.Icosahedron(6), 471.2461180, 311.7691454},
		"dodecahedron": {solids.Dodecahedron(6), 1655.233695, 743.2462370},
	} {
		got := New(c.corners).Moments()
		near.Number(t, name+" volume", got.VolumeMM3, c.volume, 1e-9)
		near.Number(t, name+" area", got.AreaMM2, c.area, 1e-9)
		// Every axis is a principal axis, with the same moment.
		near.Number(t, name+" principal moments", got.PrincipalMM5[0], got.PrincipalMM5[2], 1e-13)
	}
}

// A diagonal matrix in a turned frame keeps its eigenvalues; those of a box are
// m(b^2+c^2)/12 and so on.
func TestPrincipalMomentsOfTurnedBoxes(t *testing.T) {
	box := solids.Box(r3.Vector{}, r3.Vector{X: 1, Y: 20, Z: 90})
	want := [3]float64{1800 * 401 / 12.0, 1800 * 8101 / 12.0, 1800 * 8500 / 12.0}
	for seed := range uint64(40) {
		got := New(solids.Turn(box, solids.RotationOf(seed))).Moments()
		for i := range 3 {
			near.Number(t, "principal moment", got.PrincipalMM5[i], want[i], 1e-12)
		}
	}
}
