package layout

import (
	"context"
	"errors"
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"bellyline/mesh"
	"bellyline/mesh/solids"
)

// stub is a bait by its sizes only.
func stub(length, left, right, above, below float64) *Bait {
	return &Bait{LengthMM: length, LeftMM: left, RightMM: right, AboveMM: above, BelowMM: below, VolumeMM3: length * (left + right) * (above + below) / 2}
}

// spindle is an eight-sided body along x, thick at its nose, corners in the plane z=0.
func spindle(length, radius float64) *mesh.Mesh {
	const n = 8
	ring := func(x, r float64) []r3.Vector {
		var list []r3.Vector
		for i := range n {
			s, c := math.Sincos(2 * math.Pi * float64(i) / n)
			list = append(list, r3.Vector{X: x, Y: r * c, Z: math.Round(r*s*1e6) / 1e6})
		}
		return list
	}
	rings := [][]r3.Vector{ring(length*0.2, radius*0.4), ring(length*0.6, radius*0.6), ring(length*0.9, radius)}
	tail, nose := r3.Vector{}, r3.Vector{X: length}
	var corners []r3.Vector
	for i := range n {
		k := (i + 1) % n
		corners = append(corners, tail, rings[0][k], rings[0][i])
		for j := range len(rings) - 1 {
			a, b := rings[j], rings[j+1]
			corners = append(corners, a[i], a[k], b[k], a[i], b[k], b[i])
		}
		last := rings[len(rings)-1]
		corners = append(corners, last[i], last[k], nose)
	}
	return mesh.New(corners)
}

