package cavity

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh/solids"
)

// Shadows of a box are rectangles, or a hexagon along its diagonal: by Cauchy, half of
// the sum of its faces' shadows.
func TestShadowOfABox(t *testing.T) {
	c := openUp(t, solids.Block(80, 12, 10))
	for _, tt := range []struct {
		along r3.Vector
		want  float64
	}{
		{r3.Vector{Z: -1}, 80 * 12}, {r3.Vector{X: 2}, 120}, {r3.Vector{Y: 1}, 800},
		{r3.Vector{X: 1, Y: 1, Z: 1}, (80*12 + 120 + 800) / math.Sqrt(3)},
	} {
		if got := c.ShadowMM2(tt.along); math.Abs(got-tt.want) > 0.005*tt.want {
			t.Errorf("along %v: %g mm2, want %g", tt.along, got, tt.want)
		}
	}
}

// What hides behind something else casts no second shadow.
func TestShadowCountsOnce(t *testing.T) {
	second := solids.Block(4, 4, 4)
	for i := range second {
		second[i] = second[i].Add(r3.Vector{Z: 20})
	}
	c := openUp(t, append(solids.Block(4, 4, 4), second...))
	if got := c.ShadowMM2(r3.Vector{Z: 1}); math.Abs(got-16) > 0.1 {
		t.Errorf("%g mm2, want 16", got)
	}
}

func BenchmarkShadow(b *testing.B) {
	c, err := Open(b.Context(), "../examples/paddletail/bait.stl", Options{}, r3.Vector{Z: 1}, r3.Vector{X: 1})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		c.ShadowMM2(c.Back())
	}
}
