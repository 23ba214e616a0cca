package hollow

import (
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/mesh"
	"bellyline/mesh/solids"
	"bellyline/mesh/stl"
)

// turnedOver turns a body about the x axis, as a half is turned over.
func turnedOver(body []r3.Vector) []r3.Vector {
	out := make([]r3.Vector, len(body))
	for i, p := range body {
		out[i] = r3.Vector{X: p.X, Y: -p.Y, Z: -p.Z}
	}
	return out
}

// moldOf cuts both halves of a block round bodies; the other half lies with its
// parting face up, turned over about x, so that bodies return to their places.
func moldOf(t *testing.T, block box, bodies ...[]r3.Vector) (half, other []r3.Vector, whole []float64) {
	t.Helper()
	half, below := sunk(t, block, bodies...)
	var over [][]r3.Vector
	for _, b := range bodies {
		over = append(over, turnedOver(b))
	}
	block.y0, block.y1 = -block.y1, -block.y0
	other, above := sunk(t, block, over...)
	for i := range below {
		whole = append(whole, below[i]+above[i])
	}
	return half, other, whole
}

// swimmers are two cavities, not alike, deeper in one half than in the other, and
// two pin holes that tell one end of the block from the other.
func swimmers() [][]r3.Vector {
	return [][]r3.Vector{
		solids.Move(ball(30, 8, 7, 36), r3.Vector{X: -5, Y: 20, Z: 1.3}), solids.Move(ball(26, 10, 6, 40), r3.Vector{X: 3, Y: -18, Z: -0.9}),
		solids.Move(stick(2.5, -8, 8, 24), r3.Vector{X: -45, Y: 35}), solids.Move(stick(2.5, -8, 8, 24), r3.Vector{X: 48, Y: -30}),
	}
}

// Each cavity of two halves holds what the body that they were cut round holds, to
// 1e-9, wherever the halves lie in their files, and comes out of --save closed.
func TestTwoHalvesMakeTheBodies(t *testing.T) {
	block := box{-60, -45, -20, 60, 45, 0}
	half, other, whole := moldOf(t, block, swimmers()...)
	all := poses()
	for i, p := range all {
		q := all[(i*5+3)%len(all)]
		if p.inches != q.inches {
			continue
		}
		t.Run(p.name+" and "+q.name, func(t *testing.T) {
			m, err := Pairing(t.Context(), find(t, p.posed(half), Options{}), find(t, q.posed(other), Options{}))
			if err != nil {
				t.Fatal(err)
			}
			pairs := m.of(Cavity)
			if len(pairs) != 2 || len(m.Pairs) != 4 || len(m.Alone)+len(m.AloneOther) != 0 {
				t.Fatalf("%d pairs of cavities of %d, %v and %v alone", len(pairs), len(m.Pairs), m.Alone, m.AloneOther)
			}
			folder := t.TempDir()
			if err := m.Save(t.Context(), folder); err != nil {
				t.Fatal(err)
			}
			for _, pair := range m.of(Cavity) {
				want := whole[0]
				if math.Abs(pair.VolumeMM3-whole[1]) < math.Abs(pair.VolumeMM3-whole[0]) {
					want = whole[1]
				}
				near(t, "offset", r2.Point{X: pair.OffsetMM[0], Y: pair.OffsetMM[1]}.Norm(), 0, 1e-3)
				near(t, "mismatch", pair.MismatchMM, 0, 1e-3)
				if !p.float32 && !q.float32 {
					near(t, "whole", pair.VolumeMM3, want, 1e-9*want)
				}
				saved, _, err := cavity.Measure(t.Context(), pair.File, cavity.Options{})
				if err != nil {
					t.Fatal(err)
				}
				if !saved.Closed || saved.Shells != 1 || saved.FillVolumeMM3 == nil {
					t.Fatalf("%s: closed %v, %d shells, %s", pair.File, saved.Closed, saved.Shells, saved.Reason)
				}
				near(t, "saved", *saved.FillVolumeMM3, pair.VolumeMM3, *saved.StepMM3+*saved.FillErrorMM3+saved.AreaMM2*1e-5)
			}
		})
	}
}

// A half whose cavities were cut 0.3 mm off along x and 0.2 along y: the pins say
// where the halves lie, and the offset is what was put in.
func TestCavitiesThatMissEachOther(t *testing.T) {
	block := box{-60, -45, -20, 60, 45, 0}
	bodies := swimmers()
	half, _, _ := moldOf(t, block, bodies...)
	for i := range 2 {
		bodies[i] = solids.Move(bodies[i], r3.Vector{X: 0.3, Y: 0.2})
	}
	_, other, _ := moldOf(t, block, bodies...)
	p := poses()[0]
	m, err := Pairing(t.Context(), find(t, p.posed(half), Options{}), find(t, p.posed(other), Options{}))
	if err != nil {
		t.Fatal(err)
	}
	if len(m.of(Cavity)) != 2 {
		t.Fatalf("pairs %+v", m.Pairs)
	}
	for _, pair := range m.of(Cavity) {
		near(t, "offset x", pair.OffsetMM[0], 0.3, 1e-6)
		near(t, "offset y", pair.OffsetMM[1], 0.2, 1e-6)
		// An outline shifted by (0.3, 0.2) misses itself by at most that shift's length,
		// and where it runs across the shift by nearly that.
		if pair.MismatchMM > math.Hypot(0.3, 0.2)+1e-9 || pair.MismatchMM < 0.25 {
			t.Errorf("mismatch %g", pair.MismatchMM)
		}
		body, err := m.Body(pair)
		if err != nil {
			t.Fatal(err)
		}
		if r := body.Check(); !r.Oriented {
			t.Errorf("cavity %d is not closed", pair.Half)
		}
		near(t, "joined", body.Moments().VolumeMM3, pair.VolumeMM3, 1e-9*pair.VolumeMM3)
	}
	if !slices.ContainsFunc(m.Half.Warnings, contains("gets a step along its seam")) {
		t.Errorf("warnings %q", m.Half.Warnings)
	}
}

