package mesh

import (
	"math"
	"slices"

	"bellyline/mesh/exact"

	"github.com/golang/geo/r3"
)

// inertiaAbout returns the inertia tensor about the centroid, given the second
// moments xx yy zz yz zx xy about an origin, the volume, and the centroid as seen
// from that origin: the parallel axis theorem.
func inertiaAbout(second [6]float64, volume float64, c r3.Vector) [3][3]float64 {
	xx := second[0] - volume*c.X*c.X
	yy := second[1] - volume*c.Y*c.Y
	zz := second[2] - volume*c.Z*c.Z
	yz := second[3] - volume*c.Y*c.Z
	zx := second[4] - volume*c.Z*c.X
	xy := second[5] - volume*c.X*c.Y
	return [3][3]float64{
		{yy + zz, -xy, -zx},
		{-xy, zz + xx, -yz},
		{-zx, -yz, xx + yy},
	}
}

// eigenvalues returns those of a symmetric matrix, ascending, by cyclic Jacobi
// rotations (Golub and Van Loan, Matrix Computations, section 8.5; from memory),
// which keep small eigenvalues accurate beside large ones.
func eigenvalues(a [3][3]float64) [3]float64 {
	// Convergence is quadratic: three to five sweeps do. Twenty end it in any case,
	// for NaN too.
	for range 20 {
		if a[0][1] == 0 && a[0][2] == 0 && a[1][2] == 0 {
			break
		}
		jacobi(&a, 0, 1, 2)
		jacobi(&a, 0, 2, 1)
		jacobi(&a, 1, 2, 0)
	}
	d := [3]float64{a[0][0], a[1][1], a[2][2]}
	slices.Sort(d[:])
	return d
}

// jacobi turns rows and columns p and q so that a[p][q] becomes 0; r is the third.
func jacobi(a *[3][3]float64, p, q, r int) {
	// Smaller than the rounding of both its neighbours: turning changes nothing.
	if math.Abs(a[p][q]) <= exact.Roundoff*exact.Roundoff*(math.Abs(a[p][p])+math.Abs(a[q][q])) {
		a[p][q], a[q][p] = 0, 0
		return
	}
	theta := (a[q][q] - a[p][p]) / (2 * a[p][q])
	t := 1 / (math.Abs(theta) + math.Hypot(theta, 1))
	if theta < 0 {
		t = -t
	}
	cos := 1 / math.Hypot(t, 1)
	sin := t * cos
	a[p][p] -= t * a[p][q]
	a[q][q] += t * a[p][q]
	a[p][q], a[q][p] = 0, 0
	rp, rq := a[r][p], a[r][q]
	a[r][p], a[r][q] = cos*rp-sin*rq, sin*rp+cos*rq
	a[p][r], a[q][r] = a[r][p], a[r][q]
}
