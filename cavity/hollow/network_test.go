package hollow

import (
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/solids"
)

// kinds counts what was found.
func kinds(h *Half) (cavities, runners, holes int) {
	for _, o := range h.Hollows {
		switch o.Kind {
		case Cavity:
			cavities++
		case Runner:
			runners++
		default:
			holes++
		}
	}
	return cavities, runners, holes
}

// A runner that plastic comes into from the other half only: it is known by the
// four alike cavities, each larger than it is, that hang on it.
func TestRunnerWithoutAWayIn(t *testing.T) {
	c := blockOf(box{0, 0, -20, 120, 80, 0}).less(box{40, 38, -3, 80, 42, 0})
	for _, x := range []float64{30, 70} {
		c.less(box{x, 18, -8, x + 20, 34, 0}, box{x + 11, 34, -1, x + 13, 38, 0})
		c.less(box{x, 46, -8, x + 20, 62, 0}, box{x + 11, 42, -1, x + 13, 46, 0})
	}
	h := find(t, poses()[0].posed(c.corners()), Options{})
	if cavities, runners, holes := kinds(h); cavities != 4 || runners != 1 || holes != 0 {
		t.Errorf("%d cavities, %d runners, %d holes", cavities, runners, holes)
	}
}

// A channel that gets no wider between the side and the cavity is the runner, and
// is cut where the cavity begins. A shallow vent to the other side is not.
func TestStraightChannelAndVent(t *testing.T) {
	cavity, channel, vent := box{40, 30, -8, 80, 50, 0}, box{80, 38, -4, 120, 42, 0}, box{0, 39, -0.2, 40, 41, 0}
	c := blockOf(box{0, 0, -20, 120, 80, 0}).less(cavity, channel, vent)
	for _, p := range poses()[:8] {
		h := find(t, p.posed(c.corners()), Options{})
		if len(h.Hollows) != 2 || h.Hollows[0].Kind != Cavity || h.Hollows[1].Kind != Runner {
			t.Fatalf("%s: found %s", p.name, briefly(h.Hollows))
		}
		near(t, p.name+" cavity with its vent", h.Hollows[0].VolumeMM3, cavity.volume()+vent.volume(), 0.05)
		near(t, p.name+" gate", h.Hollows[0].Gates[0].AreaMM2, 16, 1e-3)
		near(t, p.name+" in all", h.Connected[0].VolumeMM3, cavity.volume()+vent.volume()+channel.volume(), 1e-9*7000)
	}
}

// A thin tail is no gate: a bait with a stem and a paddle on a gated runner stays
// whole, and so does one that hangs on nothing.
func TestThinTailStaysWithItsBait(t *testing.T) {
	bait := func(c *carving, x, y float64) *carving {
		return c.less(box{x, y, -8, x + 30, y + 14, 0}, box{x - 12, y + 6, -2, x, y + 8, 0}, box{x - 20, y + 2, -6, x - 12, y + 12, 0})
	}
	whole := 30*14*8.0 + 12*2*2 + 8*10*6
	c := bait(blockOf(box{0, 0, -20, 140, 90, 0}), 30, 10)
	bait(c, 30, 55).less(box{60, 61, -1.5, 70, 63, 0}, box{70, 58, -5, 140, 66, 0})
	h := find(t, poses()[0].posed(c.corners()), Options{})
	if cavities, runners, _ := kinds(h); cavities != 2 || runners != 1 {
		t.Fatalf("found %s", briefly(h.Hollows))
	}
	for _, o := range h.Hollows[:2] {
		near(t, "bait", o.VolumeMM3, whole, 0.05)
	}
	near(t, "gate width", h.Hollows[2].Gates[0].WidthMM, 2, 1e-3)
}

// A sprue that comes through the block into a runner with a flat floor upsets the
// stack of a laminate, and belongs to the runner with its whole height.
func TestSprueThroughTheFace(t *testing.T) {
	c := blockOf(box{0, 0, -20, 120, 60, 0})
	c.less(box{30, 26, -5, 90, 34, 0}, box{56, 26, -20, 64, 34, -5})
	c.less(box{8, 20, -8, 26, 40, 0}, box{26, 29, -1, 30, 31, 0}, box{94, 20, -8, 112, 40, 0}, box{90, 29, -1, 94, 31, 0})
	h := find(t, poses()[0].posed(c.corners()), Options{})
	if cavities, runners, holes := kinds(h); cavities != 2 || runners != 1 || holes != 0 {
		t.Fatalf("found %s", briefly(h.Hollows))
	}
	near(t, "all", h.Connected[0].VolumeMM3, 60*8*5+8*8*15+2*(18*20*8+4*2*1), 1e-9*10000)
	if !h.Hollows[2].Through || !slices.ContainsFunc(h.Warnings, contains("goes through the block")) {
		t.Errorf("through %v, warnings %q", h.Hollows[2].Through, h.Warnings)
	}
}

// A groove through a side that slopes is closed along the side: the truth is the
// groove's own body cut by the same planes. What that is of the volume is said.
func TestGrooveThroughASlopedSide(t *testing.T) {
	slope := mesh.Plane{Normal: r3.Vector{X: 1, Z: 0.4}, HeightMM: 40}
	cut := func(m *mesh.Mesh, planes ...mesh.Plane) *mesh.Mesh {
		for _, p := range planes {
			below, _, err := m.CutSolids(p)
			if err != nil {
				t.Fatal(err)
			}
			m = below
		}
		return m
	}
	level := mesh.Plane{Normal: r3.Vector{Z: 1}}
	body := solids.Move(lying(stick(6, -30, 80, 22)), r3.Vector{X: -5, Y: 3})
	whole := blockOf(box{-60, -40, -20, 90, 40, 20}).corners()
	for i := 0; i < len(body); i += 3 {
		whole = append(whole, body[i], body[i+2], body[i+1])
	}
	half := cut(mesh.New(whole), slope, level)
	want := cut(mesh.New(body), slope, level).Moments().VolumeMM3
	var corners []r3.Vector
	for f := range half.Triangles {
		a, b, c := half.Corners(f)
		corners = append(corners, a, b, c)
	}
	for _, p := range poses() {
		h := find(t, p.posed(corners), Options{})
		wantHollows(t, h, p, expect{Runner, want, 1})
		if !slices.ContainsFunc(h.Warnings, contains("opens in a sloped side")) {
			t.Errorf("%s: warnings %q", p.name, h.Warnings)
		}
	}
}

// A hollow that runs over a step of the parting face has its rim on both levels:
// it is closed along both, and that is said with a bound.
func TestHollowAcrossAStep(t *testing.T) {
	c := blockOf(box{0, 0, -30, 100, 60, 0}).less(box{50, 0, -6, 100, 60, 0}, box{30, 20, -14, 70, 40, -6}, box{30, 20, -6, 50, 40, 0})
	for _, p := range poses() {
		h := find(t, p.posed(c.corners()), Options{})
		if len(h.Hollows) != 1 {
			t.Fatalf("%s: found %s", p.name, briefly(h.Hollows))
		}
		o := h.Hollows[0]
		near(t, p.name, o.VolumeMM3, 20*20*14+20*20*8, o.BoundMM3)
		if !slices.ContainsFunc(h.Warnings, contains("its rim lies on parting faces")) {
			t.Errorf("%s: warnings %q", p.name, h.Warnings)
		}
		if math.Abs(o.OpeningMM2-800) > 1 {
			t.Errorf("%s: opening %g", p.name, o.OpeningMM2)
		}
	}
}
