package earclip

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// flatRing is a ring over points numbered from 0, seen along z.
func flatRing(points []r3.Vector) Ring {
	nodes, flat := make([]int32, len(points)), make([]r2.Point, len(points))
	for i, p := range points {
		nodes[i], flat[i] = int32(i), r2.Point{X: p.X, Y: p.Y}
	}
	return NewRing(nodes, flat)
}

// perforated is a square plate with n by n holes of k corners each.
func perforated(n, k int) (outer Ring, holes []Ring) {
	side := float64(n)
	outer = flatRing([]r3.Vector{{}, {X: side}, {X: side, Y: side}, {Y: side}})
	next := int32(len(outer.Nodes))
	for i := range n {
		for j := range n {
			hole := make([]r3.Vector, k)
			for c := range hole {
				a := -2 * math.Pi * float64(c) / float64(k) // clockwise
				hole[c] = r3.Vector{X: float64(i) + 0.5 + 0.3*math.Cos(a), Y: float64(j) + 0.5 + 0.3*math.Sin(a)}
			}
			r := flatRing(hole)
			for c := range r.Nodes {
				r.Nodes[c] += next
			}
			next += int32(k)
			holes = append(holes, r)
		}
	}
	return outer, holes
}

// mustCap demands of facets over rings what closes a solid: together they run
// along each edge of the rings once, forward, and along every other edge as often
// one way as the other.
func mustCap(t rapid.TB, facets [][3]int32, rings ...Ring) {
	t.Helper()
	runs := make(map[[2]int32]int)
	run := func(u, v int32, n int) {
		if u > v {
			u, v, n = v, u, -n
		}
		if u != v {
			runs[[2]int32{u, v}] += n
		}
	}
	for _, f := range facets {
		if f[0] == f[1] || f[1] == f[2] || f[2] == f[0] {
			t.Fatalf("facet %v has two equal corners", f)
		}
		for i := range f {
			run(f[i], f[(i+1)%3], 1)
		}
	}
	for _, r := range rings {
		for i := range r.Nodes {
			run(r.Nodes[i], r.Nodes[(i+1)%len(r.Nodes)], -1)
		}
	}
	for edge, n := range runs {
		if n != 0 {
			t.Fatalf("edge %v is run %d times too often", edge, n)
		}
	}
}

// mustTile demands besides that the facets lie beside each other, none without
// area: for outlines that do not cross or touch themselves.
func mustTile(t rapid.TB, facets [][3]int32, rings ...Ring) {
	t.Helper()
	mustCap(t, facets, rings...)
	at := make(map[int32]r2.Point)
	var want, got float64
	corners := 0
	for _, r := range rings {
		for i, n := range r.Nodes {
			at[n] = r.points[i]
		}
		want += r.Area
		corners += len(r.Nodes)
	}
	for _, f := range facets {
		if Orient2D(at[f[0]], at[f[1]], at[f[2]]) <= 0 {
			t.Fatalf("facet %v %v %v does not face up", at[f[0]], at[f[1]], at[f[2]])
		}
		got += TwiceArea(at[f[0]], at[f[1]], at[f[2]]) / 2
	}
	if !(math.Abs(got-want) <= 1e-12*want) {
		t.Fatalf("facets cover %v, the outline %v", got, want)
	}
	// Euler: a polygon of n corners with h holes takes n + 2h - 2 triangles.
	if count := corners + 2*(len(rings)-1) - 2; len(facets) != count {
		t.Fatalf("%d facets, want %d", len(facets), count)
	}
}

// coverage returns the area of facets, and the same with all signs taken off: the
// two differ when facets fold over each other.
func coverage(facets [][3]int32, rings ...Ring) (net, gross float64) {
	at := make(map[int32]r2.Point)
	for _, r := range rings {
		for i, n := range r.Nodes {
			at[n] = r.points[i]
		}
	}
	for _, f := range facets {
		a := TwiceArea(at[f[0]], at[f[1]], at[f[2]]) / 2
		net += a
		gross += math.Abs(a)
	}
	return net, gross
}

// numbered gives rings nodes of their own, one after the other.
func numbered(rings ...Ring) []Ring {
	var next int32
	for _, r := range rings {
		for i := range r.Nodes {
			r.Nodes[i] = next
			next++
		}
	}
	return rings
}

// ringOf is a ring over pairs of coordinates.
func ringOf(xy ...float64) Ring {
	points := make([]r3.Vector, len(xy)/2)
	for i := range points {
		points[i] = r3.Vector{X: xy[2*i], Y: xy[2*i+1]}
	}
	return flatRing(points)
}

