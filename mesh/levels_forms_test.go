package mesh

import (
	"errors"
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"bellyline/mesh/solids"
)

// levelsOf builds levels or fails.
func levelsOf(t testing.TB, m *Mesh, dir r3.Vector) *Levels {
	t.Helper()
	l, err := m.Levels(dir)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// tankStrapping is the share of a lying cylinder that is filled to a share of its
// height: published strapping fractions, eight decimals, which are
// (acos(1-2k) - (1-2k)·sqrt(1-(1-2k)²))/pi.
var tankStrapping = map[float64]float64{
	.05: .01869304, .10: .05204402, .15: .09406020, .20: .14237849, .25: .19550111,
	.30: .25231579, .35: .31191883, .40: .37353004, .45: .43644429, .50: .5,
}

// A prism of 4,000 sides lying on its side is a tank to 1e-6; an elliptic tank
// and one turned askew have the same table.
func TestLevelsOfTanks(t *testing.T) {
	round := solids.Prism(5, 40, 4000)
	oval := solids.Scale(round, 1, 0.6, 1)
	for name, c := range map[string]struct {
		corners []r3.Vector
		across  r3.Vector
	}{
		"round":  {round, r3.Vector{Y: 1}},
		"oval":   {oval, r3.Vector{Y: 1}},
		"askew":  {round, r3.Vector{X: 3, Y: -4}},
		"fromup": {oval, r3.Vector{X: -1}},
	} {
		l := levelsOf(t, New(c.corners), c.across)
		lowest, highest := l.Range()
		for k, want := range tankStrapping {
			at := l.At(lowest + k*(highest-lowest))
			if got := at.VolumeBelowMM3 / l.VolumeMM3(); math.Abs(got-want) > 2e-6 {
				t.Errorf("%s tank filled to %g: share %.8f, table %.8f", name, k, got, want)
			}
			rest := l.At(highest - k*(highest-lowest))
			if got := rest.VolumeAboveMM3 / l.VolumeMM3(); math.Abs(got-want) > 2e-6 {
				t.Errorf("%s tank empty from %g: share %.8f, table %.8f", name, k, got, want)
			}
		}
	}
}

// spherical tanks: 3k²-2k³, published as .028 .104 .15625 .216 .352.
func TestLevelsOfASphericalTank(t *testing.T) {
	l := levelsOf(t, New(solids.Sphere(5, 400)), r3.Vector{X: 1, Y: 1, Z: 1})
	for k, want := range map[float64]float64{.1: .028, .2: .104, .25: .15625, .3: .216, .4: .352} {
		if got := l.At(10*k-5).VolumeBelowMM3 / l.VolumeMM3(); math.Abs(got-want) > 1e-4 {
			t.Errorf("filled to %g: share %.6f, table %.6f", k, got, want)
		}
	}
}

// Four bodies with closed forms at one height each, approached as the square of
// the facet size: with steps a quarter as long, a sixteenth of the error; or
// somewhat more, where the plane meets the facets in another place of their
// width.
func TestLevelsConverge(t *testing.T) {
	z := r3.Vector{Z: 1}
	for _, c := range []struct {
		name             string
		draw             func(n int) []r3.Vector
		dir              r3.Vector
		h                float64
		below, area, rim float64
	}{
		// Cap of height 3 of a sphere of radius 5: pi·h²(3R-h)/3 = 113.0973355;
		// rim of radius 4.
		{"sphere cap", func(n int) []r3.Vector { return solids.Sphere(5, n) }, r3.Vector{X: 1, Y: 2, Z: 2}, -2,
			113.0973355, math.Pi * 21, 2 * math.Pi * math.Sqrt(21)},
		// Ellipsoid of semi-axes 6, 4, 10, its lowest 4: pi·a·b·h²(3c-h)/(3c²) =
		// 104.5522035; there the section's semi-axes are 0.8 of 6 and 4.
		{"ellipsoid cap", func(n int) []r3.Vector { return solids.Ellipsoid(6, 4, 10, n) }, z, -6,
			104.5522035, math.Pi * 6 * 4 * .64, 0},
		// Ring of radius 10, tube 3, at its middle height: half of 1776.528792, an
		// annulus between radii 7 and 13.
		{"torus", func(n int) []r3.Vector { return solids.Torus(10, 3, n, n+2) }, z, 0,
			1776.528792 / 2, math.Pi * (13*13 - 7*7), 2 * math.Pi * (13 + 7)},
		// Lying cylinder of radius 5 filled to 3: segment of area 19.81683563 and
		// chord 9.16515139, 100 long.
		{"lying cylinder", func(n int) []r3.Vector { return solids.Prism(5, 100, n) }, r3.Vector{X: 1}, -2,
			1981.683563, 916.515139, 2 * (100 + 9.16515139)},
	} {
		var before [3]float64
		for _, n := range []int{60, 240} {
			at := levelsOf(t, New(c.draw(n)), c.dir).At(c.h)
			off := [3]float64{at.VolumeBelowMM3/c.below - 1, at.SectionAreaMM2/c.area - 1, at.LineMM/c.rim - 1}
			for i, name := range []string{"volume", "area", "line"} {
				if i == 2 && c.rim == 0 {
					continue
				}
				// pi²/3 times the square of the step is what a polygon lacks of a
				// circle's area, times two for bodies curved both ways.
				if bound := 2 * math.Pi * math.Pi / 3 * 4 / float64(n*n); math.Abs(off[i]) > bound {
					t.Errorf("%s of %d: %s off by %.3g, bound %.3g", c.name, n, name, off[i], bound)
				}
				if n == 240 && math.Abs(off[i]) > math.Abs(before[i])/4 {
					t.Errorf("%s: %s off by %.3g, with long steps by %.3g", c.name, name, off[i], before[i])
				}
			}
			before = off
		}
	}
}

// The height for the volume below a height is that height, as far as the volume
// there tells heights apart; and the volume below the height for a volume is
// that volume.
func TestHeightForIsTheInverse(t *testing.T) {
	bodies := levelBodies()
	rapid.Check(t, func(t *rapid.T) {
		m := bodies[rapid.SampledFrom([]string{"box", "tetrahedron", "sphere", "torus", "needles", "spool"}).Draw(t, "body")]
		dir := rapid.SampledFrom(levelDirections).Draw(t, "dir")
		l, err := m.Levels(dir)
		if err != nil {
			t.Fatal(err)
		}
		whole := l.VolumeMM3()
		volume := whole * rapid.OneOf(rapid.Float64Range(0, 1), rapid.Float64Range(0, 1e-9), rapid.Float64Range(1-1e-9, 1)).Draw(t, "share")
		h, err := l.HeightFor(volume)
		if err != nil {
			t.Fatal(err)
		}
		lowest, highest := l.Range()
		at := l.At(h)
		if math.Abs(at.VolumeBelowMM3-volume) > 1e-12*whole {
			t.Fatalf("volume %.17g gave height %.17g, below which is %.17g", volume, h, at.VolumeBelowMM3)
		}
		if h < lowest || h > highest {
			t.Fatalf("height %g is outside of %g to %g", h, lowest, highest)
		}
		again, err := l.HeightFor(at.VolumeBelowMM3)
		if err != nil {
			t.Fatal(err)
		}
		// dV = A·dh; where A vanishes (a tip) the volume no longer tells.
		if gap := math.Abs(again-h) * at.SectionAreaMM2; gap > 1e-12*whole {
			t.Fatalf("height %.17g came back as %.17g", h, again)
		}
	})
}

// A quarter of a tank stands at .29867 of its height or so (.25231579 at .30);
// half stands in the middle.
func TestHeightForTank(t *testing.T) {
	l := levelsOf(t, New(solids.Prism(5, 40, 4000)), r3.Vector{Y: 1})
	for k, share := range tankStrapping {
		h, err := l.HeightFor(share * l.VolumeMM3())
		if err != nil {
			t.Fatal(err)
		}
		if got := (h + 5) / 10; math.Abs(got-k) > 3e-6 {
			t.Errorf("share %.8f stands at %.8f, table %.2f", share, got, k)
		}
	}
}

func TestHeightForRefuses(t *testing.T) {
	m := New(solids.Box(r3.Vector{}, r3.Vector{X: 2, Y: 3, Z: 4}))
	l := levelsOf(t, m, r3.Vector{Z: 1})
	for _, v := range []float64{-1e-9, 24.001, math.NaN(), math.Inf(1)} {
		if h, err := l.HeightFor(v); !errors.Is(err, ErrNoSuchVolume) {
			t.Errorf("volume %g: height %g, error %v", v, h, err)
		}
	}
	for v, want := range map[float64]float64{0: 0, 24: 4, -1e-12: 0, 24 + 1e-12: 4, 6: 1} {
		if h, err := l.HeightFor(v); err != nil || math.Abs(h-want) > 1e-15 {
			t.Errorf("volume %g: height %g, error %v; want %g", v, h, err, want)
		}
	}
	inside := solids.Flip(solids.Box(r3.Vector{}, r3.Vector{X: 2, Y: 3, Z: 4}))
	if _, err := levelsOf(t, New(inside), r3.Vector{Z: 1}).HeightFor(-6); !errors.Is(err, ErrNoSuchVolume) {
		t.Errorf("inside out: error %v", err)
	}
}
