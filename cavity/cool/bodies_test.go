package cool

import (
	"math"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/solids"
)

// lathed turns a profile of (x, radius), which begins and ends on the axis, about
// the x axis, with n corners round.
func lathed(profile [][2]float64, n int) *mesh.Mesh {
	at := func(p [2]float64, i int) r3.Vector {
		s, c := math.Sincos(2 * math.Pi * float64(i%n) / float64(n))
		return r3.Vector{X: p[0], Y: p[1] * c, Z: p[1] * s}
	}
	var corners []r3.Vector
	for k := 1; k < len(profile); k++ {
		p, q := profile[k-1], profile[k]
		for i := range n {
			a, b, c, d := at(p, i), at(p, i+1), at(q, i+1), at(q, i)
			if p[1] > 0 {
				corners = append(corners, a, b, c)
			}
			if q[1] > 0 {
				corners = append(corners, a, c, d)
			}
		}
	}
	return mesh.New(corners)
}

// ball is a sphere of facets, its corners moved out so far that it has the sphere's
// volume.
func ball(radius float64, n int) *mesh.Mesh {
	radius *= math.Cbrt(4 * math.Pi / 3 / unitBall(1, n).Moments().VolumeMM3)
	return unitBall(radius, n)
}

func unitBall(radius float64, n int) *mesh.Mesh {
	var profile [][2]float64
	for k := 0; k <= n/2; k++ {
		s, c := math.Sincos(2 * math.Pi * float64(k) / float64(n))
		profile = append(profile, [2]float64{-radius * c, radius * s})
	}
	profile[0][1], profile[n/2][1] = 0, 0
	return lathed(profile, n)
}

// rod has the section of a round one.
func rod(radius, length float64, n int) *mesh.Mesh {
	turn := 2 * math.Pi / float64(n)
	radius *= math.Sqrt(turn / math.Sin(turn)) // n sin(turn)/2 r^2 is the polygon's area
	return lathed([][2]float64{{0, 0}, {0, radius}, {length, radius}, {length, 0}}, n)
}

// capsule is a rod with half a ball on each end; length is that of the rod.
func capsule(radius, length float64, n int) *mesh.Mesh {
	var profile [][2]float64
	for k := 0; k <= n/2; k++ {
		s, c := math.Sincos(2 * math.Pi * float64(k) / float64(n))
		x := -radius * c
		if 2*k > n/2 {
			x += length
		}
		profile = append(profile, [2]float64{x, radius * s})
		if 4*k == n {
			profile = append(profile, [2]float64{x + length, radius * s})
		}
	}
	profile[0][1], profile[len(profile)-1][1] = 0, 0
	return lathed(profile, n)
}

func box(x, y, z float64) *mesh.Mesh { return mesh.New(solids.Block(x, y, z)) }

// turned turns a body about a skew axis.
func turned(m *mesh.Mesh, angle float64) *mesh.Mesh {
	axis := r3.Vector{X: 0.3, Y: -0.7, Z: 0.6}.Normalize()
	out := &mesh.Mesh{Triangles: m.Triangles}
	s, c := math.Sincos(angle)
	for _, p := range m.Vertices { // Rodrigues
		out.Vertices = append(out.Vertices, p.Mul(c).Add(axis.Cross(p).Mul(s)).Add(axis.Mul(axis.Dot(p)*(1-c))))
	}
	return out
}
