package fill

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"bellyline/mesh"
	"bellyline/mesh/internal/manifest"
	"bellyline/mesh/internal/near"
	"bellyline/mesh/solids"
	"bellyline/mesh/stl"
)

// sampledShare returns which share of a box has a winding number of 1 or more, out
// of n random points, by the solid angles of all facets: no ray, no tree, no
// crossing is involved. The standard deviation is that of a binomial share.
func sampledShare(m *mesh.Mesh, box mesh.Box, n int, rng *rand.Rand) (share, deviation float64) {
	all := make([]int32, len(m.Triangles))
	for f := range all {
		all[f] = int32(f)
	}
	size, inside := box.Size(), 0
	for range n {
		p := box.Min.Add(r3.Vector{X: rng.Float64() * size.X, Y: rng.Float64() * size.Y, Z: rng.Float64() * size.Z})
		if m.WindingNumber(all, p) > 0.5 {
			inside++
		}
	}
	share = float64(inside) / float64(n)
	return share, math.Sqrt(max(share*(1-share), 1/float64(n)) / float64(n))
}

// checkSampled compares the fill with an estimate from n points, to 5 standard
// deviations: by chance alone that fails once in a million.
func checkSampled(t *testing.T, name string, m *mesh.Mesh, n int) Fill {
	t.Helper()
	f, err := Volume(context.Background(), m)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	box := m.Bounds()
	size := box.Size()
	whole := size.X * size.Y * size.Z
	share, deviation := sampledShare(m, box, n, rand.New(rand.NewPCG(1, 2)))
	if math.Abs(f.VolumeMM3-share*whole) > 5*deviation*whole {
		t.Errorf("%s: fill %.6g, sampled %.6g, standard deviation %.2g", name, f.VolumeMM3, share*whole, deviation*whole)
	}
	return f
}

// A ship of 19 closed shells sunk into each other. MANIFEST.tsv says that the sum
// of the shells is 1.8405121 and that 0.04338 of it overlaps, from sampling.
func TestFillOfTheShip(t *testing.T) {
	for _, model := range manifest.Models(t) {
		if model["file"] != "npm_stl_ship.stl" {
			continue
		}
		read, err := stl.ReadFile(context.Background(), model.Path(t), stl.ReadOptions{})
		if err != nil {
			t.Fatal(err)
		}
		f := checkSampled(t, "ship", read.Mesh, 20000)
		near.Number(t, "signed", f.SignedMM3, model.Number(t, "own_signed_volume"), 1e-6)
		near.Number(t, "share of overlap", f.OverlapMM3/f.SignedMM3, model.Number(t, "overlap_fraction"), 0.03)
	}
}

