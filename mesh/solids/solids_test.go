package solids_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"bellyline/mesh/solids"

	"github.com/golang/geo/r3"
)

// every lists one of each body with its exact volume in closed form. Curved ones
// are compared with their faceted volume, which for a lathe is the volume of the
// turned profile times the share of an inscribed n-gon in its circle.
func every() map[string]struct {
	corners []r3.Vector
	volume  float64
} {
	type body = struct {
		corners []r3.Vector
		volume  float64
	}
	lathe := solids.LatheShare
	phi := math.Phi
	return map[string]body{
		"box":                {solids.Box(r3.Vector{X: -1, Y: 2, Z: 3}, r3.Vector{X: 4, Y: 6, Z: 9}), 120},
		"corner tetrahedron": {solids.CornerTetrahedron(5, 4, 3), 10},
		"tetrahedron":        {solids.Tetrahedron(6), 216 / (6 * math.Sqrt2)},
		"octahedron":         {solids.Octahedron(6), 216 * math.Sqrt2 / 3},
		"icosahedron":        {solids.Icosahedron(6), 216 * 5 * phi * phi / 6},
		"dodecahedron":       {solids.Dodecahedron(6), 216 * (15 + 7*math.Sqrt(5)) / 4},
		"prism":              {solids.Prism(2, 5, 6), 30 * math.Sqrt(3)},
		"sphere":             {solids.Sphere(5, 24), lathe(24) * solids.ProfileVolume(solids.SphereProfile(5, 12))},
		"capsule":            {solids.Capsule(5, 100, 24), lathe(24) * solids.ProfileVolume(solids.CapsuleProfile(5, 100, 6))},
		"ellipsoid":          {solids.Ellipsoid(2, 3, 4, 24), 24 * lathe(24) * solids.ProfileVolume(solids.SphereProfile(1, 12))},
		"ellipsoid cap":      {solids.EllipsoidCap(6, 4, 10, 4, 24), 240 * lathe(24) * solids.ProfileVolume(solids.CapProfile(1, 0.4, 6))},
		// Pappus: a regular 12-gon of circumradius 3 has area 27.
		"torus":              {solids.Torus(10, 3, 24, 12), lathe(24) * 20 * math.Pi * 27},
		"frustum":            {solids.Frustum(5, 3, 10, 24), lathe(24) * math.Pi * 490 / 3},
		"cone":               {solids.Frustum(5, 0, 10, 24), lathe(24) * math.Pi * 250 / 3},
		"truncated cylinder": {solids.TruncatedCylinder(5, 10, 16, 24), lathe(24) * math.Pi * 325},
		"half cylinder":      {solids.HalfCylinder(5, 10, 12), lathe(24) * math.Pi * 125},
	}
}

func TestBodiesEncloseTheirVolumeTheRightWayOut(t *testing.T) {
	for name, b := range every() {
		var v float64
		for i := 0; i < len(b.corners); i += 3 {
			v += b.corners[i].Dot(b.corners[i+1].Cross(b.corners[i+2])) / 6
		}
		if math.Abs(v-b.volume) > 1e-12*b.volume {
			t.Errorf("%s: volume %.15g, want %.15g", name, v, b.volume)
		}
	}
}

func TestEveryEdgeIsMatchedToTheLastBit(t *testing.T) {
	bodies := every()
	for name, b := range map[string][]r3.Vector{
		"hoof": solids.Hoof(5, 8, 12), "icosphere": solids.Icosphere(3, 2),
		"subdivided":   solids.Subdivide(bodies["torus"].corners),
		"turned":       solids.Turn(bodies["capsule"].corners, solids.RandomRotation(rand.New(rand.NewPCG(1, 2)))),
		"as float32":   solids.Float32(bodies["sphere"].corners),
		"flipped":      solids.Flip(bodies["box"].corners),
		"other order":  solids.Shuffle(bodies["box"].corners, rand.New(rand.NewPCG(3, 4))),
		"two together": solids.Join(bodies["box"].corners, solids.Move(bodies["cone"].corners, r3.Vector{X: 50})),
	} {
		e := bodies[name]
		e.corners = b
		bodies[name] = e
	}
	for name, b := range bodies {
		// An edge run one way by one facet is run the other way by another.
		net := map[[2]r3.Vector]int{}
		for i := 0; i < len(b.corners); i += 3 {
			for k := range 3 {
				p, q := b.corners[i+k], b.corners[i+(k+1)%3]
				if p == q {
					t.Errorf("%s: facet %d has equal corners", name, i/3)
				}
				net[[2]r3.Vector{p, q}]++
				net[[2]r3.Vector{q, p}]--
			}
		}
		for e, n := range net {
			if n != 0 {
				t.Errorf("%s: edge %v is not matched (%+d)", name, e, n)
				break
			}
		}
	}
}

// Shares of inscribed n-gons: n sin(2 pi/n) / (2 pi), standard.
func TestLatheShare(t *testing.T) {
	for n, want := range map[int]float64{12: 0.95492966, 24: 0.98861593, 96: 0.99928621, 256: 0.99989960} {
		if got := solids.LatheShare(n); math.Abs(got-want) > 5e-9 {
			t.Errorf("n = %d: %.9f, want %.8f", n, got, want)
		}
	}
}

// Share of a sphere's volume inside its n by n/2 faceting, from the reference
// figures of an independent calculation.
func TestSphereShare(t *testing.T) {
	for n, want := range map[int]float64{16: 0.93740584, 32: 0.98404110, 64: 0.99599062, 128: 0.99899642} {
		got := solids.LatheShare(n) * solids.ProfileVolume(solids.SphereProfile(1, n/2)) / (4 * math.Pi / 3)
		if math.Abs(got-want) > 5e-9 {
			t.Errorf("n = %d: %.9f, want %.8f", n, got, want)
		}
	}
}
