package hollow

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
)

// lathe turns a profile of (radius, height) round the z axis, n sectors. It begins
// and ends on the axis and runs upwards, so the body faces outward.
func lathe(profile [][2]float64, n int) []r3.Vector {
	at := func(i, k int) r3.Vector {
		angle := 2 * math.Pi * float64(k%n) / float64(n)
		return r3.Vector{X: profile[i][0] * math.Cos(angle), Y: profile[i][0] * math.Sin(angle), Z: profile[i][1]}
	}
	var out []r3.Vector
	for i := range len(profile) - 1 {
		for k := range n {
			a, b, c, d := at(i, k), at(i, k+1), at(i+1, k+1), at(i+1, k)
			if profile[i][0] > 0 {
				out = append(out, a, b, c)
			}
			if profile[i+1][0] > 0 {
				out = append(out, a, c, d)
			} else if profile[i][0] > 0 {
				out[len(out)-1] = r3.Vector{Z: profile[i+1][1]}
			}
		}
	}
	for i, p := range out { // the axis is one point
		if math.Hypot(p.X, p.Y) == 0 {
			out[i] = r3.Vector{Z: p.Z}
		}
	}
	return out
}

// ball is an ellipsoid with semi-axes a, b, c in mm, n sectors and n/2 bands, none
// of whose corners lies in the plane z = 0.
func ball(a, b, c float64, n int) []r3.Vector {
	profile := [][2]float64{{0, -1}}
	for i := 1; i < n/2; i++ {
		angle := math.Pi * float64(i) / float64(n/2)
		profile = append(profile, [2]float64{math.Sin(angle), -math.Cos(angle)})
	}
	profile = append(profile, [2]float64{0, 1})
	body := lathe(profile, n)
	for i, p := range body {
		body[i] = r3.Vector{X: p.X * a, Y: p.Y * b, Z: p.Z * c}
	}
	return body
}

// stick is an upright cylinder from z0 to z1.
func stick(radius, z0, z1 float64, n int) []r3.Vector {
	return lathe([][2]float64{{0, z0}, {radius, z0}, {radius, z1}, {0, z1}}, n)
}

// lying lays a body that stands along z along x.
func lying(body []r3.Vector) []r3.Vector {
	out := make([]r3.Vector, len(body))
	for i, p := range body {
		out[i] = r3.Vector{X: p.Z, Y: p.Y, Z: -p.X}
	}
	return out
}

// sunk returns the half below z = 0 of a block with bodies cut out of it, and what
// each takes from it, measured on the bodies themselves. Bodies may not touch each
// other, and may reach out of the block by less than 20 mm: it is drawn larger and
// cut to size with them.
func sunk(t testing.TB, block box, bodies ...[]r3.Vector) (half []r3.Vector, volumes []float64) {
	t.Helper()
	large := box{block.x0 - 20, block.y0 - 20, block.z0 - 20, block.x1 + 20, block.y1 + 20, 40}
	all := blockOf(large).corners()
	cutOut := func(m *mesh.Mesh) *mesh.Mesh {
		for _, p := range []mesh.Plane{
			{Normal: r3.Vector{Z: 1}}, {Normal: r3.Vector{Z: -1}, HeightMM: -block.z0},
			{Normal: r3.Vector{X: 1}, HeightMM: block.x1}, {Normal: r3.Vector{X: -1}, HeightMM: -block.x0},
			{Normal: r3.Vector{Y: 1}, HeightMM: block.y1}, {Normal: r3.Vector{Y: -1}, HeightMM: -block.y0},
		} {
			below, _, err := m.CutSolids(p)
			if err != nil {
				t.Fatal(err)
			}
			m = below
		}
		return m
	}
	for _, b := range bodies {
		volumes = append(volumes, cutOut(mesh.New(b)).Moments().VolumeMM3)
		for i := 0; i < len(b); i += 3 {
			all = append(all, b[i], b[i+2], b[i+1])
		}
	}
	m := cutOut(mesh.New(all))
	for f := range m.Triangles {
		a, b, c := m.Corners(f)
		half = append(half, a, b, c)
	}
	return half, volumes
}