// zip is a bar and an arm pressed together along a slit, with flat corners on
// either side that lie on edges of the other.
func zip(n int) Ring {
	xy := []float64{0, 0, float64(n), 0}
	for i := n; i > 0; i-- {
		xy = append(xy, float64(i), 2)
	}
	xy = append(xy, 1, 3)
	for i := 1; i < n; i++ {
		xy = append(xy, float64(i)+0.5, 2)
	}
	return ringOf(append(xy, float64(n), 3, float64(n), 5, 0, 5)...)
}

// Outlines that touch themselves or their holes, as planes through edges and
// vertices make them. They need facets without area, but none may fold over.
func TestCapOfTouchingOutlines(t *testing.T) {
	square := []float64{0, 0, 8, 0, 8, 8, 0, 8}
	for name, rings := range map[string][]Ring{
		"hole touches a side":        {ringOf(square...), ringOf(0, 4, 2, 6, 4, 4, 2, 2)},
		"hole touches two sides":     {ringOf(square...), ringOf(0, 4, 4, 8, 4, 4)},
		"hole touches a corner":      {ringOf(square...), ringOf(0, 0, 2, 4, 4, 2)},
		"hole along a side":          {ringOf(square...), ringOf(0, 2, 0, 4, 2, 4, 2, 2)},
		"corner touches a hole":      {ringOf(0, 0, 8, 0, 8, 8, 6, 8, 4, 5, 2, 8, 0, 8), ringOf(2, 5, 6, 5, 6, 2, 2, 2)},
		"holes touch":                {ringOf(square...), ringOf(1, 4, 2, 6, 4, 4, 2, 2), ringOf(4, 4, 6, 6, 7, 4, 6, 2)},
		"holes touch along a side":   {ringOf(square...), ringOf(1, 2, 1, 6, 3, 6, 3, 2), ringOf(3, 3, 3, 5, 5, 5, 5, 3)},
		"outline touches its side":   {ringOf(0, 0, 8, 0, 8, 8, 6, 8, 4, 0, 2, 8, 0, 8)},
		"outline touches its corner": {ringOf(0, 0, 4, 0, 8, 0, 8, 8, 6, 8, 4, 0, 2, 8, 0, 8)},
		"tip touches from outside":   {ringOf(0, 0, 8, 0, 8, 2, 2, 2, 2, 6, 3, 6, 4, 2, 5, 6, 8, 6, 8, 8, 0, 8)},
		"pressed together":           {zip(12)},
		"doubled corners":            {ringOf(0, 0, 0, 0, 2, 0, 2, 0, 2, 2, 2, 2, 0, 2, 0, 2)},
		"needle outward":             {ringOf(0, 0, 2, 0, 2, 1, 5, 1, 2, 1, 2, 2, 0, 2)},
		"needle inward":              {ringOf(0, 0, 4, 0, 4, 1, 1, 1, 4, 1, 4, 2, 0, 2)},
	} {
		rings = numbered(rings...)
		t.Run(name, func(t *testing.T) {
			facets := CapRings(rings)
			mustCap(t, facets, rings...)
			var want float64
			for _, r := range rings {
				want += r.Area
			}
			if net, gross := coverage(facets, rings...); math.Abs(net-want) > 1e-12 || math.Abs(gross-want) > 1e-12 {
				t.Errorf("facets cover %v and %v without signs, the outline %v", net, gross, want)
			}
		})
	}
}

// The corner nearest to a hole may lie behind a wall; a bridge must not go
// through it.
func TestBridgeGoesRoundAWall(t *testing.T) {
	rings := numbered(
		ringOf(0, 0, 10, 0, 10, 10, 4.1, 10, 4.05, 0.5, 4, 10, 0, 10, 0, 5.1, 3.8, 5, 0, 4.9),
		ringOf(4.6, 5, 5, 6, 6, 5, 5, 4))
	mustTile(t, CapRings(rings), rings...)
}

func TestCapOfAPlateWithHoles(t *testing.T) {
	outer, holes := perforated(6, 7)
	mustTile(t, CapRings(append([]Ring{outer}, holes...)), append([]Ring{outer}, holes...)...)
}