// A cavity cut into one half only has no partner, and is saved under a flat lid.
func TestCavityWithoutPartner(t *testing.T) {
	block := box{-60, -45, -20, 60, 45, 0}
	bodies := swimmers()
	half, volumes := sunk(t, block, bodies...)
	_, other, _ := moldOf(t, block, bodies[0], bodies[2], bodies[3])
	p := poses()[0]
	h := find(t, p.posed(half), Options{})
	m, err := Pairing(t.Context(), h, find(t, p.posed(other), Options{}))
	if err != nil {
		t.Fatal(err)
	}
	if len(m.of(Cavity)) != 1 || len(m.Alone) != 1 {
		t.Fatalf("pairs %+v, alone %v", m.Pairs, m.Alone)
	}
	body, err := h.Body(m.Alone[0])
	if err != nil {
		t.Fatal(err)
	}
	if !body.Check().Oriented {
		t.Error("not closed")
	}
	near(t, "flat bait", body.Moments().VolumeMM3, volumes[1], 1e-9*volumes[1])
	folder := t.TempDir()
	if err := h.Save(t.Context(), folder); err != nil {
		t.Fatal(err)
	}
	if _, err := stl.ReadFile(t.Context(), filepath.Join(folder, "cavity-1.stl"), stl.ReadOptions{}); err != nil {
		t.Error(err)
	}
}

// A mold of four cavities whose gates were cut: body and runner of both halves join,
// and the saved bodies hold what the halves said.
func TestGatedHalvesJoin(t *testing.T) {
	c, _, _, _ := fourAndRunner()
	p := poses()[0]
	half := find(t, p.posed(c.corners()), Options{})
	d, _, _, _ := fourAndRunner()
	other := find(t, p.posed(d.corners()), Options{})
	m, err := Pairing(t.Context(), half, other)
	if err != nil {
		t.Fatal(err)
	}
	if len(m.of(Cavity)) != 4 || len(m.of(Runner)) != 1 {
		t.Fatalf("pairs %+v, laid %s", m.Pairs, m.How)
	}
	for _, pair := range m.of(Cavity) {
		body, err := m.Body(pair)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "joined", body.Moments().VolumeMM3, pair.VolumeMM3, 1e-6*pair.VolumeMM3)
	}
}

// A bent plate, which its mirror image cannot be laid on by turning: cavities that
// are turned copies are alike, mirrored ones are warned of, and so is one that
// lies the other way up.
func TestSidesOfABait(t *testing.T) {
	bent := func(c *carving, x, y float64, mirrored bool) {
		c.less(box{x, y, -6, x + 30, y + 8, 0})
		if mirrored {
			c.less(box{x, y + 8, -3, x + 9, y + 18, 0})
		} else {
			c.less(box{x + 21, y + 8, -3, x + 30, y + 18, 0})
		}
	}
	p := poses()[0]
	c := blockOf(box{0, 0, -20, 120, 60, 0})
	bent(c, 10, 10, false)
	bent(c, 50, 10, false)
	bent(c, 10, 35, true)
	h := find(t, p.posed(c.corners()), Options{})
	if len(h.Hollows) != 3 || len(h.Alike) != 2 || len(h.Mirrored) != 1 || !slices.ContainsFunc(h.Warnings, contains("colours swapped")) {
		t.Errorf("%d hollows, alike %v, mirrored %v, warnings %q", len(h.Hollows), h.Alike, h.Mirrored, h.Warnings)
	}
}

func contains(part string) func(string) bool {
	return func(s string) bool { return strings.Contains(s, part) }
}

