package stream

import (
	"fmt"
	"math"
	"testing"
)

// slitFront is the front in a slit of gap 1 in which the lower stream takes share
// of the flow; m is its viscosity over the other's.
func slitFront(share, m float64) (f front, interface_ float64) {
	h := slitHeight(share, m)
	return newFront(slitProfile(0, 0, 1, h, viscosities{m, 1})), h
}

// Skin of a slit, one viscosity: thickness and from where on it is full, from
// u = 6z(1-z) and G = z - 3z^2 + 2z^3 (worked out apart from this program): to 1e-4
// of the gap.
func TestSlitSkin(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ share, line, thick, from float64 }{
		{.45, .466617063, .017527984, .103324520}, {.40, .432931077, .036919601, .213339264}, {.35, .398610303, .058465129, .330281746},
		{.30, .363257491, .082597527, .454651051}, {.25, .326351822, .109975336, .587284570}, {.20, .287140725, .141652059, .729520521},
	} {
		f, h := slitFront(c.share, 1)
		s := f.skinBelow(h)
		what := fmt.Sprintf("share %g", c.share)
		absolute(t, what+", line", h, c.line, 1e-8)
		absolute(t, what+", skin", s.thick, c.thick, 1e-8)
		absolute(t, what+", full from", s.from, c.from, 1e-8)
		absolute(t, what+", the front's middle", f.middle, 0.5, 1e-9)
		absolute(t, what+", slower than the mean", f.slow, 0.5-1/math.Sqrt(12), 1e-9)
		// And through the solver, in a section.
		p, err := PartingAt(rectangle(2, 1), c.share, 1, Options{insulated: true})
		if err != nil {
			t.Fatal(err)
		}
		k := p.Skin(1, .1)
		if !k.OverBelow {
			t.Errorf("%s: it lies over the larger stream", what)
		}
		absolute(t, what+", skin in a section", k.MeanMM, c.thick, 1e-4)
		absolute(t, what+", width of the face", k.FaceMM, 2, 1e-9)
	}
}

// An even split has no skin.
func TestEvenSplitHasNoSkin(t *testing.T) {
	t.Parallel()
	p, err := PartingAt(rectangle(2, 1), .5, 1, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if k := p.Skin(1, .01); k.MeanMM != 0 || k.ShownMM != 0 {
		t.Errorf("%+v", k)
	}
}

// mixed is how much of the lower colour a filled slit holds: at depth x and height
// y there is gate-born fluid where u >= mean or x <= u/mean, else what the front
// laid there, which came from the core height with the same lag.
func mixed(f front, line float64) float64 {
	const n = 4000
	sum := 0.0
	for i := range n {
		y := (float64(i) + 0.5) / n
		gate := min(1, f.speed(y)/f.mean)
		if y < line {
			sum += gate
		}
		if gate < 1 && f.source(y) < line {
			sum += 1 - gate
		}
	}
	return sum / n
}

// source is where in the core the fluid at y came from, at a wall.
func (f *front) source(y float64) float64 {
	goal := f.lag(y)
	if y < f.slow {
		return bisect(f.slow, f.middle, func(c float64) bool { return f.lag(c) > goal })
	}
	return bisect(f.middle, f.fast, func(c float64) bool { return f.lag(c) > goal })
}

// Each colour's total over the filled length is what was delivered, to 1e-3, for
// one and for two viscosities, whichever colour the front lays.
func TestSkinKeepsVolumes(t *testing.T) {
	t.Parallel()
	for _, m := range []float64{1, .2, .5, 2, 10} {
		for _, share := range []float64{.1, .2, .3, .4, .5, .7} {
			f, line := slitFront(share, m)
			absolute(t, fmt.Sprintf("m %g, share %g", m, share), mixed(f, line), share, 1e-3)
		}
	}
}

// Where the lower stream is laid over, the skin is where the front's fluid is of
// the other colour.
func TestSkinIsTheOtherColour(t *testing.T) {
	t.Parallel()
	for _, m := range []float64{1, .5, 3} {
		f, line := slitFront(.25, m)
		s := f.skinBelow(line)
		for _, y := range []float64{.3, .9} {
			if f.source(y*s.thick) < line {
				t.Errorf("m %g: at %g of the skin lies the lower colour", m, y)
			}
		}
		if s.thick < f.slow && f.source(s.thick*1.1) > line {
			t.Errorf("m %g: above the skin lies the upper colour", m)
		}
	}
}

// Nearer to the gate the skin is thinner: what follows sweeps its faster part away.
// One fluid: there u(y) = 6y(1-y) equals the filled share.
func TestSkinGrowsFromTheGate(t *testing.T) {
	t.Parallel()
	f, line := slitFront(.3, 1)
	s := f.skinBelow(line)
	for _, x := range []float64{0, .1, .3} {
		want := (1 - math.Sqrt(1-2*x/3)) / 2
		absolute(t, fmt.Sprintf("at %g", x), f.thickAt(s, x, true), want, 1e-9)
	}
	absolute(t, "past it", f.thickAt(s, .6, true), s.thick, 0)
}

// The same on the other wall when the colours are exchanged.
func TestSkinMirrors(t *testing.T) {
	t.Parallel()
	for _, m := range []float64{1, 4} {
		low, line := slitFront(.3, m)
		mirrored := newFront(slitProfile(0, 0, 1, 1-line, viscosities{1, m}))
		a, b := low.skinBelow(line), mirrored.skinAbove(1-line)
		absolute(t, fmt.Sprintf("m %g, skin", m), b.thick, a.thick, 1e-9)
		absolute(t, fmt.Sprintf("m %g, from", m), b.from, a.from, 1e-9)
		absolute(t, fmt.Sprintf("m %g, growing", m), mirrored.thickAt(b, .1, false), low.thickAt(a, .1, true), 1e-9)
	}
}
