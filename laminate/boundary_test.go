package laminate

import (
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"bellyline/cavity"
	"bellyline/mesh"
	"bellyline/mesh/solids"
	"bellyline/mesh/union"
)

// ring draws a torus about z, n facets round it and round its tube.
func ring(big, tube float64, n int) []r3.Vector {
	at := func(i, j int) r3.Vector {
		sinU, cosU := math.Sincos(2 * math.Pi * float64(i%n) / float64(n))
		sinW, cosW := math.Sincos(2 * math.Pi * float64(j%n) / float64(n))
		return r3.Vector{X: (big + tube*cosW) * cosU, Y: (big + tube*cosW) * sinU, Z: tube * sinW}
	}
	var corners []r3.Vector
	for i := range n {
		for j := range n {
			a, b, c, d := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
			corners = append(corners, a, b, c, a, c, d)
		}
	}
	return corners
}

func splitOne(t testing.TB, c *cavity.Cavity, l Line) *Split {
	t.Helper()
	s, err := SplitBy(t.Context(), c, []Line{l}, 1)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// A tilted line cuts the box 80 x 12.5 x 10 along a plane through its middle, rising
// by 5 over 80: belly is half; the plane is 12.5 wide and hypot(80, 5) long.
func TestTiltedLineInABox(t *testing.T) {
	c := openBox(t, 80, 12.5, 10)
	tilt := math.Atan(5.0/80) * 180 / math.Pi
	s := splitOne(t, c, Line{Boundary: Tilted{TiltDeg: tilt, HeightMM: 4}, ByPlace: true})
	long := math.Hypot(80, 5)
	equal(t, "belly", s.Colours[0].VolumeMM3, 80*12.5*4)
	equal(t, "joined", s.SplitAreaMM2, 12.5*long)
	equal(t, "line", s.LineLengthMM, 2*12.5+2*long)
	equal(t, "skin of belly", s.Colours[0].OutsideMM2, 2*80*4+80*12.5+12.5*(1.5+6.5))
	equal(t, "joined of back", s.Colours[1].JoinedMM2, 12.5*long)
	same(t, "kind", s.Line.Kind, KindTilted)
	same(t, "needs", s.Line.Needs, "")
	// Rolled by 0.2 to the left it still lies at 4 in the middle.
	s = splitOne(t, c, Line{Boundary: Tilted{RollDeg: math.Atan(0.2) * 180 / math.Pi, HeightMM: 4}, ByPlace: true})
	equal(t, "rolled, belly", s.Colours[0].VolumeMM3, 80*12.5*4)
	equal(t, "rolled, joined", s.SplitAreaMM2, 80*math.Hypot(12.5, 2.5))
	// On a hinge at the tail, 2 up, a line that rises to 6 at the nose halves what 4 does.
	s = splitOne(t, c, Line{Boundary: Tilted{Hinge: &Hinge{AlongMM: 0, HeightMM: 2}}, Share: 0.4})
	within(t, "tilt found", *s.Line.TiltDeg, math.Atan(4.0/80)*180/math.Pi, 1e-9)
	within(t, "height found", *s.Line.HeightMM, 4, 1e-9)
	within(t, "share found", s.Colours[0].Share, 0.4, 1e-11)
}

// The same line for whatever length the nose was given at: one of length 2 once made it
// twice as steep.
func TestTiltDoesNotDependOnTheLengthOfTheNose(t *testing.T) {
	box := mesh.New(solids.Block(80, 12.5, 10))
	tilt := math.Atan(5.0/80) * 180 / math.Pi
	for _, nose := range []r3.Vector{{X: 1}, {X: 2}, {X: 1e-3}, {X: 2, Z: 1}} {
		c, err := cavity.OfMesh(t.Context(), "box", box, r3.Vector{Z: 3}, nose)
		if err != nil {
			t.Fatal(err)
		}
		s := splitOne(t, c, Line{Boundary: Tilted{TiltDeg: tilt, HeightMM: 4}, ByPlace: true})
		equal(t, "belly", s.Colours[0].VolumeMM3, 80*12.5*4)
		equal(t, "joined", s.SplitAreaMM2, 12.5*math.Hypot(80, 5))
		equal(t, "skin of belly", s.Colours[0].OutsideMM2, 2*80*4+80*12.5+12.5*(1.5+6.5))
	}
}

// Hoofs of a cylinder of radius 5 and height 8 at its rim, cut off by planes through a
// diameter and past it (CRC Standard Mathematical Tables, solids; from memory):
// 2r2h/3, and h/3b [a(3r2-a2) + 3r2(b-r) phi] with a2 = b(2r-b), phi = acos((r-b)/r).
func TestTiltedLineCutsHoofs(t *testing.T) {
	const n = 720
	c, err := cavity.Open(t.Context(), openBody(t, "cylinder.stl", r3.Vector{X: 1}, lyingCylinder(5, 20, n)).Name, cavity.Options{}, r3.Vector{X: 1}, r3.Vector{Z: 1})
	if err != nil {
		t.Fatal(err)
	}
	for _, hoof := range []struct{ b, want float64 }{{5, 133.333333}, {3, 65.39303593}, {8, 244.7389744}} {
		slope := 8 / hoof.b
		s := splitOne(t, c, Line{Boundary: Tilted{TiltDeg: math.Atan(slope) * 180 / math.Pi, HeightMM: slope * (hoof.b - 5)}, ByPlace: true})
		// n chords lose no more at a rim than twice what they lose of the circle.
		within(t, "hoof", s.Colours[0].VolumeMM3, hoof.want, 3*facetLoss(n)*hoof.want)
	}
}

// A plane cuts a fraction 3k2-2k3 off an ellipsoid, k being the depth over the whole
// height along its normal, as of a sphere: stretching keeps fractions. The facets'
// own ellipsoid is cut alike but for second-order terms of the facets.
func TestPlanesThroughAnEllipsoid(t *testing.T) {
	const a, b, z, n = 30.0, 12.0, 8.0, 240
	c := openBody(t, "egg.stl", r3.Vector{Z: 1}, ellipsoid(a, b, z, n))
	part := func(k float64) float64 { return 3*k*k - 2*k*k*k }
	loss := 3 * facetLoss(n)
	for _, slope := range []float64{-0.3, 0, 0.4} {
		for _, h := range []float64{-3, 0, 2.5} {
			s := splitOne(t, c, Line{Boundary: Tilted{TiltDeg: math.Atan(slope) * 180 / math.Pi, HeightMM: h}, ByPlace: true})
			reach := math.Hypot(slope*a, z)
			within(t, "tilted", s.Colours[0].Share, part((h+reach)/(2*reach)), loss)
		}
	}
	s := splitOne(t, c, Line{Boundary: Crosswise{AlongMM: 12}, ByPlace: true})
	within(t, "tail", s.Colours[0].Share, part((12+a)/(2*a)), loss)
	within(t, "ellipse of section", s.SplitAreaMM2, math.Pi*b*z*(1-0.16), 2*loss*math.Pi*b*z)
	same(t, "tail", s.Colours[0].Name, "tail")
	same(t, "head", s.Colours[1].Name, "head")
	same(t, "needs", s.Line.Needs, "an insert or a second shot")
}

// A ring lies the same turned half round and upside down, so a line drawn through its
// middle that does so too halves it: facets, section and all. Crosswise through the
// middle it shows two circles of the tube (Pappus: 2 pi2 R r2 in all).
func TestLinesThroughARing(t *testing.T) {
	const n = 96
	c := openBody(t, "ring.stl", r3.Vector{Z: 1}, ring(10, 3, n))
	within(t, "whole", c.FillMM3, 1776.528792, 2*facetLoss(n)*1776.6)
	s := splitOne(t, c, Line{Boundary: Drawn{Points: []r2.Point{{X: -9, Y: -2}, {X: -4, Y: 1}, {X: 4, Y: -1}, {X: 9, Y: 2}}}, ByPlace: true})
	within(t, "half", s.Colours[0].Share, 0.5, 1e-7) // float32 corners
	within(t, "skins", s.Colours[0].OutsideMM2, s.Colours[1].OutsideMM2, 1e-5*s.Colours[0].OutsideMM2)
	s = splitOne(t, c, Line{Boundary: Crosswise{}, Share: 0.5})
	within(t, "two circles", s.SplitAreaMM2, 2*math.Pi*9, 2*facetLoss(n)*57)
	same(t, "pieces", s.Pieces, 2)
}

// Facets of a smooth line are its chords: a parabola through three points. The library
// of curves decides what lies between points; here it is only asked to pass through
// them, to stay within their heights, and to be cut into chords that are near it.
func TestSmoothLinePassesItsPoints(t *testing.T) {
	points := []r2.Point{{X: 0, Y: 1}, {X: 20, Y: 2}, {X: 50, Y: 7}, {X: 80, Y: 5}}
	knots, err := smooth(points)
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	for i, k := range knots {
		if k.Y < 1 || k.Y > 7 {
			t.Errorf("the line swings out to %v", k)
		}
		for _, p := range points {
			if k == p {
				found++
			}
		}
		if i > 0 && i < len(knots)-1 { // chords of twice the span lie at most 4 times as far off
			a, b := knots[i-1], knots[i+1]
			chord := a.Y + (b.Y-a.Y)*(k.X-a.X)/(b.X-a.X)
			if isPoint := k == points[1] || k == points[2]; !isPoint && math.Abs(chord-k.Y) > 4.1*chordMM {
				t.Errorf("the chord past %v misses it by %g", k, chord-k.Y)
			}
		}
	}
	same(t, "points on the line", found, len(points))
}

// A stripe of width w over a floor D below the top of a box L long, flanks leaning by
// d: L(wD + D2 tan d), joined over L(w + 2D/cos d).
func TestStripeInABox(t *testing.T) {
	c := openBox(t, 80, 12.5, 10)
	const w, deep = 4.0, 3.0
	lean := 10 * math.Pi / 180
	s := splitOne(t, c, Line{Boundary: Stripe{WidthMM: w, AcrossMM: 6, DraftDeg: 10, FloorMM: 10 - deep}, ByPlace: true})
	round := w + 2*deep/math.Cos(lean)
	equal(t, "stripe", s.Colours[1].VolumeMM3, 80*(w*deep+deep*deep*math.Tan(lean)))
	equal(t, "joined", s.SplitAreaMM2, 80*round)
	equal(t, "line", s.LineLengthMM, 2*80+2*round)
	equal(t, "skin of the stripe", s.Colours[1].OutsideMM2, 80*(w+2*deep*math.Tan(lean))+2*(w*deep+deep*deep*math.Tan(lean)))
	same(t, "names", s.Colours[0].Name+" "+s.Colours[1].Name, "body stripe")
}

// Parallel bodies inside: a box (a-2t)(b-2t)(c-2t); a cylinder pi (r-t)2 (L-2t), of n
// facets the same n-gon shrunk by t over its inner radius; a ball 4 pi (r-t)3 / 3.
func TestCoreAgainstParallelBodies(t *testing.T) {
	const n = 96
	inner := 6 * math.Cos(math.Pi/n) // of the n-gon
	gon := n * inner * inner * math.Tan(math.Pi/n)
	shrunk := (inner - 2) / inner
	for _, body := range []struct {
		c            *cavity.Cavity
		want, facets float64
	}{
		{openBox(t, 30, 16, 12), 26 * 12 * 8, 0},
		{openBody(t, "stick.stl", r3.Vector{Z: 1}, lyingCylinder(6, 40, n)), gon * shrunk * shrunk * 36, 0},
		{openBody(t, "ball.stl", r3.Vector{Z: 1}, ellipsoid(8, 8, 8, n)), 4 * math.Pi / 3 * 216, 3 * facetLoss(n) * 4 * math.Pi * 36 * 8},
	} {
		for _, step := range []float64{0.8, 0.5} {
			s := splitOne(t, body.c, Line{Boundary: Core{StepMM: step, DepthMM: 2}, ByPlace: true})
			core, skin := s.Colours[0], s.Colours[1]
			within(t, body.c.Name+" core", core.VolumeMM3, body.want, *s.Line.ErrorMM3+body.facets)
			if *s.Line.ErrorMM3 > 0.06*body.want {
				t.Errorf("%s: an error of %g in %g says nothing", body.c.Name, *s.Line.ErrorMM3, body.want)
			}
			equal(t, "sum", core.VolumeMM3+skin.VolumeMM3, body.c.FillMM3)
			equal(t, "all of the skin is the skin's", skin.OutsideMM2, body.c.Mesh.Moments().AreaMM2)
			same(t, "core's own outside", core.OutsideMM2, 0)
			same(t, "pieces", s.Pieces, 1)
			// The skin of the same thickness is the same thing from outside.
			other := splitOne(t, body.c, Line{Boundary: Skin{StepMM: step, ThicknessMM: 2}, ByPlace: true})
			same(t, "skin first", other.Colours[0].Name, "skin")
			same(t, "skin", other.Colours[0].VolumeMM3, skin.VolumeMM3)
			if err := s.Save(t.Context(), body.c, t.TempDir()); err != nil {
				t.Fatal(err)
			}
			checkSaved(t, s, readFrom(t))
		}
	}
}

// everyKind is one line of each kind that asks for a share.
func everyKind(share float64) []Line {
	return []Line{
		{Share: share},
		{Boundary: Tilted{TiltDeg: 6, RollDeg: -4}, Share: share},
		{Boundary: Drawn{Points: []r2.Point{{X: -20, Y: 1}, {X: 3, Y: -1}, {X: 25, Y: 2}}}, Share: share},
		{Boundary: Drawn{Smooth: true, Points: []r2.Point{{X: -20, Y: 1}, {X: 3, Y: -1}, {X: 25, Y: 2}}}, Share: share},
		{Boundary: Crosswise{}, Share: share},
		{Boundary: Stripe{WidthMM: 5, DraftDeg: 20}, Share: max(share, 0.75)},
		{Boundary: Core{StepMM: 1}, Share: min(share, 0.5)},
		{Boundary: Skin{StepMM: 1}, Share: max(share, 0.5)},
	}
}

// The inverse of each kind: the share that was asked for comes out, and the colours
// add up to the whole, also where parts of a model overlap.
func TestEveryKindMeetsItsShareAndAddsUp(t *testing.T) {
	egg := openBody(t, "egg.stl", r3.Vector{Z: 1}, ellipsoid(30, 12, 8, 24))
	fin := ellipsoid(8, 3, 7, 16)
	for i := range fin {
		fin[i] = fin[i].Add(r3.Vector{X: 4, Z: 6})
	}
	finned := openBody(t, "finned.stl", r3.Vector{Z: 1}, append(ellipsoid(30, 12, 8, 24), fin...))
	if !finned.Overlaps() {
		t.Fatal("the fin does not overlap")
	}
	for _, c := range []*cavity.Cavity{egg, finned} {
		skin, err := c.SkinMM2(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range everyKind(0.35) {
			s := splitOne(t, c, l)
			within(t, string(l.Kind())+" share", s.Colours[0].Share, l.Share, 1e-8)
			within(t, string(l.Kind())+" sum", s.Colours[0].VolumeMM3+s.Colours[1].VolumeMM3, c.FillMM3, 1e-9*c.FillMM3)
			within(t, string(l.Kind())+" skin", s.Colours[0].OutsideMM2+s.Colours[1].OutsideMM2, skin, 1e-9*skin)
			within(t, string(l.Kind())+" mass", *s.Colours[0].MassG+*s.Colours[1].MassG, c.FillMM3/1000, 1e-12*c.FillMM3)
		}
	}
}

// Bodies saved of every kind are closed, whatever the frame.
func TestSavedColoursOfEveryKindAreClosed(t *testing.T) {
	folder, read := t.TempDir(), readFrom(t)
	from := []*cavity.Cavity{
		openBody(t, "egg.stl", r3.Vector{Y: -2, Z: 3}, ellipsoid(30, 12, 8, 24)),
		openBody(t, "stick.stl", r3.Vector{Y: 0.1, Z: -1}, lyingCylinder(6, 90, 32)),
	}
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom(from).Draw(t, "body")
		l := rapid.SampledFrom(everyKind(between(t, "share", 0.05, 0.9))[:5]).Draw(t, "line")
		s, err := SplitBy(t.Context(), c, []Line{l}, 0)
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Save(t.Context(), c, folder); err != nil {
			t.Fatal(err)
		}
		checkSaved(t, s, read)
	})
}