// Whole-number corners give outlines with many corners on one line and many
// holes at one height, where bridges and ears have to choose.
func TestCapOfRandomPlates(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		columns, rows := rapid.IntRange(1, 5).Draw(t, "columns"), rapid.IntRange(1, 4).Draw(t, "rows")
		var rim []r3.Vector // counter-clockwise, a corner every unit
		for x := range 4 * columns {
			rim = append(rim, r3.Vector{X: float64(x)})
		}
		for y := range 4 * rows {
			rim = append(rim, r3.Vector{X: float64(4 * columns), Y: float64(y)})
		}
		for x := range 4 * columns {
			rim = append(rim, r3.Vector{X: float64(4*columns - x), Y: float64(4 * rows)})
		}
		for y := range 4 * rows {
			rim = append(rim, r3.Vector{Y: float64(4*rows - y)})
		}
		rings := []Ring{flatRing(rim)}
		next := int32(len(rim))
		for i := range columns {
			for j := range rows {
				x, y := float64(4*i), float64(4*j)
				var hole []r3.Vector // clockwise
				switch rapid.IntRange(0, 4).Draw(t, "hole") {
				case 0:
					continue
				case 1: // a square with corners on its sides
					hole = []r3.Vector{{X: 1, Y: 1}, {X: 1, Y: 2}, {X: 1, Y: 3}, {X: 2, Y: 3}, {X: 3, Y: 3}, {X: 3, Y: 2}, {X: 3, Y: 1}, {X: 2, Y: 1}}
				case 2: // a diamond
					hole = []r3.Vector{{X: 1, Y: 2}, {X: 2, Y: 3}, {X: 3, Y: 2}, {X: 2, Y: 1}}
				case 3: // a thin triangle
					hole = []r3.Vector{{X: 1, Y: 1}, {X: 3, Y: 3}, {X: 2, Y: 1}}
				case 4: // a C
					hole = []r3.Vector{{X: 1, Y: 1}, {X: 1, Y: 3}, {X: 3, Y: 3}, {X: 1.5, Y: 2.5}, {X: 1.5, Y: 1.5}, {X: 3, Y: 1}}
				}
				for k := range hole {
					hole[k] = hole[k].Add(r3.Vector{X: x, Y: y})
				}
				r := flatRing(hole)
				for k := range r.Nodes {
					r.Nodes[k] += next
				}
				next += int32(len(hole))
				rings = append(rings, r)
			}
		}
		// Any affine map keeps what lies on one line there; this one is exact.
		shear := float64(rapid.IntRange(-3, 3).Draw(t, "shear"))
		for i := range rings {
			for k, p := range rings[i].points {
				rings[i].points[k] = r2.Point{X: p.X + shear*p.Y, Y: p.Y - 2*shear*p.X}
			}
			rings[i] = NewRing(rings[i].Nodes, rings[i].points)
			if shear != 0 && rings[i].Area < 0 != (i > 0) {
				t.Fatal("the map turned a ring over")
			}
		}
		mustTile(t, CapRings(rings), rings...)
	})
}

// Stars: every second corner is reflex.
func TestCapOfStars(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 60).Draw(t, "corners")
		star := make([]r3.Vector, n)
		for i := range star {
			r := rapid.Float64Range(0.05, 10).Draw(t, "radius")
			a := 2 * math.Pi * float64(i) / float64(n)
			star[i] = r3.Vector{X: r * math.Cos(a), Y: r * math.Sin(a)}
		}
		r := flatRing(star)
		if n == 3 && r.Area <= 0 { // does not go round the centre
			t.Skip("clockwise")
		}
		facets := CapRings([]Ring{r})
		mustTile(t, facets, r)
	})
}

// Outlines that are none: crossing, folded, on one line, in one point, touching.
// No area can be asked for, but the solid must be closed all the same.
func TestCapOfOutlinesThatAreNone(t *testing.T) {
	at := ringOf
	for name, r := range map[string]Ring{
		"bow tie":         at(0, 0, 2, 2, 2, 0, 0, 2),
		"pentagram":       at(0, 3, 2, -3, -3, 1, 3, 1, -2, -3),
		"on a line":       at(0, 0, 1, 0, 2, 0, 3, 0, 2.5, 0, 1.5, 0),
		"in a point":      at(1, 1, 1, 1, 1, 1, 1, 1, 1, 1),
		"twice round":     at(0, 0, 2, 0, 2, 2, 0, 2, 0, 0, 2, 0, 2, 2, 0, 2),
		"fold":            at(0, 0, 4, 0, 4, 1, 2, 0, 0, 1),
		"touches itself":  at(0, 0, 4, 0, 4, 4, 2, 0, 0, 4),
		"triangle":        at(0, 0, 1, 0, 0, 1),
		"clockwise":       at(0, 0, 0, 1, 1, 1, 1, 0),
		"needle":          at(0, 0, 5, 0, 2, 0, 2, 3),
		"doubled corners": at(0, 0, 0, 0, 2, 0, 2, 0, 2, 2, 2, 2, 0, 2, 0, 2),
	} {
		t.Run(name, func(t *testing.T) {
			mustCap(t, CapRings([]Ring{r}), r)
			mustCap(t, CapRings([]Ring{r.Reversed()}), r.Reversed())
		})
	}
	rapid.Check(t, func(t *rapid.T) {
		xy := rapid.SliceOfN(rapid.IntRange(0, 4), 6, 40).Draw(t, "corners")
		points := make([]float64, len(xy)/2*2)
		for i := range points {
			points[i] = float64(xy[i])
		}
		r := at(points...)
		mustCap(t, CapRings([]Ring{r}), r)
	})
}