// Two baits alike, the second the other way up: the side that is 6 deep lies in this
// half for the one and in the other half for the other one. Both halves are drawn
// with their parting face up, so a plan is seen mirrored in the other half.
func TestBaitsTheOtherWayUp(t *testing.T) {
	bent := func(c *carving, x, y, depth float64, mirrored bool) *carving {
		arm := box{x + 21, y + 8, -depth, x + 30, y + 18, 0}
		if mirrored {
			arm.x0, arm.x1 = x, x+9
		}
		return c.less(box{x, y, -depth, x + 30, y + 8, 0}, arm)
	}
	// Turned over about x, a plan comes to lie at -y, mirrored; so does one drawn
	// mirrored and turned by half a turn.
	over := func(c *carving, x, y, depth float64, mirrored bool) *carving {
		arm := box{x + 21, -y - 18, -depth, x + 30, -y - 8, 0}
		if mirrored {
			arm.x0, arm.x1 = x, x+9
		}
		return c.less(box{x, -y - 8, -depth, x + 30, -y, 0}, arm)
	}
	p := poses()[0]
	for _, swapped := range []bool{false, true} {
		half, other := blockOf(box{0, 0, -20, 110, 40, 0}), blockOf(box{0, -40, -20, 110, 0, 0})
		bent(half, 10, 10, 6, false)
		over(other, 10, 10, 3, false)
		if swapped {
			bent(half, 60, 10, 3, true)
			over(other, 60, 10, 6, true)
		} else {
			bent(half, 60, 10, 6, false)
			over(other, 60, 10, 3, false)
		}
		m, err := Pairing(t.Context(), find(t, p.posed(half.corners()), Options{}), find(t, p.posed(other.corners()), Options{}))
		if err != nil {
			t.Fatal(err)
		}
		if len(m.of(Cavity)) != 2 {
			t.Fatalf("swapped %v: pairs %+v, laid %s", swapped, m.Pairs, m.How)
		}
		if got := slices.ContainsFunc(m.Half.Warnings, contains("lie the other way up")); got != swapped {
			t.Errorf("swapped %v: warnings %q", swapped, m.Half.Warnings)
		}
	}
}

// A runner cut into one half only, and its gates with it.
func TestRunnerInOneHalfOnly(t *testing.T) {
	half := blockOf(box{0, 0, -20, 100, 60, 0}).less(box{20, 20, -6, 50, 36, 0}, box{50, 26, -1.5, 60, 28, 0}, box{60, 22, -5, 100, 32, 0}, box{8, 48, -8, 14, 54, 0})
	other := blockOf(box{0, -60, -20, 100, 0, 0}).less(box{20, -36, -6, 50, -20, 0}, box{8, -54, -8, 14, -48, 0})
	p := poses()[0]
	m, err := Pairing(t.Context(), find(t, p.posed(half.corners()), Options{}), find(t, p.posed(other.corners()), Options{}))
	if err != nil {
		t.Fatal(err)
	}
	for _, part := range []string{"is cut into this half only", "has 1 gate in this half and 0 in the other"} {
		if !slices.ContainsFunc(m.Half.Warnings, contains(part)) {
			t.Errorf("no %q in %q", part, m.Half.Warnings)
		}
	}
	body, err := m.Body(m.of(Cavity)[1]) // the first is the square hole that places the halves
	if err != nil {
		t.Fatal(err)
	}
	near(t, "joined", body.Moments().VolumeMM3, 30*16*12, 0.05)
}

// Halves that are drawn as they close, or one lifted off the other, stay where the
// drawing has them, though their cavities would fit better elsewhere.
func TestHalvesDrawnFaceToFace(t *testing.T) {
	block := box{-60, -45, -20, 60, 45, 0}
	half, other, _ := moldOf(t, block, swimmers()...)
	for _, lift := range []float64{0, 35} {
		closed := solids.Move(turnedOver(other), r3.Vector{Y: 0.4, Z: lift})
		m, err := Pairing(t.Context(), find(t, mesh.New(half), Options{}), find(t, mesh.New(closed), Options{}))
		if err != nil {
			t.Fatal(err)
		}
		if m.How != "as they are drawn" || len(m.of(Cavity)) != 2 {
			t.Fatalf("laid %s, pairs %+v", m.How, m.Pairs)
		}
		near(t, "offset x", m.Pairs[0].OffsetMM[0], 0, 1e-9)
		near(t, "offset y", m.Pairs[0].OffsetMM[1], 0.4, 1e-9)
	}
}

// Halves that are worn or shifted are still of one mold; those whose cavities lie
// somewhere else are not, and that comes before all else.
func TestHalvesOfTwoMolds(t *testing.T) {
	block := box{-60, -45, -20, 60, 45, 0}
	half, _, _ := moldOf(t, block, swimmers()...)
	for _, c := range []struct {
		shift     float64
		strangers bool
	}{{0.3, false}, {3, false}, {7, true}} {
		bodies := swimmers()
		bodies[0], bodies[1] = solids.Move(bodies[0], r3.Vector{X: c.shift}), solids.Move(bodies[1], r3.Vector{Y: -c.shift})
		_, other, _ := moldOf(t, block, bodies...)
		p := poses()[0]
		m, err := Pairing(t.Context(), find(t, p.posed(half), Options{}), find(t, p.posed(other), Options{}))
		if err != nil {
			t.Fatal(err)
		}
		said := len(m.Half.Warnings) > 0 && strings.Contains(m.Half.Warnings[0], "two halves of one mold")
		if said != c.strangers {
			t.Errorf("shifted by %g mm: %q, pairs %+v", c.shift, m.Half.Warnings, m.Pairs)
		}
	}
}
