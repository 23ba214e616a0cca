package mesh

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// Dividing changes no volume and no area, leaves every surface closed, and no facet
// with corners on both sides of a plane.
func TestDivideKeepsTheBody(t *testing.T) {
	bodies := levelBodies()
	rapid.Check(t, func(t *rapid.T) {
		m := bodies[rapid.SampledFrom([]string{"box", "tetrahedron", "icosphere", "torus", "spool"}).Draw(t, "body")]
		part := rapid.Float64Range(-1, 1)
		var planes []Plane
		for range rapid.IntRange(1, 4).Draw(t, "planes") {
			n := r3.Vector{X: part.Draw(t, "x"), Y: part.Draw(t, "y"), Z: part.Draw(t, "z")}
			if n.Norm() < 0.01 {
				t.Skip("no direction")
			}
			planes = append(planes, Plane{Normal: n.Normalize(), HeightMM: 3 * part.Draw(t, "height")})
		}
		divided, err := m.Divide(planes...)
		if err != nil {
			t.Fatal(err)
		}
		report, moments := divided.Measure()
		want := m.Moments()
		switch {
		case !report.Closed || !report.Oriented || report.Shells != m.Check().Shells:
			t.Fatalf("closed %v, oriented %v, %d shells", report.Closed, report.Oriented, report.Shells)
		case math.Abs(moments.VolumeMM3-want.VolumeMM3) > 1e-12*want.VolumeMM3 || math.Abs(moments.AreaMM2-want.AreaMM2) > 1e-12*want.AreaMM2:
			t.Fatalf("%g mm3, %g mm2; want %g, %g", moments.VolumeMM3, moments.AreaMM2, want.VolumeMM3, want.AreaMM2)
		}
		const near = 1e-10 // mm: a vertex within 2^-40 of the diagonal is on the plane
		last := planes[len(planes)-1]
		for i, f := range divided.Triangles {
			low, high := math.Inf(1), math.Inf(-1)
			for _, v := range f {
				d := last.Normal.Dot(divided.Vertices[v]) - last.HeightMM
				low, high = min(low, d), max(high, d)
			}
			if low < -near && high > near {
				t.Fatalf("facet %d reaches from %g to %g over the plane", i, low, high)
			}
		}
	})
}

func TestDivideRefusesNoPlane(t *testing.T) {
	if _, err := New(nil).Divide(Plane{}); err == nil {
		t.Error("a plane without a direction divides")
	}
}

// A shear moves every volume as it is.
func TestMovedByAShear(t *testing.T) {
	m := levelBodies()["torus"]
	sheared := m.Moved(func(v r3.Vector) r3.Vector { v.Z += 0.3*v.X - 0.1*v.Y; return v })
	if got, want := sheared.Moments().VolumeMM3, m.Moments().VolumeMM3; math.Abs(got-want) > 1e-12*want {
		t.Errorf("%g mm3 of %g", got, want)
	}
}
