package hollow

import (
	"errors"
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"bellyline/mesh"
)

// Boxes sunk anywhere into a block, through each other or not, out through a side or
// not: what is found holds what is missing from the block, gates or no gates.
func TestHollowsHoldWhatIsMissing(t *testing.T) {
	whole := box{0, 0, -20, 100, 60, 0}
	rapid.Check(t, func(t *rapid.T) {
		c := blockOf(whole)
		for range rapid.IntRange(1, 7).Draw(t, "boxes") {
			x := rapid.Float64Range(2, 80).Draw(t, "x")
			y := rapid.Float64Range(2, 50).Draw(t, "y")
			b := box{x, y, -rapid.Float64Range(0.5, 18).Draw(t, "depth"), min(98, x+rapid.Float64Range(1, 40).Draw(t, "length")), min(58, y+rapid.Float64Range(1, 20).Draw(t, "width")), 0}
			c.less(b)
		}
		if rapid.Bool().Draw(t, "out at the side") {
			y := rapid.Float64Range(5, 50).Draw(t, "y")
			c.less(box{60, y, -rapid.Float64Range(1, 6).Draw(t, "depth"), 100, y + rapid.Float64Range(1, 5).Draw(t, "width"), 0})
		}
		m := mesh.New(c.corners())
		h, err := Find(t.Context(), m, Options{OneLevel: true})
		if err != nil {
			t.Fatal(err)
		}
		missing := whole.volume() - m.Moments().VolumeMM3
		total := 0.0
		for _, o := range h.Hollows {
			total += o.VolumeMM3
			if o.VolumeMM3 <= 0 || o.OpeningMM2 <= 0 || o.DepthMM <= 0 {
				t.Errorf("hollow %+v", o)
			}
		}
		if math.Abs(total-missing) > 1e-9*whole.volume() {
			t.Errorf("hollows hold %.9f mm3, %.9f are missing", total, missing)
		}
		for _, w := range h.Connected {
			sum := 0.0
			for _, id := range w.IDs {
				sum += h.Hollows[id-1].VolumeMM3
			}
			if math.Abs(sum-w.VolumeMM3) > 1e-9*w.VolumeMM3 {
				t.Errorf("parts add up to %.12g, the whole is %.12g", sum, w.VolumeMM3)
			}
		}
		for _, o := range h.Hollows { // whatever was cut can be closed again
			body, err := h.Body(o.ID)
			if err != nil {
				t.Fatal(err)
			}
			if got := body.Moments().VolumeMM3; !body.Check().Oriented || math.Abs(got-o.VolumeMM3) > 1e-6*o.VolumeMM3 {
				t.Errorf("hollow %d holds %.9g, its body %.9g, closed %v", o.ID, o.VolumeMM3, got, body.Check().Oriented)
			}
		}
	})
}

// Facets strewn anyhow are no mold half, and bring nothing down.
func TestStrewnFacets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 40).Draw(t, "facets")
		m := &mesh.Mesh{}
		for range n + 3 {
			at := func(axis string) float64 { return float64(rapid.IntRange(-3, 3).Draw(t, axis)) }
			m.Vertices = append(m.Vertices, r3.Vector{X: at("x"), Y: at("y"), Z: at("z")})
		}
		for range n {
			corner := func(name string) int32 { return int32(rapid.IntRange(0, n+2).Draw(t, name)) }
			m.Triangles = append(m.Triangles, [3]int32{corner("a"), corner("b"), corner("c")})
		}
		_, err := Find(t.Context(), m, Options{})
		if err != nil && !errors.Is(err, ErrNoParting) && !errors.Is(err, ErrBait) && !errors.Is(err, ErrTwoFaces) && !errors.Is(err, ErrOpen) {
			t.Fatal(err)
		}
	})
}
