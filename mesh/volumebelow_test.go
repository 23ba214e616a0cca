package mesh

import (
	"math"
	"testing"

	"bellyline/mesh/solids"
	"bellyline/mesh/vector"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// VolumeBelow against Cut, which finds the volumes by clipping facets, on turned
// bodies, below, through and above.
func TestVolumeBelowAgreesWithCut(t *testing.T) {
	bodies := []*Mesh{New(solids.Torus(10, 3, 24, 12)), New(solids.Octahedron(6)), New(solids.Sphere(5, 32)),
		New(solids.Move(solids.Box(r3.Vector{}, r3.Vector{X: 1, Y: 2, Z: 3}), r3.Vector{X: 500, Y: -80}))}
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.SampledFrom(bodies).Draw(t, "body")
		dir, _ := vector.Unit(r3.Vector{X: rapid.Float64Range(-1, 1).Draw(t, "x"), Y: rapid.Float64Range(-1, 1).Draw(t, "y"), Z: 1})
		low, high := m.Span(dir)
		h := low + (high-low)*rapid.Float64Range(-0.2, 1.2).Draw(t, "height")
		cut, err := m.Cut(Plane{Normal: dir, HeightMM: h})
		if err != nil {
			t.Fatal(err)
		}
		// Both sum at most some thousand terms, none larger than the box about the
		// body, with errors of 2^-53 each.
		size := m.Bounds().Size()
		near := 1e-12 * size.X * size.Y * size.Z
		if got := m.VolumeBelow(dir, h); !(math.Abs(got-cut.Below.VolumeMM3) <= near) {
			t.Errorf("below %g of %g to %g mm: %.17g mm3, the cut says %.17g", h, low, high, got, cut.Below.VolumeMM3)
		}
	})
	if got := (&Mesh{}).VolumeBelow(r3.Vector{Z: 1}, 1); got != 0 {
		t.Errorf("nothing holds %g mm3", got)
	}
}