// Two boxes of 30 x 16 x 12 mm, the one moved by 15 mm: together one of 45 x 16 x 12,
// whose core 2 mm deep holds 41*12*8 mm3. What is saved of both colours is closed, goes
// nowhere through itself, and adds up to the box but for its twelve edges, each of
// which loses at most half a square of one step.
func TestCoreOfPartsThatOverlapIsSaved(t *testing.T) {
	const step = 0.5
	box := openBox(t, 30, 16, 12).Mesh
	var parts []r3.Vector
	for _, along := range []float64{0, 15} {
		for i := range box.Triangles {
			a, b, c := box.Corners(i)
			moved := r3.Vector{X: along}
			parts = append(parts, a.Add(moved), b.Add(moved), c.Add(moved))
		}
	}
	c := openBody(t, "boxes.stl", r3.Vector{Z: 1}, parts)
	if !c.Overlaps() {
		t.Fatal("the boxes do not overlap")
	}
	s := splitOne(t, c, Line{Boundary: Core{StepMM: step, DepthMM: 2}, ByPlace: true})
	within(t, "core", s.Colours[0].VolumeMM3, 41*12*8, *s.Line.ErrorMM3)
	if err := s.Save(t.Context(), c, t.TempDir()); err != nil {
		t.Fatal(err)
	}
	edges := 4 * (45.0 + 16 + 12) * step * step / 2
	sum := 0.0
	for _, col := range s.Colours {
		m, err := readFrom(t)(col.File)
		if err != nil {
			t.Fatal(err)
		}
		r := m.Check()
		if !r.Closed || !r.Oriented {
			t.Errorf("%s: closed %v, oriented %v", col.Name, r.Closed, r.Oriented)
		}
		solid, err := union.Of(t.Context(), m)
		if err != nil {
			t.Fatal(err)
		}
		within(t, col.Name+" overlaps itself", solid.OverlapMM3, 0, solid.ErrorMM3)
		sum += solid.VolumeMM3
	}
	within(t, "both saved", sum, 45*16*12, edges)
	if w := s.Warnings[len(s.Warnings)-1]; !strings.HasPrefix(w, "the model's parts overlap: a saved skin has them joined as a lattice of 0.50 mm shows them") {
		t.Errorf("warned: %s", w)
	}
}

