package mesh

import (
	"math"
	"testing"

	"bellyline/mesh/solids"

	"github.com/golang/geo/r3"
)

// An octant seen from the origin is an eighth of the sphere, 4 pi / 8.
func TestSolidAngle(t *testing.T) {
	x, y, z := r3.Vector{X: 3}, r3.Vector{Y: 5}, r3.Vector{Z: 0.1}
	if got := solidAngle(x, y, z); math.Abs(got-math.Pi/2) > 1e-15 {
		t.Errorf("octant: %g", got)
	}
	if got := solidAngle(y, x, z); math.Abs(got+math.Pi/2) > 1e-15 {
		t.Errorf("octant from the other side: %g", got)
	}
	for name, at := range map[string]r3.Vector{
		"corner": x, "edge": x.Add(y).Mul(0.5), "middle": x.Add(y).Add(z).Mul(1.0 / 3),
	} {
		if got := solidAngle(x.Sub(at), y.Sub(at), z.Sub(at)); !math.IsNaN(got) {
			t.Errorf("on the %s: %g, want NaN", name, got)
		}
	}
	beyond := x.Mul(2).Sub(y)
	if got := solidAngle(x.Sub(beyond), y.Sub(beyond), z.Sub(beyond)); math.Abs(got) > 1e-15 {
		t.Errorf("in the plane, outside: %g, want 0", got)
	}
}

func TestWindingNumber(t *testing.T) {
	m := New(solids.Join(solids.Torus(10, 3, 40, 20), solids.Torus(10, 2, 40, 20)))
	all := make([]int32, len(m.Triangles))
	for i := range all {
		all[i] = int32(i)
	}
	for _, c := range []struct {
		at   r3.Vector
		want float64
	}{
		{r3.Vector{}, 0},              // through the ring
		{r3.Vector{X: 10}, 2},         // in both tubes
		{r3.Vector{Y: 10, Z: 2.5}, 1}, // in the wide one only
		{r3.Vector{X: 10, Z: 3.5}, 0}, // above
	} {
		if got := m.WindingNumber(all, c.at); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("at %v: %g, want %g", c.at, got, c.want)
		}
	}
}
