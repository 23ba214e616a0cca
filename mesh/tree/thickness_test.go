package tree

import (
	"context"
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/solids"
)

// checkThickness compares the thickness at the middle of every facet with what it
// should be there, 0 meaning that nothing is known.
func checkThickness(t *testing.T, name string, m *mesh.Mesh, share float64, want func(at r3.Vector) float64) {
	t.Helper()
	thickness, err := New(m).Thickness(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	checked, worst := 0, 0.0
	for f, got := range thickness {
		a, b, c := m.Corners(f)
		at := a.Add(b).Add(c).Mul(1.0 / 3)
		w := want(at)
		if w == 0 {
			continue
		}
		checked++
		worst = max(worst, math.Abs(got/w-1))
		if !(math.Abs(got/w-1) <= share) {
			t.Errorf("%s at %v: thickness %g, want %g within %.2g", name, at, got, w, share)
			return
		}
	}
	if checked < 100 {
		t.Errorf("%s: only %d facets checked", name, checked)
	}
}

// A ball in a slab touches both faces, nearer to the rim than its radius the rim.
func TestThicknessOfASlab(t *testing.T) {
	slab := solids.Box(r3.Vector{X: -20, Y: -20, Z: -1}, r3.Vector{X: 20, Y: 20, Z: 1})
	for range 3 {
		slab = solids.Subdivide(slab)
	}
	checkThickness(t, "slab", mesh.New(slab), ballTolerance, func(at r3.Vector) float64 {
		if math.Abs(at.Z) != 1 {
			return 0
		}
		return 2 * min(1, 20-math.Abs(at.X), 20-math.Abs(at.Y))
	})
}

// lathe returns a body with n sectors whose profile has many steps.
func lathe(profile []r2.Point, n int) *mesh.Mesh { return mesh.New(solids.Lathe(profile, n)) }

// line appends the points that divide the way to a point into steps.
func line(p []r2.Point, to r2.Point, steps int) []r2.Point {
	from := p[len(p)-1]
	for i := 1; i <= steps; i++ {
		p = append(p, from.Add(to.Sub(from).Mul(float64(i)/float64(steps))))
	}
	return p
}

// A ball that touches a cylinder's side has its radius, unless an end is nearer.
func TestThicknessOfACylinder(t *testing.T) {
	const r, length = 3.0, 20.0
	p := line(line(line([]r2.Point{{}}, r2.Point{X: r}, 2), r2.Point{X: r, Y: length}, 10), r2.Point{Y: length}, 2)
	checkThickness(t, "cylinder", lathe(p, 64), 0.005, func(at r3.Vector) float64 {
		if math.Hypot(at.X, at.Y) < 0.99*r {
			return 0
		}
		return 2 * min(r, at.Z, length-at.Z)
	})
}

func TestThicknessOfASphere(t *testing.T) {
	checkThickness(t, "sphere", mesh.New(solids.Icosphere(4, 3)), 0.02, func(r3.Vector) float64 { return 8 })
}

// A ball that touches the tube of a ring from inside fills it.
func TestThicknessOfATorus(t *testing.T) {
	checkThickness(t, "torus", mesh.New(solids.Torus(12, 2.5, 80, 32)), 0.02, func(r3.Vector) float64 { return 5 })
}

// A ball that touches the side of a cone at a distance l from its tip has its centre
// on the axis, so its radius is l tan a with a half the angle of the tip; or it
// touches the base first: its centre is at the depth l cos a + r sin a, and the
// base r below it, so r = (height - l cos a)/(1 + sin a).
func TestThicknessOfACone(t *testing.T) {
	const r, height = 4.0, 12.0
	a := math.Atan(r / height)
	p := line(line([]r2.Point{{}}, r2.Point{X: r}, 3), r2.Point{Y: height}, 24)
	checkThickness(t, "cone", lathe(p, 64), 0.01, func(at r3.Vector) float64 {
		l := (height - at.Z) / math.Cos(a)
		if at.Z < 1e-9 || l < 3 {
			return 0 // the base; the tip, where a facet spans much of its distance
		}
		return 2 * min(l*math.Tan(a), (height-l*math.Cos(a))/(1+math.Sin(a)))
	})
}

// Facets that are no smooth face stop the ball: beside the edge of a box it
// touches both faces.
func TestBallBesideAnEdge(t *testing.T) {
	tree := New(mesh.New(solids.Box(r3.Vector{}, r3.Vector{X: 10, Y: 10, Z: 10})))
	r, f := tree.BallRadius(r3.Vector{X: 0.5, Y: 4, Z: 10}, r3.Vector{Z: -1}, creaseAngle)
	if math.Abs(r-0.5) > 0.5*ballTolerance || f < 0 {
		t.Errorf("radius %g at facet %d, want 0.5", r, f)
	}
	outside, f := tree.BallRadius(r3.Vector{X: 0.5, Y: 4, Z: 10}, r3.Vector{Z: 1}, creaseAngle)
	if !math.IsInf(outside, 1) || f != -1 {
		t.Errorf("radius %g at facet %d outside, want infinity", outside, f)
	}
}
