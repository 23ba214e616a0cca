package laminate

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"bellyline/cavity"
)

// equal compares two ways of working out the same figure.
func equal(t rapid.TB, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-11*math.Max(1, math.Abs(want))) {
		t.Errorf("%s: got %.17g, want %.17g", what, got, want)
	}
}

// within compares to a tolerance that the caller derives.
func within(t rapid.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.12g, want %.12g within %.2g", what, got, want, tolerance)
	}
}

// tester is what tests and properties have in common.
type tester interface {
	rapid.TB
	Context() context.Context
}

// pourIt answers a job that must have an answer.
func pourIt(t tester, j Job) *Pour {
	t.Helper()
	p, err := j.Pour(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// A share of a lying cylinder and the height that it fills, as part of the
// diameter: the strapping table of a lying tank, from the segment of a circle
// (MathWorld, CircularSegment; from memory), worked out apart from this program.
var strapping = []struct{ height, share float64 }{
	{.05, .01869304}, {.10, .05204402}, {.15, .09406020}, {.20, .14237849}, {.25, .19550111},
	{.30, .25231579}, {.35, .31191883}, {.40, .37353004}, {.45, .43644429}, {.50, .5},
}

// A share of a sphere or ellipsoid: 3k^2-2k^3 of the height k.
var spheres = []struct{ height, share float64 }{{.1, .028}, {.2, .104}, {.25, .15625}, {.3, .216}, {.4, .352}, {.5, .5}}

// lineCase is a body of which the share below a height is known in closed form.
type lineCase struct {
	what          string
	cavity        *cavity.Cavity
	low, tall     float64 // lowest point and height of the body, mm
	height, share float64 // parts of the height and of the volume
	offShare      float64 // how far facets can move the share
	offMM         float64 // and the height
}

func lineCases(t *testing.T) []lineCase {
	const n, eggs = 480, 120
	cylinder := openBody(t, "cylinder.stl", r3.Vector{Z: 1}, lyingCylinder(10, 60, n))
	egg := openBody(t, "egg.stl", r3.Vector{Z: 1}, ellipsoid(30, 12, 8, eggs))
	box := openBox(t, 80, 12.5, 10)
	var cases []lineCase
	// Facets lose at most facetLoss of a part (twice on an ellipsoid), whole and
	// part alike. The height is off by that share of the volume over the section's
	// area, which is more than a third of the mean one wherever the tables reach.
	for _, s := range strapping {
		cases = append(cases, lineCase{"cylinder", cylinder, 0, 20, s.height, s.share, facetLoss(n), 3 * 20 * facetLoss(n)})
	}
	for _, s := range spheres {
		cases = append(cases, lineCase{"ellipsoid", egg, -8, 16, s.height, s.share, 2 * facetLoss(eggs), 3 * 16 * 2 * facetLoss(eggs)})
	}
	for _, share := range []float64{0.01, 0.3, 0.5, 0.77, 0.999} {
		cases = append(cases, lineCase{"box", box, 0, 10, share, share, 1e-12, 1e-11})
	}
	return cases
}

func TestLineAskedByShareAndByHeight(t *testing.T) {
	for _, c := range lineCases(t) {
		t.Run(fmt.Sprintf("%s at %g", c.what, c.height), func(t *testing.T) {
			j := paperJob(t)
			j.Cavity, j.Injector.Drive = c.cavity, Independent
			j.Lines = []Line{{Share: c.share}}
			byShare := pourIt(t, j).Line
			within(t, "height for the share", *byShare.AskedMM, c.low+c.height*c.tall, c.offMM)
			equal(t, "above the lowest point", *byShare.AskedUpMM, *byShare.AskedMM-c.low)
			equal(t, "delivered height", *byShare.DeliveredMM, *byShare.AskedMM)
			equal(t, "delivered share", byShare.DeliveredShare, c.share)

			j.Lines = []Line{{Boundary: Level{HeightMM: c.low + c.height*c.tall}, ByPlace: true}}
			byHeight := pourIt(t, j).Line
			within(t, "share for the height", byHeight.AskedShare, c.share, c.offShare)

			j.Lines = []Line{{Boundary: Level{HeightMM: *byShare.AskedMM}, ByPlace: true}}
			equal(t, "share, there and back", pourIt(t, j).Line.AskedShare, c.share)
		})
	}
}

// Ganged barrels give their bores squared, so the line moves from where it was
// drawn to the height of that share.
func TestGangedBarrelsMoveTheLine(t *testing.T) {
	for _, c := range lineCases(t) {
		t.Run(fmt.Sprintf("%s to %g", c.what, c.height), func(t *testing.T) {
			j := paperJob(t)
			j.Cavity, j.Lines = c.cavity, []Line{{Share: 0.6}}
			j.Feed, j.Injector.Barrels = nil, []Barrel{
				{Name: "left", BoreMM: 40 * math.Sqrt(c.share), CapacityML: 500},
				{Name: "right", BoreMM: 40 * math.Sqrt(1-c.share), CapacityML: 500},
			}
			j.Vessel = Vessel{HoldsML: 5000, Fill: 1}
			p := pourIt(t, j)
			within(t, "delivered height", *p.Line.DeliveredMM, c.low+c.height*c.tall, c.offMM)
			equal(t, "asked share", p.Line.AskedShare, 0.6)
			equal(t, "delivered share", p.Line.DeliveredShare, c.share)
			equal(t, "belly's share of the shot", p.Shot.Colours[0].Share, c.share)
			s, err := c.cavity.Section(t.Context(), *p.Line.DeliveredMM)
			if err != nil {
				t.Fatal(err)
			}
			equal(t, "volume below the line", s.BelowMM3/c.cavity.FillMM3, c.share)
			equal(t, "joined area", *p.Line.SplitAreaMM2, s.AreaMM2)
			moved := math.Abs(c.share-0.6) > sameShare
			if warned := strings.Contains(strings.Join(p.Warnings, "\n"), "the ganged barrels give"); warned != moved {
				t.Errorf("warned %v of a line from 0.6 to %g: %q", warned, c.share, p.Warnings)
			}
		})
	}
}

func TestLineThatMissesTheBait(t *testing.T) {
	egg := openBody(t, "egg.stl", r3.Vector{Z: 1}, ellipsoid(30, 12, 8, 24))
	for _, h := range []float64{-1000, -8.5, -8, -7.9999, 7.9999, 8, 9} {
		j := paperJob(t)
		j.Cavity, j.Lines = egg, []Line{{Boundary: Level{HeightMM: h}, ByPlace: true}}
		_, err := j.Pour(t.Context())
		want := fmt.Sprintf("cannot pour this: the line at %.3f mm misses the bait, which reaches from -8.000 to 8.000 mm", h)
		if math.Abs(h) < 8 { // a split may be that thin, a colour of a bait may not
			want = "cannot pour this: the line as drawn leaves nothing for " + map[bool]string{true: "belly", false: "back"}[h < 0]
		}
		if !errors.Is(err, ErrJob) || err.Error() != want {
			t.Errorf("got %v, want %s", err, want)
		}
		if math.Abs(h) < 8 {
			continue
		}
		_, err = SplitBy(t.Context(), egg, []Line{{Boundary: Level{HeightMM: h}, ByPlace: true}}, 0)
		if !errors.Is(err, ErrJob) || err.Error() != want {
			t.Errorf("got %v, want %s", err, want)
		}
	}
}

// Wherever a body lies and whichever way its back points, a share leads to a
// height and that height back to the share.
func TestLineInAnyDirection(t *testing.T) {
	type body struct {
		c    *cavity.Cavity
		back r3.Vector
	}
	var bodies []body
	for i, back := range []r3.Vector{{Z: 1}, {Z: -1}, {X: 1, Y: 2, Z: 3}, {X: -5, Y: 0.1, Z: 0.2}} {
		corners := ellipsoid(30, 12, 8, 20)
		for k := range corners {
			corners[k] = corners[k].Add(r3.Vector{X: float64(i) * 300, Y: 17, Z: -900})
		}
		bodies = append(bodies, body{openBody(t, "egg.stl", back, corners), back})
	}
	rapid.Check(t, func(t *rapid.T) {
		b := rapid.SampledFrom(bodies).Draw(t, "body")
		share := rapid.Float64Range(leastShare, 1-leastShare).Draw(t, "share")
		j := simpleJob(b.c)
		j.Lines = []Line{{Share: share}}
		drawn := pourIt(t, j).Line
		low, high := b.c.Heights()
		if !(low < *drawn.AskedMM && *drawn.AskedMM < high) {
			t.Errorf("height %g lies outside %g to %g", *drawn.AskedMM, low, high)
		}
		s, err := b.c.Section(t.Context(), *drawn.AskedMM)
		if err != nil {
			t.Fatal(err)
		}
		equal(t, "share below", s.BelowMM3/b.c.FillMM3, share)
		equal(t, "joined area", *drawn.SplitAreaMM2, s.AreaMM2)
	})
}

// simpleJob is two colours of one plain material with room for everything.
func simpleJob(c *cavity.Cavity) Job {
	base := cavity.Plastisol{DensityGML: 1, ExpansionPerC: 0.0005, Room: 20, Pour: 170, Ceiling: 190}
	mix := cavity.Mix{Plastisol: base}
	return Job{
		Cavity: c, Cavities: 1, Fed: 0.5, Lines: []Line{{Share: 0.5}},
		Colours:  []Colour{{Name: "belly", Mix: mix}, {Name: "back", Mix: mix}},
		Injector: Injector{Drive: Independent, Barrels: []Barrel{{Name: "left", CapacityML: 500}, {Name: "right", CapacityML: 500}}},
		Vessel:   Vessel{HoldsML: 5000, Fill: 0.5},
	}
}