func laid(t *testing.T, m *mesh.Mesh) *Bait {
	t.Helper()
	volume := m.Moments().VolumeMM3
	if volume <= 0 {
		t.Fatalf("the body holds %g mm3", volume)
	}
	list, err := Partings(context.Background(), m, Wanted{Back: r3.Vector{Z: 1}, Nose: r3.Vector{X: 1}, Colours: 2})
	if err != nil {
		t.Fatal(err)
	}
	b, err := NewBait(m, volume, list[0], r3.Vector{X: 1})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// Whatever the sizes: cavities keep their spacing from each other and their edge from
// the block, gates their land from the runner, pins stay clear, flows are even.
func TestNothingOverlapsAndEverythingIsInside(t *testing.T) {
	const rounding = 1e-9
	tried := 0
	size := func(t *rapid.T) {
		b := stub(rapid.Float64Range(5, 300).Draw(t, "length"), rapid.Float64Range(1, 60).Draw(t, "left"), rapid.Float64Range(1, 60).Draw(t, "right"),
			rapid.Float64Range(0, 40).Draw(t, "above"), rapid.Float64Range(0.5, 40).Draw(t, "below"))
		for range rapid.IntRange(0, 3).Draw(t, "tips") { // the bait itself is left out of their way: it has no outline
			b.tips = append(b.tips, Tip{AtMM: [2]float64{rapid.Float64Range(-b.LeftMM, b.RightMM).Draw(t, "across"), b.LengthMM * rapid.Float64Range(0.1, 1).Draw(t, "along")}})
		}
		p := DefaultPractice()
		p.SpacingMM = rapid.Float64Range(1, 20).Draw(t, "spacing")
		p.EdgeMM = rapid.Float64Range(6, 30).Draw(t, "edge")
		p.GateMM = rapid.Float64Range(2, 6).Draw(t, "gate")
		n := rapid.IntRange(1, 30).Draw(t, "cavities")
		l, err := NewPlan(b, p, n)
		if errors.Is(err, ErrSize) {
			return // no runner fills so many evenly
		}
		if err != nil {
			t.Fatal(err)
		}
		tried++
		if len(l.Places) != n {
			t.Fatalf("%d places for %d cavities", len(l.Places), n)
		}
		for i, c := range l.Places {
			for axis := range 2 {
				if c.MinMM[axis] < p.EdgeMM-rounding || c.MaxMM[axis] > l.BlockMM[axis]-p.EdgeMM+rounding {
					t.Errorf("cavity %d, %v to %v, is too near to the edge of %v", i, c.MinMM, c.MaxMM, l.BlockMM)
				}
			}
			if l.HalvesMM[0] < b.BelowMM+p.FloorMM-rounding || l.HalvesMM[1] < b.AboveMM+p.FloorMM-rounding {
				t.Errorf("halves of %v for %g and %g", l.HalvesMM, b.BelowMM, b.AboveMM)
			}
			if away := max(c.MinMM[1]-l.AxisMM, l.AxisMM-c.MaxMM[1]); math.Abs(away-l.Runner.DiameterMM/2-p.LandMM) > rounding {
				t.Errorf("cavity %d is %g mm from the runner's axis", i, away)
			}
			for k, o := range l.Places[:i] {
				apart := max(c.MinMM[0]-o.MaxMM[0], o.MinMM[0]-c.MaxMM[0], c.MinMM[1]-o.MaxMM[1], o.MinMM[1]-c.MaxMM[1])
				if apart < min(p.SpacingMM, 2*p.LandMM+l.Runner.DiameterMM)-rounding {
					t.Errorf("cavities %d and %d are %g mm apart", k, i, apart)
				}
			}
			for _, pin := range append(l.Pins, l.Bolts...) {
				dx := max(c.MinMM[0]-pin.XMM, pin.XMM-c.MaxMM[0], 0)
				dy := max(c.MinMM[1]-pin.YMM, pin.YMM-c.MaxMM[1], 0)
				if math.Hypot(dx, dy) < pin.DiameterMM/2 {
					t.Errorf("a pin cuts into cavity %d", i)
				}
			}
		}
		checkVents(t, b, l)
		if end := l.Runner.LengthMM; end > l.BlockMM[0]-p.EdgeMM+rounding {
			t.Errorf("the runner ends at %g mm in a block of %g mm", end, l.BlockMM[0])
		}
		if l.Runner.Uneven > mostUneven {
			t.Errorf("flows are uneven by %g", l.Runner.Uneven)
		}
	}
	for range 30 { // 100 each
		rapid.Check(t, size)
	}
	enough := 1000
	if testing.Short() { // a fifth of the trials
		enough = 200
	}
	if tried < enough {
		t.Errorf("only %d layouts came about", tried)
	}
}

// checkVents: a vent begins at its cavity, ends at the edge of the block, stays in it,
// and keeps clear of pins, bolts, the runner and all other cavities.
func checkVents(t *rapid.T, b *Bait, l *Plan) {
	const rounding = 1e-9
	for _, v := range l.Vents {
		from, to := v.PathMM[0], v.PathMM[len(v.PathMM)-1]
		own := l.Places[v.Cavity-1]
		if from[0] < own.MinMM[0]-rounding || from[0] > own.MaxMM[0]+rounding || from[1] < own.MinMM[1]-rounding || from[1] > own.MaxMM[1]+rounding {
			t.Errorf("the vent of cavity %d begins at %v", v.Cavity, from)
		}
		if min(to[0], to[1], l.BlockMM[0]-to[0], l.BlockMM[1]-to[1]) > rounding {
			t.Errorf("a vent ends at %v in a block of %v", to, l.BlockMM)
		}
		for i, q := range v.PathMM[1:] {
			const steps = 50
			for k := range steps + 1 {
				s := float64(k) / steps
				x, y := v.PathMM[i][0]*(1-s)+q[0]*s, v.PathMM[i][1]*(1-s)+q[1]*s
				if min(x, y, l.BlockMM[0]-x, l.BlockMM[1]-y) < -rounding || math.Abs(y-l.AxisMM) < l.Runner.DiameterMM/2 && x < l.Runner.LengthMM {
					t.Errorf("a vent runs through (%g, %g)", x, y)
				}
				for n, c := range l.Places {
					if n != v.Cavity-1 && x > c.MinMM[0]+rounding && x < c.MaxMM[0]-rounding && y > c.MinMM[1]+rounding && y < c.MaxMM[1]-rounding {
						t.Errorf("the vent of cavity %d cuts cavity %d", v.Cavity, n+1)
					}
				}
				for _, h := range append(l.Pins, l.Bolts...) {
					if math.Hypot(x-h.XMM, y-h.YMM) < (h.DiameterMM+v.WideMM)/2-rounding {
						t.Errorf("a vent cuts a pin or a bolt at (%g, %g)", h.XMM, h.YMM)
					}
				}
			}
		}
	}
}

// The flows of the ladder against a solution by Kirchhoff's laws: pressures at the
// stations from the matrix, relaxed until they stand.
func TestFlowsObeyKirchhoff(t *testing.T) {
	gates, per := []float64{2.1, 2.4, 3}, []int{2, 2, 1}
	const d, pitch, land = 6.0, 33.0, 3.0
	q := flows(d, pitch, land, gates, per)
	// Held at pressure p0 at the first station.
	p := []float64{1, 0.5, 0.5}
	g := func(i int) float64 { return float64(per[i]) / resistance(land, gates[i]) }
	seg := 1 / resistance(pitch, d)
	for range 20000 {
		p[1] = (p[0]*seg + p[2]*seg) / (2*seg + g(1))
		p[2] = p[1] * seg / (seg + g(2))
	}
	for i := range q {
		want := p[i] / resistance(land, gates[i])
		if math.Abs(q[i]/q[0]-want/(p[0]/resistance(land, gates[0]))) > 1e-9 {
			t.Errorf("station %d: %g, want %g", i, q[i]/q[0], want)
		}
	}
}

// From the table of shrinkages: S_V of S_L, and what hot plastic loses that is not
// fed (0.0006 per C over 145 C: 0.027424); worked out by hand for the reference sheet.
func TestShrink(t *testing.T) {
	for linear, volume := range map[float64]float64{0.01: 0.029701, 0.015: 0.044328, 0.02: 0.058808, 0.025: 0.073141, 0.03: 0.087327, 0.05: 0.142625} {
		if got := VolumeShrink(linear); math.Abs(got-volume) > 5e-7 {
			t.Errorf("VolumeShrink(%g) = %g, want %g", linear, got, volume)
		}
		if got := LinearShrink(volume); math.Abs(got-linear) > 5e-7 {
			t.Errorf("LinearShrink(%g) = %g, want %g", volume, got, linear)
		}
	}
	if got, err := ScaleForShrink(0.02); err != nil || math.Abs(got-1.020408) > 5e-7 {
		t.Errorf("ScaleForShrink(0.02) = %g, %v, want 1.020408", got, err)
	}
	for perC, want := range map[float64]float64{0.0005: 0.023061, 0.0006: 0.027424, 0.0007: 0.031711} {
		if got := ShrinkFromExpansion(perC, 145); math.Abs(got-want) > 5e-7 {
			t.Errorf("ShrinkFromExpansion(%g, 145) = %g, want %g", perC, got, want)
		}
	}
	if _, err := ScaleForShrink(2.5); !errors.Is(err, ErrSize) {
		t.Errorf("2.5 as a share: %v", err)
	}
}

// A box of 3 x 20 x 60 mm is 3 mm thick on its large faces; at edges balls are
// smaller. The histogram holds all of its skin.
func TestThicknessOfAPlate(t *testing.T) {
	m := refined(mesh.New(solids.Block(60, 20, 3)), 1.5)
	got, err := FindThickness(context.Background(), m, Limits{FillMM: 1, PullMM: 4}, r3.Vector{Z: 1}, r3.Vector{X: 1}, false)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(got.ThickestMM-3) > 0.01 {
		t.Errorf("thickest %g mm, want 3", got.ThickestMM)
	}
	total := 0.0
	for _, b := range got.Histogram {
		total += b.AreaMM2
	}
	if want := 2.0 * (60*20 + 60*3 + 20*3); math.Abs(total/want-1) > 0.01 {
		t.Errorf("skin of %g mm2 in the histogram, want %g", total, want)
	}
	if len(got.Thin) == 0 || got.Thin[len(got.Thin)-1].LimitMM != 4 || math.Abs(got.Thin[len(got.Thin)-1].AreaMM2/total-1) > 0.01 {
		t.Errorf("a plate of 3 mm is thinner than 4 mm all over: %+v", got.Thin)
	}
}

// refined halves edges until none is longer.
func refined(m *mesh.Mesh, longest float64) *mesh.Mesh {
	var out []r3.Vector
	var cut func(a, b, c r3.Vector)
	cut = func(a, b, c r3.Vector) {
		switch ab, bc, ca := b.Sub(a).Norm(), c.Sub(b).Norm(), a.Sub(c).Norm(); {
		case max(ab, bc, ca) <= longest:
			out = append(out, a, b, c)
		case ab >= bc && ab >= ca:
			p := a.Add(b).Mul(0.5)
			cut(a, p, c)
			cut(p, b, c)
		case bc >= ca:
			p := b.Add(c).Mul(0.5)
			cut(a, b, p)
			cut(a, p, c)
		default:
			p := c.Add(a).Mul(0.5)
			cut(a, b, p)
			cut(p, b, c)
		}
	}
	for i := range m.Triangles {
		cut(m.Corners(i))
	}
	return mesh.New(out)
}

// The gate is at the thick end, whichever way the model was drawn, and the bait is
// turned, never mirrored: its volume keeps its sign.
func TestGateIsAtTheThickEnd(t *testing.T) {
	for _, nose := range []r3.Vector{{X: 1}, {X: -1}} {
		m := spindle(60, 8)
		list, err := Partings(context.Background(), m, Wanted{Back: r3.Vector{Z: 1}, Nose: nose, Colours: 1})
		if err != nil {
			t.Fatal(err)
		}
		b, err := NewBait(m, m.Moments().VolumeMM3, list[0], nose)
		if err != nil {
			t.Fatal(err)
		}
		mo := b.Mesh.Moments()
		if mo.VolumeMM3 < 0 || mo.Centroid.Y > b.LengthMM/2 || math.Abs(b.Mesh.Bounds().Min.Y) > 1e-9 {
			t.Errorf("nose %v: volume %g, centre at %g of %g mm", nose, mo.VolumeMM3, mo.Centroid.Y, b.LengthMM)
		}
	}
}

// Two colours part along the back even where another pull is free of undercut.
func TestTwoColoursPartAlongTheBack(t *testing.T) {
	list, err := Partings(context.Background(), spindle(60, 8), Wanted{Back: r3.Vector{Y: 1}, Nose: r3.Vector{X: 1}, Colours: 2})
	if err != nil {
		t.Fatal(err)
	}
	if !list[0].ColourLine {
		t.Errorf("the first is %+v", list[0])
	}
}

// one is an injector of one barrel that keeps 4 mL.
func one(holdsML float64) []Injector {
	return []Injector{{Name: "one", Barrels: []Barrel{{HoldsML: holdsML, KeepsML: 4, Share: 1}}}}
}

// ask is a shop's usual question.
func ask() Ask {
	return Ask{Injectors: one(120), HotPerCold: 1.09, Fed: 0.5, PressureMPa: 0.2, OpenAfterS: 90, BetweenS: 30, Practice: DefaultPractice()}
}

// More barrel never means fewer cavities, the barrel is never asked for more than it
// gives, and the shot is what its parts add up to.
func TestSizeKeepsToTheBarrel(t *testing.T) {
	b := laid(t, spindle(60, 8))
	last := 0
	for _, barrel := range []float64{20, 40, 80, 160, 320} {
		a := ask()
		a.Injectors = one(barrel)
		best, _, err := Size(b, a)
		if err != nil {
			t.Fatal(err)
		}
		if best.Fits && best.BarrelUse > 1 || best.Cavities < last {
			t.Errorf("%g mL: %d cavities, use %g", barrel, best.Cavities, best.BarrelUse)
		}
		last = best.Cavities
		want := float64(best.Cavities)*b.VolumeMM3/1000*1.045 + best.Plan().Runner.VolumeML
		if math.Abs(best.ShotML-want) > 1e-9 {
			t.Errorf("a shot of %g mL, want %g", best.ShotML, want)
		}
	}
	a := ask()
	a.LargestMM = [2]float64{110, 80}
	if best, _, err := Size(b, a); err != nil || !best.Fits || (max(best.BlockMM[0], best.BlockMM[1]) > 110 || min(best.BlockMM[0], best.BlockMM[1]) > 80) {
		t.Errorf("block %v, %v", best.BlockMM, err)
	}
}

func TestSizeRefuses(t *testing.T) {
	b := stub(60, 8, 8, 6, 6)
	for name, change := range map[string]func(*Ask){
		"no barrel":               func(a *Ask) { a.Injectors = nil },
		"a barrel that keeps all": func(a *Ask) { a.Injectors = one(4) },
		"three colours":           func(a *Ask) { a.Injectors[0].Barrels = make([]Barrel, 3) },
		"no number":               func(a *Ask) { a.HotPerCold = math.NaN() },
		"negative spacing":        func(a *Ask) { a.Practice.SpacingMM = -1 },
		"a thousand cavities":     func(a *Ask) { a.Cavities = 1000 },
	} {
		a := ask()
		change(&a)
		if _, _, err := Size(b, a); !errors.Is(err, ErrSize) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
