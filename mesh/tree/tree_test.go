package tree

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"bellyline/mesh"
	"bellyline/mesh/solids"
)

// A ray through a box by hand.
func TestRayThroughABox(t *testing.T) {
	tree := New(mesh.New(solids.Box(r3.Vector{}, r3.Vector{X: 2, Y: 3, Z: 5})))
	hits := tree.Ray(r3.Vector{X: -1, Y: 0.5, Z: 1}, r3.Vector{X: 10})
	if len(hits) != 2 || hits[0].DistanceMM != 1 || !hits[0].Inward || hits[1].DistanceMM != 3 || hits[1].Inward {
		t.Errorf("from outside: %+v", hits)
	}
	if hits = tree.Ray(r3.Vector{X: 0.5, Y: 1, Z: 4}, r3.Vector{Z: -1}); len(hits) != 1 || hits[0].DistanceMM != 4 || hits[0].Inward {
		t.Errorf("from inside: %+v", hits)
	}
	for _, none := range []r3.Vector{{}, {Y: 1}, {X: -1}, {X: math.NaN()}} {
		if hits = tree.Ray(r3.Vector{X: -1, Y: -1, Z: 1}, none); len(hits) != 0 {
			t.Errorf("direction %v: %+v", none, hits)
		}
	}
}

// Rays aimed at corners and at the middles of edges from inside a sphere meet it: a
// test of each facet by itself misses some of them by rounding.
func TestRayDoesNotSlipBetweenFacets(t *testing.T) {
	m := mesh.New(solids.Turn(solids.Icosphere(5, 3), solids.RandomRotation(rand.New(rand.NewPCG(7, 8)))))
	tree := New(m)
	from := r3.Vector{X: 0.1, Y: -0.7, Z: 0.4}
	for f, tri := range m.Triangles {
		for k := range 3 {
			a, b := m.Vertices[tri[k]], m.Vertices[tri[(k+1)%3]]
			for _, at := range []r3.Vector{a, a.Add(b).Mul(0.5), a.Add(b.Sub(a).Mul(0.3))} {
				hits := tree.Ray(from, at.Sub(from))
				if len(hits) == 0 || math.Abs(hits[0].DistanceMM-at.Sub(from).Norm()) > 1e-12 || hits[0].Inward {
					t.Fatalf("facet %d, at %v: %+v", f, at, hits)
				}
			}
		}
	}
}

// Both searches find what looking at every facet finds.
func TestTreeAgainstEveryFacet(t *testing.T) {
	m := mesh.New(solids.Join(solids.Torus(10, 3, 40, 20), solids.Move(solids.Icosphere(4, 2), r3.Vector{X: 2, Y: 3, Z: 3})))
	tree := New(m)
	coordinate := rapid.Float64Range(-20, 20)
	rapid.Check(t, func(t *rapid.T) {
		p := r3.Vector{X: coordinate.Draw(t, "x"), Y: coordinate.Draw(t, "y"), Z: coordinate.Draw(t, "z")}
		d := r3.Vector{X: coordinate.Draw(t, "dx"), Y: coordinate.Draw(t, "dy"), Z: coordinate.Draw(t, "dz")}
		facet, q, distance := tree.Nearest(p)
		best, at := math.Inf(1), 0
		for f := range m.Triangles {
			a, b, c := m.Corners(f)
			if away := nearestByFoot(p, a, b, c).Sub(p).Norm(); away < best {
				best, at = away, f
			}
		}
		if math.Abs(distance-best) > 1e-6 || math.Abs(q.Sub(p).Norm()-distance) > 1e-12 {
			t.Fatalf("nearest to %v: facet %d at %g, want facet %d at %g", p, facet, distance, at, best)
		}
		if d.Norm() == 0 {
			return
		}
		d = d.Normalize()
		hits := tree.Ray(p, d)
		for f := range m.Triangles {
			a, b, c := m.Corners(f)
			distance, inside := meetByVolumes(p, d, a, b, c)
			hit := slices.ContainsFunc(hits, func(h Hit) bool { return h.Facet == f && math.Abs(h.DistanceMM-distance) < 1e-9 })
			if inside > 0 && !hit || inside < 0 && hit {
				t.Fatalf("ray from %v along %v, facet %d at %g: hit %v, hits %+v", p, d, f, distance, hit, hits)
			}
		}
	})
}

