package hollow

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh/solids"
)

// fourAndRunner is a block of 120 x 80 x 20 with its parting face at z = 0. All
// hollows are boxes: a runner in the middle, 6 wide and 4 deep, that leaves
// through the side at x = 0, and four cavities of 20 x 16 x 8 on it, each through
// a gate 2 long, 2 wide and 1 deep. The volumes are those of the boxes.
func fourAndRunner() (c *carving, cavity, gate, runner float64) {
	c = blockOf(box{0, 0, -20, 120, 80, 0})
	c.less(box{0, 37, -4, 110, 43, 0})
	for _, x := range []float64{40, 80} {
		c.less(box{x, 19, -8, x + 20, 35, 0}, box{x + 9, 35, -1, x + 11, 37, 0})
		c.less(box{x, 45, -8, x + 20, 61, 0}, box{x + 9, 43, -1, x + 11, 45, 0})
	}
	return c, 20 * 16 * 8, 2 * 2 * 1, 110 * 6 * 4
}

// expect is a hollow as it was drawn.
type expect struct {
	kind   Kind
	volume float64 // mm3
	times  int
}

// wantHollows checks kinds and volumes: to 1e-9 for double coordinates, and to the
// opening's area times the spread of its rim for float32 ones, which is what the
// half itself states as its bound; rounding of floors and walls may do as much
// again to a volume as drawn, since they move as far as the rim does.
func wantHollows(t *testing.T, h *Half, p pose, want ...expect) {
	t.Helper()
	var left []Hollow
	left = append(left, h.Hollows...)
	for _, w := range want {
		for range max(w.times, 1) {
			i := slices.IndexFunc(left, func(o Hollow) bool {
				bound := 1e-9 * w.volume
				if p.float32 {
					bound += o.AreaMM2*h.view.tol/planarSteps + o.BoundMM3
				}
				return o.Kind == w.kind && math.Abs(o.VolumeMM3-w.volume) <= bound
			})
			if i < 0 {
				t.Errorf("no %s of %.10g mm3; left are %s", w.kind, w.volume, briefly(left))
				continue
			}
			left = slices.Delete(left, i, i+1)
		}
	}
	if len(left) > 0 {
		t.Errorf("nobody drew %s", briefly(left))
	}
}

func briefly(list []Hollow) string {
	var words []string
	for _, o := range list {
		words = append(words, string(o.Kind)+" "+trim(o.VolumeMM3))
	}
	return strings.Join(words, ", ")
}

// Four cavities, a runner and gates hang together and are cut apart: the parts
// add up to the whole, the whole is that of the boxes, each gate is 2 wide and 2
// mm2 large, and it is cut at the cavity.
func TestFourCavitiesOnARunner(t *testing.T) {
	c, cavity, gate, runner := fourAndRunner()
	for _, p := range poses() {
		t.Run(p.name, func(t *testing.T) {
			h := find(t, p.posed(c.corners()), Options{})
			whole := 4*cavity + 4*gate + runner
			if len(h.Hollows) != 5 || len(h.Connected) != 1 {
				t.Fatalf("%d hollows, %d connected, want 5 and 1: %s", len(h.Hollows), len(h.Connected), briefly(h.Hollows))
			}
			sum := 0.0
			for _, o := range h.Hollows {
				sum += o.VolumeMM3
				for _, g := range o.Gates {
					near(t, "gate width", g.WidthMM, 2, 1e-3)
					near(t, "gate area", g.AreaMM2, 2, 2e-3)
				}
			}
			near(t, "the parts' sum", sum, h.Connected[0].VolumeMM3, 1e-9*whole)
			if !p.float32 {
				near(t, "the whole", h.Connected[0].VolumeMM3, whole, 1e-9*whole)
			}
			for _, o := range h.Hollows[:4] {
				if o.Kind != Cavity || len(o.Gates) != 1 || o.Gates[0].To != 5 {
					t.Errorf("hollow %d is a %s with gates %v", o.ID, o.Kind, o.Gates)
				}
				// The cut lies within some thousandths of a mm of the end of the gate.
				near(t, "cavity", o.VolumeMM3, cavity, 0.02)
			}
			if len(h.Alike) != 1 || len(h.Alike[0]) != 4 || len(h.Mirrored) != 0 {
				t.Errorf("alike %v, mirrored %v", h.Alike, h.Mirrored)
			}
			if o := h.Hollows[4]; o.Kind != Runner || len(o.Gates) != 4 {
				t.Errorf("hollow 5 is a %s with %d gates", o.Kind, len(o.Gates))
			}
			near(t, "block", h.BlockMM[0]*h.BlockMM[1]*h.BlockMM[2], 120*80*20, 120*80*20*1e-5)
		})
	}
}

