package mesh

import (
	"math"
	"math/rand/v2"
	"runtime"
	"testing"

	"bellyline/mesh/internal/earclip"
)

// Caps of real sections lie flat: no facet folds over another, whatever the
// plane runs along. Bodies are left out that overlap or touch along sides: their
// rings cross each other. Processors that fuse products and sums round crossing
// points in other ways; there a last bit is allowed.
func TestCapsOfBodiesLieFlat(t *testing.T) {
	allowed := 1e-13
	if runtime.GOARCH == "amd64" {
		allowed = math.Inf(-1)
	}
	for name, m := range Bodies() {
		switch name {
		case "overlap", "overlapping void", "void at the rim", "the same box twice":
			continue
		case "inside out":
			continue // its caps face down, as they should
		}
		rng := rand.New(rand.NewPCG(37, 38))
		for _, p := range PlanesFor(m, rng, PlaneCount(70)) {
			c, err := newCutter(m, p)
			if err != nil {
				t.Fatal(err)
			}
			found := c.sort()
			s := c.section(found.crossing, found.flat)
			for _, f := range c.caps(s) {
				u, v, w := c.flat(s, f[0]), c.flat(s, f[1]), c.flat(s, f[2])
				if down := -earclip.TwiceArea(u, v, w); earclip.Orient2D(u, v, w) < 0 && down >= allowed {
					t.Errorf("%s, %v: a facet of the cap faces down by %v mm²", name, p, down)
				}
			}
		}
	}
}
