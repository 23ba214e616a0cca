package stream

import (
	"errors"
	"math"
	"path/filepath"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/mesh"
	"bellyline/mesh/solids"
	"bellyline/mesh/stl"
)

// openBody writes corners, three a facet, and opens them as a cavity.
func openBody(t testing.TB, back, nose r3.Vector, corners []r3.Vector) *cavity.Cavity {
	t.Helper()
	path := filepath.Join(t.TempDir(), "body.stl")
	if err := stl.WriteFile(path, "body", mesh.New(corners)); err != nil {
		t.Fatal(err)
	}
	c, err := cavity.Open(t.Context(), path, cavity.Options{}, back, nose)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

var (
	xAxis = r3.Vector{X: 1}
	zAxis = r3.Vector{Z: 1}
)

// lathe turns radii at places along x into a body about the x axis, scaled by
// wide and tall; the first and the last radius are 0.
func lathe(xs, radii []float64, wide, tall float64, n int) []r3.Vector {
	at := func(i, k int) r3.Vector {
		if i == 0 || i == len(xs)-1 {
			return r3.Vector{X: xs[i]}
		}
		sin, cos := math.Sincos(2 * math.Pi * (float64(k%n) + 0.5) / float64(n))
		return r3.Vector{X: xs[i], Y: wide * radii[i] * cos, Z: tall * radii[i] * sin}
	}
	var c []r3.Vector
	for i := range len(xs) - 1 {
		for k := range n {
			a, b, d, e := at(i, k), at(i, k+1), at(i+1, k), at(i+1, k+1)
			if i > 0 {
				c = append(c, a, b, d)
			}
			if i < len(xs)-2 {
				c = append(c, b, e, d)
			}
		}
	}
	return c
}

// egg is a bait-like body, symmetrical about z = 0.
func egg(wide, tall float64) []r3.Vector {
	var xs, radii []float64
	const n = 40
	for i := range n + 1 {
		u := math.Pi * float64(i) / n
		xs, radii = append(xs, 40*(1-math.Cos(u))), append(radii, math.Sin(u)*(1+0.3*math.Cos(u)))
	}
	return lathe(xs, radii, wide, tall, 48)
}

func run(t testing.TB, c *cavity.Cavity, cond Conditions) *Result {
	t.Helper()
	r, err := Run(t.Context(), c, cond)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// even is a ratio without a band.
func even(m float64) Ratio { return Ratio{m, m, m} }

// A uniform bar gives one height all along, that of its section.
func TestBarHasOneHeight(t *testing.T) {
	t.Parallel()
	bar := openBody(t, zAxis, xAxis, solids.Box(r3.Vector{Y: -10, Z: -5}, r3.Vector{X: 80, Y: 10, Z: 5}))
	for _, m := range []float64{1, 3} {
		r := run(t, bar, Conditions{BackFeed: .4, Ratio: even(m), Stations: 12})
		want, err := PartingAt(rectangle(20, 10), .6, m, Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range r.Stations {
			absolute(t, "line", *s.LineMM, want.HeightMM, 1e-6)
			relative(t, "area", s.AreaMM2, 200, 1e-9)
			absolute(t, "flow share", s.BackFlowShare, .4, 1e-12)
			relative(t, "area share", s.BackAreaShare, 1-want.BelowAreaShare, 1e-6)
		}
	}
}

// A body symmetrical about its middle, at equal feed and viscosity: the middle, to
// 1e-6 of the height.
func TestSymmetricalBodyIsHalved(t *testing.T) {
	t.Parallel()
	c := openBody(t, zAxis, xAxis, egg(12, 8))
	r := run(t, c, Conditions{BackFeed: .5, Stations: 15})
	for _, s := range r.Stations {
		absolute(t, "line", *s.LineMM, 0, 1e-6*(s.HighMM-s.LowMM))
		absolute(t, "skin", s.SkinMM, 0, 0)
	}
	absolute(t, "rise", *r.LineRiseMM, 0, 1e-5)
}

// Exchanging the colours mirrors the answer: here by turning back the other way.
func TestExchangeMirrorsABody(t *testing.T) {
	t.Parallel()
	body := solids.Move(egg(12, 8), r3.Vector{Z: 3})
	body = append(body, solids.Box(r3.Vector{X: 30, Y: -1, Z: 8}, r3.Vector{X: 45, Y: 1, Z: 16})...)
	a := run(t, openBody(t, zAxis, xAxis, body), Conditions{BackFeed: .35, Ratio: even(2), Stations: 12})
	b := run(t, openBody(t, r3.Vector{Z: -1}, xAxis, body), Conditions{BackFeed: .65, Ratio: even(.5), Stations: 12})
	for i, s := range a.Stations {
		o := b.Stations[i]
		absolute(t, "line", *s.LineMM, -*o.LineMM, 1e-4)
		absolute(t, "area share", s.BackAreaShare, 1-o.BackAreaShare, 1e-5)
		absolute(t, "skin", s.SkinMM, o.SkinMM, 1e-4)
	}
	absolute(t, "rise", *a.LineRiseMM, -*b.LineRiseMM, 1e-4)
}

// What passes the gate stays: feed 0.3 at equal viscosities gives 0.3 of the cavity,
// though every section holds more of the smaller stream.
func TestVolumesFollowDelivery(t *testing.T) {
	t.Parallel()
	c := openBody(t, zAxis, xAxis, egg(12, 8))
	r := run(t, c, Conditions{BackFeed: .3, Stations: 12})
	absolute(t, "back's share of the cavity", r.BackShare, .3, 1e-12)
	for _, s := range r.Stations {
		if s.BackAreaShare < .33 {
			t.Errorf("at %g mm the developed section holds %g", s.XMM, s.BackAreaShare)
		}
	}
	// With a runner: delivered less kept. A slit-like runner keeps the area share of a
	// slit, .36325749 for a flow share of .3 (closed form).
	runner := Duct{Name: "runner", WidthMM: 400, DepthMM: 2, LengthMM: 4}
	r = run(t, c, Conditions{BackFeed: .3, Stations: 4, Runner: []Duct{runner}})
	kept := r.Runner[0].BackAreaShare
	absolute(t, "runner keeps", kept, .36325749, 1e-3)
	v, w := c.FillMM3, r.Runner[0].VolumeMM3
	relative(t, "runner's volume", w, 400*2*4, 1e-9)
	relative(t, "delivered", r.BackShare*v+kept*w, .3*(v+w), 1e-12)
}

// branched is a body with twin tails side by side and a fin on its back.
func branched() []r3.Vector {
	body := solids.Box(r3.Vector{X: 30, Y: -8, Z: -6}, r3.Vector{X: 70, Y: 8, Z: 6})
	for _, y := range []float64{-8, 3} {
		body = append(body, solids.Box(r3.Vector{X: 5, Y: y, Z: -2}, r3.Vector{X: 31, Y: y + 5, Z: 2})...)
	}
	return append(body, solids.Box(r3.Vector{X: 10, Y: -1, Z: 4}, r3.Vector{X: 34, Y: 1, Z: 5.5})...)
}

// Where the flow splits each branch gets what it is fed, and no colour is lost.
func TestBranchesConserveFlow(t *testing.T) {
	t.Parallel()
	c := openBody(t, zAxis, xAxis, branched())
	for _, m := range []float64{1, 3} {
		r := run(t, c, Conditions{BackFeed: .4, Ratio: even(m), Stations: 26})
		for _, s := range r.Stations {
			if s.XMM > 10 { // past there the fin has ended
				absolute(t, "back's share of the flow", s.BackFlowShare, .4, 1e-6)
			}
			if len(s.Pieces) != 3 || s.XMM <= 10 {
				continue
			}
			for _, p := range s.Pieces {
				switch {
				case p.AreaMM2 < 5 && p.BackFlowShare < .9: // the fin, high on the back
					t.Errorf("at %g mm the fin gets %g of back", s.XMM, p.BackFlowShare)
				case p.AreaMM2 > 5 && p.BackFlowShare > .4:
					t.Errorf("at %g mm a tail gets %g of back, more than the body had", s.XMM, p.BackFlowShare)
				}
			}
		}
	}
}

// Two baits in one file are no bait.
func TestTwoBodiesAreRefused(t *testing.T) {
	two := append(solids.Box(r3.Vector{}, r3.Vector{X: 20, Y: 5, Z: 5}), solids.Box(r3.Vector{X: 40}, r3.Vector{X: 60, Y: 5, Z: 5})...)
	beside := append(solids.Box(r3.Vector{}, r3.Vector{X: 20, Y: 5, Z: 5}), solids.Box(r3.Vector{Y: 40}, r3.Vector{X: 20, Y: 45, Z: 5})...)
	for name, body := range map[string][]r3.Vector{"behind": two, "beside": beside} {
		if _, err := Run(t.Context(), openBody(t, zAxis, xAxis, body), Conditions{BackFeed: .5, Stations: 20}); !errors.Is(err, ErrApart) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Sections of overlapping shells are those of what fills: their slices make up the
// cavity's volume, which is worked out another way.
func TestSlicesOfOverlappingShellsMakeTheVolume(t *testing.T) {
	t.Parallel()
	c := openBody(t, zAxis, xAxis, branched())
	r := run(t, c, Conditions{BackFeed: .5, Stations: 65, LineOnly: true}) // 1 mm each: no slice holds a step
	sum := 0.0
	for _, s := range r.Stations {
		sum += s.AreaMM2
	}
	relative(t, "volume", sum, c.FillMM3, 1e-9)
}

// A fin that gets back alone is said to be lost for the belly.
func TestLostColourIsNamed(t *testing.T) {
	t.Parallel()
	r := run(t, openBody(t, zAxis, xAxis, branched()), Conditions{BackFeed: .6, Stations: 26})
	found := false
	for _, l := range r.Lost {
		found = found || l.Colour == "belly" && l.Part == "branch" && l.FromMM < 31
	}
	if !found {
		t.Errorf("%+v", r.Lost)
	}
}

// A thicker back takes more room; the band holds the line; pushed by hand the
// thicker colour comes slower.
func TestThickerBackSpreads(t *testing.T) {
	t.Parallel()
	c := openBody(t, zAxis, xAxis, egg(12, 8))
	same := run(t, c, Conditions{BackFeed: .5, Stations: 8})
	thick := run(t, c, Conditions{BackFeed: .5, Ratio: Ratio{2, 1.5, 3}, Stations: 8})
	for i, s := range thick.Stations {
		if !(*s.LineMM < *same.Stations[i].LineMM) || !(*s.LineLowMM < *s.LineMM && *s.LineMM < *s.LineHighMM) {
			t.Errorf("at %g mm: %g alike, %g with a thick back, band %g to %g", s.XMM, *same.Stations[i].LineMM, *s.LineMM, *s.LineLowMM, *s.LineHighMM)
		}
	}
}

// The agreed delivery puts the line, in the mean, where it was drawn.
func TestAgreement(t *testing.T) {
	t.Parallel()
	c := openBody(t, zAxis, xAxis, egg(12, 8))
	h := 1.5
	for _, m := range []float64{1, 2} {
		first := run(t, c, Conditions{BackFeed: .5, Ratio: even(m), DrawnMM: &h, Stations: 16})
		again := run(t, c, Conditions{BackFeed: *first.Agree.BackFeed, Ratio: even(m), DrawnMM: &h, Stations: 16})
		if math.Abs(*again.LineRiseMM) > math.Abs(*first.LineRiseMM)/3 {
			t.Errorf("ratio %g: off by %g, with the agreed delivery of %g still by %g", m, *first.LineRiseMM, *first.Agree.BackFeed, *again.LineRiseMM)
		}
	}
}

// bend is a quarter of a ring of square section, 10 mm wide and 8 mm high, from
// (30, 0) to (0, 30) about the origin, with a straight part before it.
func bend() []r3.Vector {
	at := func(i int, outer, top bool) r3.Vector {
		r, z := 25.0, -4.0
		if outer {
			r = 35
		}
		if top {
			z = 4
		}
		if i < 0 {
			return r3.Vector{X: r, Y: -40, Z: z}
		}
		sin, cos := math.Sincos(math.Pi / 2 * float64(i) / 40)
		return r3.Vector{X: r * cos, Y: r * sin, Z: z}
	}
	var c []r3.Vector
	quad := func(a, b, d, e r3.Vector) { c = append(c, a, b, d, a, d, e) }
	for i := -1; i < 40; i++ {
		quad(at(i, false, true), at(i, true, true), at(i+1, true, true), at(i+1, false, true))
		quad(at(i, false, false), at(i+1, false, false), at(i+1, true, false), at(i, true, false))
		quad(at(i, true, false), at(i+1, true, false), at(i+1, true, true), at(i, true, true))
		quad(at(i, false, false), at(i, false, true), at(i+1, false, true), at(i+1, false, false))
	}
	quad(at(-1, false, false), at(-1, true, false), at(-1, true, true), at(-1, false, true))
	quad(at(40, false, false), at(40, false, true), at(40, true, true), at(40, true, false))
	return c
}

// Along a drawn path a bent bar has one section and one line all along.
func TestPathRoundABend(t *testing.T) {
	t.Parallel()
	var path []r3.Vector
	path = append(path, r3.Vector{X: 30, Y: -40})
	for i := range 41 {
		sin, cos := math.Sincos(math.Pi / 2 * float64(i) / 40)
		path = append(path, r3.Vector{X: 30 * cos, Y: 30 * sin})
	}
	c := openBody(t, zAxis, xAxis, bend())
	r := run(t, c, Conditions{BackFeed: .4, Ratio: even(2), Path: path, Stations: 20, LineOnly: true})
	want, err := PartingAt(rectangle(10, 8), .6, 2, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range r.Stations {
		// 40 chords in a quarter: the planes are within 1/80 of a quarter of square to them.
		relative(t, "area", s.AreaMM2, 80, 1e-3)
		absolute(t, "line", *s.LineMM, want.HeightMM, 2e-3)
	}
	if x := r.Stations[19].XMM; math.Abs(x-(40+30*math.Pi/2)*39/40) > .05 {
		t.Errorf("the last station lies %g mm along the path", x)
	}
}

func TestPathRefused(t *testing.T) {
	c := openBody(t, zAxis, xAxis, egg(12, 8))
	for name, path := range map[string][]r3.Vector{
		"upright": {{X: 1}, {X: 1, Z: 9}}, "back and forth": {{X: 0}, {X: 10}, {X: 0}},
	} {
		if _, err := Run(t.Context(), c, Conditions{BackFeed: .5, Path: path, Stations: 1}); !errors.Is(err, ErrPath) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