// Three colours by a level, a tilted and a drawn line; where two lines cross in the
// bait it is said, where they cross beside it it does no harm.
func TestLayersOfSeveralKinds(t *testing.T) {
	c := openBox(t, 80, 12.5, 10)
	rise := math.Atan(2.0/80) * 180 / math.Pi // from 3 to 5
	s, err := SplitBy(t.Context(), c, []Line{
		{Boundary: Drawn{Points: []r2.Point{{X: 0, Y: 6}, {X: 40, Y: 8}, {X: 80, Y: 6}}}, ByPlace: true},
		{Boundary: Level{HeightMM: 2}, ByPlace: true},
		{Boundary: Tilted{TiltDeg: rise, HeightMM: 4}, ByPlace: true},
	}, 0)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{2000, 2000, 3000, 3000} {
		equal(t, s.Colours[i].Name, s.Colours[i].VolumeMM3, want)
	}
	same(t, "kind", s.Line.Kind, KindLayers)
	same(t, "lines", len(s.Line.Lines), 3)
	if err := s.Save(t.Context(), c, t.TempDir()); err != nil {
		t.Fatal(err)
	}
	checkSaved(t, s, readFrom(t))
	_, err = SplitBy(t.Context(), c, []Line{{Boundary: Level{HeightMM: 3.5}, ByPlace: true}, {Boundary: Tilted{TiltDeg: rise, HeightMM: 4}, ByPlace: true}}, 0)
	same(t, "crossing", err.Error(), "cannot pour this: two lines cross in the bait: the level one at 3.50 mm and the tilted one at 4.00 mm")
}

