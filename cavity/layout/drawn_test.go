package layout

import (
	"context"
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"bellyline/mesh"
)

// cellMM is the side of a cell of a drawn bait.
const cellMM = 2.0

// drawn is a bait of level height whose outline is drawn in cells: rows from the tail
// (x = 0) on, columns along y, its middle in the plane z = 0.
func drawn(height float64, rows ...string) *mesh.Mesh {
	filled := func(i, j int) bool {
		return i >= 0 && i < len(rows) && j >= 0 && j < len(rows[i]) && rows[i][j] == '#'
	}
	var corners []r3.Vector
	quad := func(a, b, c, d r3.Vector) { corners = append(corners, a, b, c, a, c, d) }
	for i, row := range rows {
		for j := range row {
			if !filled(i, j) {
				continue
			}
			at := func(di, dj, k int) r3.Vector {
				return r3.Vector{X: float64(i+di) * cellMM, Y: float64(j+dj) * cellMM, Z: height * (float64(k) - 0.5)}
			}
			quad(at(0, 0, 1), at(1, 0, 1), at(1, 1, 1), at(0, 1, 1))
			quad(at(0, 0, 0), at(0, 1, 0), at(1, 1, 0), at(1, 0, 0))
			if !filled(i-1, j) {
				quad(at(0, 0, 0), at(0, 0, 1), at(0, 1, 1), at(0, 1, 0))
			}
			if !filled(i+1, j) {
				quad(at(1, 0, 0), at(1, 1, 0), at(1, 1, 1), at(1, 0, 1))
			}
			if !filled(i, j-1) {
				quad(at(0, 0, 0), at(1, 0, 0), at(1, 0, 1), at(0, 0, 1))
			}
			if !filled(i, j+1) {
				quad(at(0, 1, 0), at(0, 1, 1), at(1, 1, 1), at(1, 1, 0))
			}
		}
	}
	return mesh.New(corners)
}

// claw has a body of three cells with two claws that hold more than it, and are
// longer than its head by two cells.
func claw(height float64) *mesh.Mesh {
	return drawn(height,
		"##.....##",
		"##.....##",
		"##.###.##",
		"##.###.##",
		"#########",
		"#########",
		"...###...",
		"...###...",
		"...###...",
		"...###...",
	)
}

// hook has a body of four cells and a tail of two that curls back beside it.
func hook(height float64) *mesh.Mesh {
	return drawn(height,
		"########",
		"##..####",
		"##..####",
		"##..####",
		"##..####",
		"##..####",
		"....####",
		"....####",
		"....####",
		"....####",
		"....####",
		"....####",
		"....####",
		"....####",
	)
}