// The drawn swimbait has a fin sunk into its back.
func TestFillOfTheSwimbait(t *testing.T) {
	read, err := stl.ReadFile(context.Background(), "../../examples/paddletail/bait.stl", stl.ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	f := checkSampled(t, "swimbait", read.Mesh, 4000)
	if f.Crossings == 0 || len(f.Overlaps) != 1 {
		t.Errorf("%d crossings, overlap in %d places", f.Crossings, len(f.Overlaps))
	}
}

// tube returns a closed tube of n rings of k corners around a closed curve that
// lies nearly flat, so that its own normal is never upright.
func tube(curve func(turn float64) r3.Vector, radius float64, n, k int) []r3.Vector {
	ring := func(i int) []r3.Vector {
		turn := float64(i%n) / float64(n)
		along := curve(turn + 1e-6).Sub(curve(turn - 1e-6)).Normalize()
		side := r3.Vector{Z: 1}.Cross(along).Normalize()
		up := along.Cross(side)
		points := make([]r3.Vector, k)
		for j := range points {
			sin, cos := math.Sincos(2 * math.Pi * float64(j) / float64(k))
			points[j] = curve(turn).Add(side.Mul(radius * cos)).Add(up.Mul(radius * sin))
		}
		return points
	}
	var c []r3.Vector
	for i := range n {
		a, b := ring(i), ring(i+1)
		for j := range k {
			l := (j + 1) % k
			c = append(c, a[j], a[l], b[l], a[j], b[l], b[j])
		}
	}
	return c
}

// A tube bent to a figure of eight goes through itself. Where it does, it is nearly
// two straight tubes at the angle of the curve's branches, which share 16 r^3 /
// (3 sin angle): Steinmetz's bicylinder, sheared.
func TestFillOfATubeThroughItself(t *testing.T) {
	eight := func(turn float64) r3.Vector {
		a := 2 * math.Pi * turn
		return r3.Vector{X: 60 * math.Sin(a), Y: 30 * math.Sin(2*a)}
	}
	m := mesh.New(solids.Float32(tube(eight, 2, 600, 48)))
	f, err := Volume(context.Background(), m)
	if err != nil {
		t.Fatal(err)
	}
	if f.Crossings == 0 || len(f.Overlaps) != 1 {
		t.Fatalf("%d crossings, %d overlaps", f.Crossings, len(f.Overlaps))
	}
	// The branches run along (60, 60) and (60, -60): at right angles. The bend and
	// the 48 corners take less than a hundredth.
	near.Number(t, "overlap", f.OverlapMM3, 16*8/3.0, 0.01)
	all := make([]int32, len(m.Triangles))
	for i := range all {
		all[i] = int32(i)
	}
	if w := m.WindingNumber(all, f.Overlaps[0].Box.Centre()); math.Abs(w-2) > 1e-9 {
		t.Errorf("the place named has a winding number of %g", w)
	}
}

// A cylinder's volume times a slant: three tubes along x, y and z share the
// tricylinder, 8 (2 - sqrt 2) r^3, and pairs share 16 r^3 / 3 (physics of solids:
// Weisstein, MathWorld, Steinmetz Solid; from memory), so by inclusion and exclusion
// the union is known.
func TestFillOfThreeCylinders(t *testing.T) {
	const r, length, n = 5.0, 30.0, 256
	f := fillOf(t, solids.Join(prismAlong(r3.XAxis, r, length, n), prismAlong(r3.YAxis, r, length, n), prismAlong(r3.ZAxis, r, length, n)))
	pair, all := 16*r*r*r/3, 8*(2-math.Sqrt2)*r*r*r
	// A regular 256-gon is 1e-4 smaller than its circle.
	near.Number(t, "fill", f.VolumeMM3, 3*math.Pi*r*r*length-3*pair+all, 2e-4)
	near.Number(t, "overlap", f.OverlapMM3, 3*pair-all, 4e-4)
}

// Tetrahedra with corners on a small grid share corners, edges, faces and planes in
// every way there is, and some face inward. How often each encloses a point is seen
// without any of it.
func TestFillOfTetrahedraOnAGrid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var bodies []signedTetrahedron
		var corners []r3.Vector
		for range rapid.IntRange(1, 6).Draw(t, "bodies") {
			if b, ok := drawSignedTetrahedron(t); ok {
				bodies = append(bodies, b)
				corners = append(corners, b.facets()...)
			}
		}
		f, err := Volume(context.Background(), mesh.New(corners))
		const n = 4000
		rng, full, negative := rand.New(rand.NewPCG(1, 2)), 0, 0
		for range n {
			p := r3.Vector{X: 2 * rng.Float64(), Y: 2 * rng.Float64(), Z: 2 * rng.Float64()}
			w := 0
			for _, b := range bodies {
				w += b.winding(p)
			}
			switch {
			case w > 0:
				full++
			case w < 0:
				negative++
			}
		}
		share := float64(full) / n
		deviation := math.Sqrt(max(share*(1-share), 1.0/n) / n)
		switch {
		case negative > 0:
			if !errors.Is(err, ErrInsideOut) {
				t.Fatalf("negative at %d of %d points, fill %g, error %v", negative, n, f.VolumeMM3, err)
			}
		case errors.Is(err, ErrInsideOut):
			// A negative part that no sample hit: the smallest such parts of a grid of 3 by
			// 3 by 3 are larger than a thousandth.
			t.Fatalf("no negative point, error %v", err)
		case err != nil:
			t.Fatal(err)
		case math.Abs(f.VolumeMM3-8*share) > 5*8*deviation:
			t.Fatalf("fill %g, sampled %g, standard deviation %g", f.VolumeMM3, 8*share, 8*deviation)
		}
	})
}

type signedTetrahedron struct {
	corners [4]r3.Vector
	sign    int // -1 for facing inward
}

// drawSignedTetrahedron returns false for a flat one.
func drawSignedTetrahedron(t *rapid.T) (signedTetrahedron, bool) {
	b := signedTetrahedron{sign: 1}
	for i := range b.corners {
		b.corners[i] = r3.Vector{
			X: float64(rapid.IntRange(0, 2).Draw(t, "x")),
			Y: float64(rapid.IntRange(0, 2).Draw(t, "y")),
			Z: float64(rapid.IntRange(0, 2).Draw(t, "z")),
		}
	}
	c := &b.corners
	six := c[1].Sub(c[0]).Dot(c[2].Sub(c[0]).Cross(c[3].Sub(c[0])))
	if six < 0 {
		c[0], c[1] = c[1], c[0]
	}
	if rapid.IntRange(0, 3).Draw(t, "faces inward") == 0 {
		b.sign = -1
	}
	return b, six != 0
}

func (b signedTetrahedron) facets() []r3.Vector {
	c := b.corners
	f := []r3.Vector{c[0], c[2], c[1], c[0], c[1], c[3], c[1], c[2], c[3], c[2], c[0], c[3]}
	if b.sign < 0 {
		f = solids.Flip(f)
	}
	return f
}

// winding is the sign for a point on the same side of every face as the corner
// opposite to it.
func (b signedTetrahedron) winding(p r3.Vector) int {
	for i, opposite := range b.corners {
		a, c, d := b.corners[(i+1)%4], b.corners[(i+2)%4], b.corners[(i+3)%4]
		n := c.Sub(a).Cross(d.Sub(a))
		if n.Dot(opposite.Sub(a))*n.Dot(p.Sub(a)) < 0 {
			return 0
		}
	}
	return b.sign
}