func TestLinesThatCannotBe(t *testing.T) {
	c := openBox(t, 80, 12.5, 10)
	straight := []r2.Point{{X: 0, Y: 1}, {X: 1, Y: 1}}
	for want, lines := range map[string][]Line{
		"layers are made by level, tilted and drawn lines, not by crosswise":                                    {{Boundary: Crosswise{}, Share: 0.3}, {Share: 0.2}},
		"the line at 90.000 mm misses the bait, which reaches from 0.000 to 80.000 mm along the nose direction": {{Boundary: Crosswise{AlongMM: 90}, ByPlace: true}},
		"the drawn line misses the bait; it meets it when it is moved by -1.000 to 9.000 mm, not by 12.000":     {{Boundary: Drawn{Points: straight, RaiseMM: 12}, ByPlace: true}},
		"a drawn line has 2 to 1000 points, not 1":                                                              {{Boundary: Drawn{Points: straight[:1]}, ByPlace: true}},
		"a line tilts by at most 80 degrees, not by 85 and 0":                                                   {{Boundary: Tilted{TiltDeg: 85}, Share: 0.3}},
		"no depth below the skin: nothing lies 6 mm below the skin; the deepest place lies 5 mm below it":       {{Boundary: Core{StepMM: 0.5, DepthMM: 6}, ByPlace: true}},
		"the flanks of a stripe lean by 0.5 to 60 degrees, not by 0":                                            {{Boundary: Stripe{WidthMM: 3, FloorMM: 4}, ByPlace: true}},
	} {
		_, err := SplitBy(t.Context(), c, lines, 0)
		if err == nil || err.Error() != "cannot pour this: "+want {
			t.Errorf("got %v, want %s", err, want)
		}
	}
}