// nearestByFoot finds the point of a triangle nearest to p: the foot of the
// perpendicular if it is inside all sides, the best point of a side if not.
func nearestByFoot(p, a, b, c r3.Vector) r3.Vector {
	along := func(a, b r3.Vector) r3.Vector { // nearest on a side
		d := b.Sub(a)
		return a.Add(d.Mul(min(1, max(0, d.Dot(p.Sub(a))/d.Norm2()))))
	}
	best := along(a, b)
	for _, q := range []r3.Vector{along(b, c), along(c, a)} {
		if q.Sub(p).Norm() < best.Sub(p).Norm() {
			best = q
		}
	}
	n := b.Sub(a).Cross(c.Sub(a)).Normalize()
	foot := p.Sub(n.Mul(n.Dot(p.Sub(a))))
	for _, s := range [][2]r3.Vector{{a, b}, {b, c}, {c, a}} {
		if n.Dot(s[1].Sub(s[0]).Cross(foot.Sub(s[0]))) < 0 {
			return best
		}
	}
	return foot
}

// meetByVolumes says where a ray meets a triangle by the signs of three volumes: +1
// inside, -1 outside, 0 too near to a side to tell.
func meetByVolumes(p, d, a, b, c r3.Vector) (distance float64, inside int) {
	a, b, c = a.Sub(p), b.Sub(p), c.Sub(p)
	n := b.Sub(a).Cross(c.Sub(a))
	distance = n.Dot(a) / n.Dot(d)
	volumes := []float64{d.Dot(a.Cross(b)), d.Dot(b.Cross(c)), d.Dot(c.Cross(a)), distance}
	lo, hi := slices.Min(volumes[:3]), slices.Max(volumes[:3])
	const margin = 1e-9
	switch {
	case lo < -margin && hi > margin || distance < -margin:
		return distance, -1
	case (lo > margin || hi < -margin) && distance > margin:
		return distance, 1
	}
	return distance, 0
}

// The winding number is that of the solid angles, which no ray goes into.
func TestWindingAgainstSolidAngles(t *testing.T) {
	m := mesh.New(solids.Join(
		solids.Icosphere(5, 2), solids.Move(solids.Icosphere(4, 2), r3.Vector{X: 4}), solids.Flip(solids.Icosphere(2, 1))))
	tree := New(m)
	all := make([]int32, len(m.Triangles))
	for f := range all {
		all[f] = int32(f)
	}
	seen := map[int]int{}
	rng := rand.New(rand.NewPCG(1, 2))
	for range 500 {
		p := r3.Vector{X: 16*rng.Float64() - 7, Y: 12*rng.Float64() - 6, Z: 12*rng.Float64() - 6}
		if _, _, distance := tree.Nearest(p); distance < 1e-9 {
			continue // no side to be on
		}
		w, ok := tree.Winding(p)
		if want := math.Round(m.WindingNumber(all, p)); !ok || float64(w) != want {
			t.Fatalf("at %v: %d, %v, want %g", p, w, ok, want)
		}
		seen[w]++
	}
	if len(seen) != 3 {
		t.Errorf("numbers seen: %v, want 0, 1 and 2", seen)
	}
}

// On a face of a whole-number box, along an edge of it, on whole-number lines: rays
// meet edges and corners, and go another way.
func TestWindingAtExactPlaces(t *testing.T) {
	tree := New(mesh.New(solids.Box(r3.Vector{}, r3.Vector{X: 2, Y: 2, Z: 2})))
	for _, c := range []struct {
		at r3.Vector
		w  int
		ok bool
	}{
		{r3.Vector{X: 1, Y: 1, Z: 1}, 1, true}, {r3.Vector{X: 1, Y: 1, Z: 3}, 0, true},
		{r3.Vector{X: 1, Y: 0.5, Z: 2}, 0, false}, {r3.Vector{X: 1, Y: 1, Z: 2}, 0, false},
		{r3.Vector{X: 0, Y: 1, Z: 2}, 0, false}, {r3.Vector{}, 0, false}, {r3.Vector{X: 4}, 0, true},
	} {
		if w, ok := tree.Winding(c.at); w != c.w || ok != c.ok {
			t.Errorf("at %v: %d, %v, want %d, %v", c.at, w, ok, c.w, c.ok)
		}
	}
	// Without its lid, some rays see a box and some do not.
	open := mesh.New(solids.Box(r3.Vector{}, r3.Vector{X: 2, Y: 2, Z: 2}))
	open.Triangles = slices.DeleteFunc(open.Triangles, func(tri [3]int32) bool {
		return open.Vertices[tri[0]].X == 2 && open.Vertices[tri[1]].X == 2 && open.Vertices[tri[2]].X == 2
	})
	if w, ok := New(open).Winding(r3.Vector{X: 1.9, Y: 1, Z: 1}); ok {
		t.Errorf("in an open box: %d", w)
	}
}