// A loop that comes through the same node twice: two squares joined at a corner,
// and an outline that runs out along an edge and back.
func TestCapOfRepeatedNodes(t *testing.T) {
	corners := []r2.Point{{X: 0, Y: 0}, {X: 1, Y: 0}, {X: 1, Y: 1}, {X: 2, Y: 1}, {X: 2, Y: 2}, {X: 1, Y: 2}, {X: 0, Y: 1}, {X: 3, Y: 3}}
	for name, nodes := range map[string][]int32{
		"figure eight": {0, 1, 2, 3, 4, 5, 2, 6},
		"spur":         {0, 1, 2, 4, 7, 4, 2, 6},
		"only a spur":  {0, 1, 2, 1},
		"two nodes":    {0, 1},
	} {
		points := make([]r2.Point, len(nodes))
		for i, n := range nodes {
			points[i] = corners[n]
		}
		r := NewRing(nodes, points)
		t.Run(name, func(t *testing.T) { mustCap(t, CapRings([]Ring{r}), r) })
	}
}

// Holes that stick out of their ring, or lie in none, or cover each other:
// overlapping shells make them.
func TestCapOfCrossingRings(t *testing.T) {
	square := func(x, y, side float64, first int32, hole bool) Ring {
		r := flatRing([]r3.Vector{{X: x, Y: y}, {X: x + side, Y: y}, {X: x + side, Y: y + side}, {X: x, Y: y + side}})
		for i := range r.Nodes {
			r.Nodes[i] += first
		}
		if hole {
			return r.Reversed()
		}
		return r
	}
	for name, rings := range map[string][]Ring{
		"sticks out":      {square(0, 0, 4, 0, false), square(3, 1, 2, 4, true)},
		"beside":          {square(0, 0, 4, 0, false), square(9, 9, 2, 4, true)},
		"alone":           {square(0, 0, 4, 0, true)},
		"larger":          {square(1, 1, 1, 0, false), square(0, 0, 4, 4, true)},
		"crossing holes":  {square(0, 0, 9, 0, false), square(1, 1, 3, 4, true), square(2, 2, 3, 8, true)},
		"hole in a hole":  {square(0, 0, 9, 0, false), square(1, 1, 5, 4, true), square(2, 2, 2, 8, true)},
		"the same twice":  {square(0, 0, 9, 0, false), square(1, 1, 5, 4, true), square(1, 1, 5, 8, true)},
		"hole as ring":    {square(0, 0, 4, 0, false), square(0, 0, 4, 4, true)},
		"at the rim":      {square(0, 0, 4, 0, false), square(0, 1, 2, 4, true)},
		"in the corner":   {square(0, 0, 4, 0, false), square(0, 0, 2, 4, true)},
		"crossing outers": {square(0, 0, 4, 0, false), square(2, 2, 4, 4, false), square(2.5, 2.5, 1, 8, true)},
	} {
		t.Run(name, func(t *testing.T) {
			facets := CapRings(rings)
			mustCap(t, facets, rings...)
			var all float64
			for _, r := range rings {
				all += math.Abs(r.Area)
			}
			// At worst each ring is capped for itself.
			if _, gross := coverage(facets, rings...); gross > all*(1+1e-12) {
				t.Errorf("facets cover %v, all rings together %v", gross, all)
			}
		})
	}
}

// A ragged hole that sticks out of a ragged disc: no more is covered than when
// each is capped for itself.
func TestCapOfHolesThatStickOut(t *testing.T) {
	rng := rand.New(rand.NewPCG(35, 36))
	disc := func(at r2.Point, radius float64, corners int, way float64) Ring {
		points := make([]r3.Vector, corners)
		for i := range points {
			a := way * 2 * math.Pi * float64(i) / float64(corners)
			r := radius * (0.8 + 0.2*rng.Float64())
			points[i] = r3.Vector{X: at.X + r*math.Cos(a), Y: at.Y + r*math.Sin(a)}
		}
		return flatRing(points)
	}
	for range 300 {
		sin, cos := math.Sincos(7 * rng.Float64())
		rings := numbered(disc(r2.Point{}, 10, 40, 1), disc(r2.Point{X: 8 * cos, Y: 8 * sin}, 3+2*rng.Float64(), 20, -1))
		facets := CapRings(rings)
		mustCap(t, facets, rings...)
		all := rings[0].Area - rings[1].Area
		if _, gross := coverage(facets, rings...); gross > all*(1+1e-12) {
			t.Errorf("facets cover %v, both rings together %v", gross, all)
		}
	}
}