func laidFlat(t *testing.T, m *mesh.Mesh) *Bait {
	t.Helper()
	if r := m.Check(); !r.Closed {
		t.Fatalf("the drawn bait is not closed: %+v", r.Problems)
	}
	b, err := NewBait(m, m.Moments().VolumeMM3, Parting{Pull: [3]float64{0, 0, 1}}, r3.Vector{X: 1})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// The gate goes to the middle of the body's free end, which takes a ball of three cells,
// and not between the claws, which take one of two and hold more.
func TestGateIsAtTheThickEndNotBetweenClaws(t *testing.T) {
	b := laidFlat(t, claw(10))
	if math.Abs(b.LeftMM-b.RightMM) > 1e-9 {
		t.Errorf("the gate is %g and %g mm from the sides", b.LeftMM, b.RightMM)
	}
	if b.MouthMM > 1e-9 || b.EndMM < 2*cellMM {
		t.Errorf("mouth at %g mm, thickness %g mm", b.MouthMM, b.EndMM)
	}
	if len(spans(b.loops, cellMM/2)) != 1 { // the body is one piece there, the claws are two
		t.Error("the gate is at the claws")
	}
}

// A gate into the body between longer claws has to reach in: two cells, from the drawing.
func TestGateReachesIn(t *testing.T) {
	b := laidFlat(t, claw(10))
	b.Mesh = moved(b.Mesh, func(v r3.Vector) r3.Vector { return r3.Vector{X: -v.X, Y: b.LengthMM - v.Y, Z: v.Z} })
	b.loops = b.outlines()
	if got := b.mouth(0, 3*cellMM); math.Abs(got-2*cellMM) > 1e-9 {
		t.Errorf("the mouth is %g mm in, want %g", got, 2*cellMM)
	}
}

// Ends from the drawings: two claws and the head between them; of the hook only its
// far end, though it curls back.
func TestTips(t *testing.T) {
	b := laidFlat(t, claw(4))
	if len(b.tips) != 3 {
		t.Fatalf("%d tips, want two claws and the head: %+v", len(b.tips), b.tips)
	}
	for i, want := range [3]struct{ along, across float64 }{{20, 8}, {20, 8}, {16, 0}} {
		tip := b.tips[i]
		if math.Abs(tip.AtMM[1]-want.along) > 0.5 || math.Abs(math.Abs(tip.AtMM[0])-want.across) > 3 {
			t.Errorf("tip %d at %v, want %+v", i+1, tip.AtMM, want)
		}
		if math.Abs(tip.ThickMM-4) > 1e-6 {
			t.Errorf("tip %d is %g mm thick, want 4", i+1, tip.ThickMM)
		}
	}
	curl := laidFlat(t, hook(4))
	if len(curl.tips) != 1 {
		t.Fatalf("the hook has %d tips, want 1: %+v", len(curl.tips), curl.tips)
	}
	// The end of the tail: eight cells from the gate's end.
	if at := curl.tips[0].AtMM; math.Abs(at[1]-8*cellMM) > 0.5 {
		t.Errorf("the hook's tip is at %v", at)
	}
}

// The farthest tip has a vent always, others when they are thin; vents do not run
// through the bait.
func TestVentsOfTips(t *testing.T) {
	for _, x := range []struct{ thin, want float64 }{{6, 3}, {3, 1}} {
		b := laidFlat(t, claw(4))
		p := DefaultPractice()
		p.ThinTipMM = x.thin
		l, err := NewPlan(b, p, 6)
		if err != nil {
			t.Fatal(err)
		}
		if l.VentedTips() != int(x.want) || len(l.Vents) != 6*int(x.want) {
			t.Errorf("under %g mm: %d tips with %d vents in 6 cavities, want %g tips", x.thin, l.VentedTips(), len(l.Vents), x.want)
		}
		for _, v := range l.Vents {
			checkVentIsOutside(t, l, b, v)
		}
	}
	b := laidFlat(t, hook(4))
	l, err := NewPlan(b, DefaultPractice(), 5)
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range l.Vents {
		checkVentIsOutside(t, l, b, v)
	}
}

func checkVentIsOutside(t *testing.T, l *Plan, b *Bait, v Vent) {
	t.Helper()
	c := l.Places[v.Cavity-1]
	for i, q := range v.PathMM[1:] {
		for k := 1; k <= 40; k++ {
			s := float64(k) / 40
			at := r2.Point{X: v.PathMM[i][0]*(1-s) + q[0]*s - c.XMM, Y: v.PathMM[i][1]*(1-s) + q[1]*s - c.YMM}
			if c.Turned {
				at = at.Mul(-1)
			}
			if windsRound(b.loops, at) {
				t.Errorf("the vent of cavity %d runs through the bait at %v", v.Cavity, at)
				return
			}
		}
	}
}

// A level body parts best in a plane across its height; what speaks against others is
// told in shares that can be worked out from its sides. Its colour line lies as far
// from the plane as was asked.
func TestPartingsAreScored(t *testing.T) {
	line := 1.5
	list, err := Partings(context.Background(), spindle(60, 8), Wanted{Back: r3.Vector{Z: 1}, Nose: r3.Vector{X: 1}, Colours: 2, LineMM: line})
	if err != nil {
		t.Fatal(err)
	}
	last, atLine := -1.0, false
	for i, p := range list {
		if p.Number != i+1 || p.Penalty.Sum < last {
			t.Errorf("parting %d: number %d, %g after %g", i+1, p.Number, p.Penalty.Sum, last)
		}
		last = p.Penalty.Sum
		if sum := p.Penalty.Undercut + p.Penalty.Uneven + p.Penalty.Line; math.Abs(sum-p.Penalty.Sum) > 1e-9 {
			t.Errorf("%s: %g in all, parts make %g", p.Name, p.Penalty.Sum, sum)
		}
		if want := 100 * p.UnevenMM / 60; math.Abs(p.Penalty.Uneven-want) > 1e-9 { // 60 mm is the longest side
			t.Errorf("%s: uneven %g, want %g", p.Name, p.Penalty.Uneven, want)
		}
		switch {
		case !p.ColourLine:
			if p.LineAwayMM != nil || p.Penalty.Line != 100 {
				t.Errorf("%s: the line stands on edge: %+v", p.Name, p)
			}
		case math.Abs(*p.LineAwayMM-math.Abs(p.HeightMM*p.Pull[2]-line)) > 1e-9:
			t.Errorf("%s: the line is %g mm away from %g", p.Name, *p.LineAwayMM, p.HeightMM)
		default:
			atLine = atLine || *p.LineAwayMM < 1e-9
		}
	}
	if !atLine {
		t.Error("no candidate lies at the colour line")
	}
}