// Hollows that hang on nothing: half ellipsoids, half a cylinder, boxes, an
// undercut ball whose middle lies below the face, a runner that leaves through
// the side, a cavity with a bump on its floor, a through hole and a pin hole.
func TestEveryKindOfHollow(t *testing.T) {
	half, v := sunk(t, box{-80, -50, -25, 80, 50, 0},
		solids.Move(ball(25, 9, 7, 40), r3.Vector{X: -40, Y: 25}),
		solids.Move(ball(25, 9, 7, 32), r3.Vector{X: 30, Y: 25}),
		solids.Move(lying(stick(6, -20, 20, 30)), r3.Vector{X: -40, Y: -5}),
		solids.Move(ball(8, 8, 8, 28), r3.Vector{X: 10, Y: -5, Z: -4}),
		solids.Move(lying(stick(4, -15, 35, 24)), r3.Vector{X: 50, Y: -5}), // it leaves through the side
		solids.Move(stick(3, -12, 12, 32), r3.Vector{X: -60, Y: -35}),
		solids.Move(stick(4, -30, 30, 32), r3.Vector{X: 60, Y: -35}),
	)
	for _, p := range poses() {
		t.Run(p.name, func(t *testing.T) {
			h := find(t, p.posed(half), Options{})
			wantHollows(t, h, p,
				expect{Cavity, v[0], 1}, expect{Cavity, v[1], 1}, expect{Cavity, v[2], 1}, expect{Cavity, v[3], 1},
				expect{Runner, v[4], 1}, expect{Hole, v[5], 1}, expect{Hole, v[6], 1})
			for _, o := range h.Hollows {
				undercut := math.Abs(o.VolumeMM3-v[3]) < 1 // the ball's, and nobody else's
				if (o.UndercutMM2 > 1) != undercut {
					t.Errorf("%s of %.1f mm3 is undercut by %.3f mm2", o.Kind, o.VolumeMM3, o.UndercutMM2)
				}
			}
		})
	}
}

// Boxes: a cavity with a bump on its floor, one with an island that reaches the
// parting face, a groove undercut on both sides, two hollows on a lower face
// inside a recess, and a pin on the parting face. The recess is a step of the
// parting face and no hollow.
func TestBoxesOnTwoLevels(t *testing.T) {
	c := blockOf(box{0, 0, -30, 160, 100, 0})
	bump := box{25, 20, -8, 35, 26, -5}
	c.less(box{10, 10, -8, 50, 40, 0}).plus(bump)
	island := box{80, 20, -6, 90, 30, 0}
	c.less(box{65, 10, -6, 105, 40, 0}).plus(island)
	c.less(box{12, 60, -3, 40, 66, 0}, box{12, 56, -9, 40, 70, -3})
	c.less(box{60, 55, -5, 150, 95, 0}, box{65, 60, -12, 95, 90, -5}, box{110, 65, -9, 140, 85, -5})
	c.plus(box{150, 5, 0, 155, 10, 4})
	for _, p := range poses() {
		t.Run(p.name, func(t *testing.T) {
			h := find(t, p.posed(c.corners()), Options{})
			wantHollows(t, h, p,
				expect{Cavity, 40*30*8 - bump.volume(), 1}, expect{Cavity, 40*30*6 - island.volume(), 1},
				expect{Cavity, 28*6*3 + 28*14*6, 1},
				expect{Cavity, 30 * 30 * 7, 1}, expect{Cavity, 30 * 20 * 4, 1})
			if len(h.LevelsMM) != 2 {
				t.Fatalf("levels %v, want two", h.LevelsMM)
			}
			near(t, "the step", h.LevelsMM[0]-h.LevelsMM[1], 5, 1e-4)
			for _, o := range h.Hollows {
				switch {
				case math.Abs(o.RimMM+5) < 1e-3:
				case math.Abs(o.RimMM) < 1e-3:
				default:
					t.Errorf("hollow %d has its rim at %g", o.ID, o.RimMM)
				}
			}
		})
	}
}

// trim prints a number shortly.
func trim(x float64) string { return strconv.FormatFloat(x, 'g', 10, 64) }

// The sentences for what is no mold half.
func TestWhatIsNoHalf(t *testing.T) {
	plain := blockOf(box{0, 0, 0, 60, 40, 20})
	twoFaces := blockOf(box{0, 0, 0, 60, 40, 30}).less(box{10, 10, 20, 50, 30, 30}, box{10, 10, 0, 50, 30, 9})
	for _, c := range []struct {
		name    string
		corners []r3.Vector
		opts    Options
		want    error
	}{
		{"a bait", ball(40, 8, 6, 48), Options{}, ErrBait},
		{"a plain block", plain.corners(), Options{}, ErrNoParting},
		{"two faces", twoFaces.corners(), Options{}, ErrTwoFaces},
		{"a pull with nothing", twoFaces.corners(), Options{Pull: r3.Vector{X: 1}}, ErrNoParting},
	} {
		_, err := Find(t.Context(), poses()[0].posed(c.corners), c.opts)
		if !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", c.name, err, c.want)
		}
	}
	// With the pull the half with two faces is read.
	for pull, want := range map[r3.Vector]float64{{Z: 1}: 40 * 20 * 10, {Z: -1}: 40 * 20 * 9} {
		h := find(t, poses()[0].posed(twoFaces.corners()), Options{Pull: pull})
		wantHollows(t, h, poses()[0], expect{Cavity, want, 1})
	}
}
