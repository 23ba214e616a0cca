package fill

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"bellyline/mesh"
	"bellyline/mesh/solids"
)

// halfSpace is the points p with n.p <= d, n a unit vector.
type halfSpace struct {
	n r3.Vector
	d float64
}

// halfSpacesOf returns the half spaces of the facets of a convex body.
func halfSpacesOf(c []r3.Vector) []halfSpace {
	var h []halfSpace
	for i := 0; i < len(c); i += 3 {
		n := c[i+1].Sub(c[i]).Cross(c[i+2].Sub(c[i])).Normalize()
		h = append(h, halfSpace{n, n.Dot(c[i])})
	}
	return h
}

// convexVolume returns the volume of what lies in all half spaces: a third of the
// distance times the area of each face, which is a large square on the plane, cut
// off by all other planes.
func convexVolume(spaces []halfSpace) float64 {
	volume := 0.0
	for i, s := range spaces {
		u := s.n.Ortho()
		v := s.n.Cross(u)
		const large = 1000
		face := []r3.Vector{
			s.n.Mul(s.d).Add(u.Mul(large)), s.n.Mul(s.d).Add(v.Mul(large)),
			s.n.Mul(s.d).Sub(u.Mul(large)), s.n.Mul(s.d).Sub(v.Mul(large)),
		}
		for j, o := range spaces {
			switch {
			case i == j:
			case o.n.Dot(s.n) > 1-1e-9 && math.Abs(o.d-s.d) < 1e-9:
				if j < i {
					face = nil // the same plane, counted already
				}
			default:
				face = clipFace(face, o)
			}
		}
		var twice r3.Vector
		for k := range face {
			twice = twice.Add(face[k].Sub(face[0]).Cross(face[(k+1)%len(face)].Sub(face[0])))
		}
		volume += s.d * s.n.Dot(twice) / 6
	}
	return volume
}

// clipFace cuts a convex polygon by a half space (Sutherland and Hodgman, Comm. ACM
// 17 (1974) 32; from memory).
func clipFace(p []r3.Vector, h halfSpace) []r3.Vector {
	var out []r3.Vector
	for i := range p {
		a, b := p[i], p[(i+1)%len(p)]
		da, db := h.n.Dot(a)-h.d, h.n.Dot(b)-h.d
		if da <= 0 {
			out = append(out, a)
		}
		if (da < 0) != (db < 0) && da != 0 && db != 0 {
			out = append(out, a.Add(b.Sub(a).Mul(da/(da-db))))
		}
	}
	return out
}

// Two or three convex bodies turned anyhow, against inclusion and exclusion with
// what they share worked out by clipping: nothing but planes.
func TestFillOfTurnedBodies(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		shapes := [][]r3.Vector{
			solids.Box(r3.Vector{X: -3, Y: -2, Z: -1}, r3.Vector{X: 3, Y: 2, Z: 1}),
			solids.Octahedron(5), solids.Icosahedron(3), solids.Prism(2, 5, 7), solids.Tetrahedron(6),
		}
		var bodies [][]halfSpace
		var c []r3.Vector
		n := rapid.IntRange(2, 3).Draw(t, "bodies")
		for range n {
			body := solids.Turn(shapes[rng.IntN(len(shapes))], solids.RandomRotation(rng))
			body = solids.Move(body, r3.Vector{X: 4 * rng.Float64(), Y: 4 * rng.Float64(), Z: 2 * rng.Float64()})
			bodies = append(bodies, halfSpacesOf(body))
			c = append(c, body...)
		}
		want := 0.0
		for subset := 1; subset < 1<<n; subset++ {
			var shared []halfSpace
			sign := -1.0
			for i, b := range bodies {
				if subset>>i&1 != 0 {
					shared = append(shared, b...)
					sign = -sign
				}
			}
			want += sign * convexVolume(shared)
		}
		f, err := Volume(context.Background(), mesh.New(c))
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(f.VolumeMM3-want) > 1e-9*want {
			t.Fatalf("fill %.15g, want %.15g", f.VolumeMM3, want)
		}
	})
}
