package layout

import (
	"context"
	"math"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/cavity/hollow"
	"bellyline/mesh"
	"bellyline/mesh/carve"
	"bellyline/mesh/union"
)

// The halves are closed, and their hollows are found again: four cavities that hold the
// bait, and a runner that holds what the plan says.
func TestHalvesHoldTheBait(t *testing.T) {
	b := laid(t, spindle(60, 8))
	l, err := NewPlan(b, DefaultPractice(), 4)
	if err != nil {
		t.Fatal(err)
	}
	halves, err := l.Halves(b)
	if err != nil {
		t.Fatal(err)
	}
	if !halves.WithRunner {
		t.Error("the halves have no runner")
	}
	cavities, runner := 0.0, 0.0
	for name, half := range map[string]*mesh.Mesh{"below": halves.Below, "above": halves.Above} {
		if r := half.Check(); !r.Closed {
			t.Fatalf("%s is not closed: %+v", name, r.Problems)
		}
		pull := r3.Vector{Z: 1}
		if name == "above" {
			pull.Z = -1
		}
		h, err := hollow.Find(context.Background(), half, hollow.Options{Pull: pull})
		if err != nil {
			t.Fatal(err)
		}
		if len(h.Hollows) != 5 {
			t.Errorf("%s has %d hollows, want 4 and a runner", name, len(h.Hollows))
		}
		for _, o := range h.Hollows {
			if o.Kind == "runner" {
				runner += o.VolumeMM3
			} else {
				cavities += o.VolumeMM3
			}
		}
	}
	if want := 4 * b.VolumeMM3; math.Abs(cavities/want-1) > 0.02 { // gates reach a little into the nose
		t.Errorf("cavities hold %.6f mm3, four baits %.6f mm3", cavities, want)
	}
	want := fillOfAll(t, l, b)
	if got := l.volume() - halves.Below.Moments().VolumeMM3 - halves.Above.Moments().VolumeMM3; math.Abs(got/want-1) > 1e-6 {
		t.Errorf("%.4f mm3 are taken from the block, want %.4f", got, want)
	}
	if math.Abs((cavities+runner)/want-1) > 1e-3 {
		t.Errorf("hollows hold %.4f mm3 of %.4f", cavities+runner, want)
	}
}

// fillOfAll is what baits, runner and gates fill together, found another way.
func fillOfAll(t *testing.T, l *Plan, b *Bait) float64 {
	t.Helper()
	all := &mesh.Mesh{}
	add := func(m *mesh.Mesh, at func(r3.Vector) r3.Vector) {
		first := int32(len(all.Vertices))
		for _, v := range m.Vertices {
			all.Vertices = append(all.Vertices, at(v))
		}
		for _, f := range m.Triangles {
			all.Triangles = append(all.Triangles, [3]int32{first + f[0], first + f[1], first + f[2]})
		}
	}
	same := func(v r3.Vector) r3.Vector { return v }
	axis := r3.Vector{Y: l.AxisMM}
	add(prismMesh(bore(axis, axis.Add(r3.Vector{X: l.Runner.LengthMM}), l.Runner.DiameterMM)), same)
	for i, c := range l.Places {
		placed := func(v r3.Vector) r3.Vector {
			p := c.inBlock(v.X, v.Y)
			return r3.Vector{X: p.X, Y: p.Y, Z: v.Z}
		}
		add(b.Mesh, placed)
		g := l.Runner.GatesMM[i/l.Rows]
		add(prismMesh(bore(placed(r3.Vector{Y: -l.Runner.LandMM - 0.4*l.Runner.DiameterMM + b.MouthMM}), placed(r3.Vector{Y: b.gateDepth(g)}), g)), same)
	}
	solid, err := union.Of(context.Background(), all)
	if err != nil {
		t.Fatal(err)
	}
	return solid.VolumeMM3
}

// prismMesh is a prism as a closed mesh.
func prismMesh(p carve.Prism) *mesh.Mesh {
	var corners []r3.Vector
	n := len(p.Ends[0])
	for k := range n {
		a, b, c, d := p.Ends[0][k], p.Ends[0][(k+1)%n], p.Ends[1][(k+1)%n], p.Ends[1][k]
		corners = append(corners, a, b, c, a, c, d)
		if k > 0 && k+1 < n {
			corners = append(corners, p.Ends[0][0], b, a, p.Ends[1][0], d, c)
		}
	}
	m := mesh.New(corners)
	if m.Moments().VolumeMM3 < 0 {
		for i, f := range m.Triangles {
			m.Triangles[i] = [3]int32{f[0], f[2], f[1]}
		}
	}
	return m
}

// Without a runner the hollows are exactly the baits.
func TestHollowBlockHoldsTheBait(t *testing.T) {
	b := laid(t, spindle(60, 8))
	l, err := NewPlan(b, DefaultPractice(), 6)
	if err != nil {
		t.Fatal(err)
	}
	solid := l.hollowBlock(b)
	want := l.volume() - 6*b.VolumeMM3
	if got := solid.Moments().VolumeMM3; math.Abs(got/want-1) > 1e-12 {
		t.Errorf("the block holds %.9f mm3 of metal, want %.9f", got, want)
	}
}
