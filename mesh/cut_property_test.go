package mesh

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"bellyline/mesh/solids"
	"bellyline/mesh/vector"
)

// drawCut draws a body and a plane that passes through its box.
func drawCut(t *rapid.T) ([]r3.Vector, Plane) {
	bodies := plainBodies()
	corners := solids.Float32(bodies[rapid.IntRange(0, len(bodies)-1).Draw(t, "body")])
	unitRange := rapid.Float64Range(-1, 1)
	normal, ok := vector.Unit(r3.Vector{X: unitRange.Draw(t, "nx"), Y: unitRange.Draw(t, "ny"), Z: unitRange.Draw(t, "nz")})
	if !ok {
		t.Skip("no direction")
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, v := range corners {
		lo, hi = min(lo, normal.Dot(v)), max(hi, normal.Dot(v))
	}
	share := rapid.Float64Range(0, 1).Draw(t, "share")
	return corners, Plane{Normal: normal, HeightMM: lo + share*(hi-lo)}
}

func rapidCut(t *rapid.T, corners []r3.Vector, p Plane) *Cut {
	cut, err := New(corners).Cut(p)
	if err != nil {
		t.Fatal(err)
	}
	return cut
}

// sameCut compares the numbers of two cuts; volumes to a share of the size cubed,
// and so on: near a face, rounding decides which areas belong to the section.
func sameCut(t *rapid.T, got, want *Cut, size, tolerance float64) {
	t.Helper()
	compare := func(what string, a, b, scale float64) {
		t.Helper()
		if !(math.Abs(a-b) <= tolerance*scale) {
			t.Fatalf("%s %.17g, want %.17g", what, a, b)
		}
	}
	compare("volume below", got.Below.VolumeMM3, want.Below.VolumeMM3, size*size*size)
	compare("volume above", got.Above.VolumeMM3, want.Above.VolumeMM3, size*size*size)
	compare("outside below", got.Below.OutsideMM2, want.Below.OutsideMM2, size*size)
	compare("outside above", got.Above.OutsideMM2, want.Above.OutsideMM2, size*size)
	compare("section", got.SectionAreaMM2, want.SectionAreaMM2, size*size)
	compare("outline", got.OutlineMM, want.OutlineMM, size)
}

// steady reports whether the numbers hardly change when the plane moves a little:
// not where it runs along a face.
func steady(t *rapid.T, corners []r3.Vector, p Plane, cut *Cut, size, tolerance float64) bool {
	for _, step := range []float64{-1e-9, 1e-9} {
		q := p
		q.HeightMM += step * size
		c := rapidCut(t, corners, q)
		if math.Abs(c.SectionAreaMM2-cut.SectionAreaMM2) > tolerance*size*size ||
			math.Abs(c.OutlineMM-cut.OutlineMM) > tolerance*size || c.Pieces != cut.Pieces {
			return false
		}
	}
	return true
}

// Turning and moving the body together with the plane changes nothing.
func TestCutTurnsWithTheBody(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		corners, p := drawCut(t)
		want := rapidCut(t, corners, p)
		size := New(corners).Bounds().Diagonal()
		if !steady(t, corners, p, want, size, 1e-4) {
			t.Skip("along a face")
		}
		r := solids.RotationOf(rapid.Uint64().Draw(t, "rotation"))
		d := r3.Vector{X: rapid.Float64Range(-100, 100).Draw(t, "x"), Y: 7, Z: -30}
		q := Plane{Normal: r.Apply(p.Normal)}
		q.HeightMM = p.HeightMM + q.Normal.Dot(d)
		got := rapidCut(t, solids.Move(solids.Turn(corners, r), d), q)
		// The turned coordinates keep about 1e-14 of the size. That moves the plane
		// against the body by as much, and steadiness bounds what follows.
		sameCut(t, got, want, size, 1e-8)
		if got.Pieces != want.Pieces {
			t.Fatalf("%d pieces, want %d", got.Pieces, want.Pieces)
		}
	})
}

// Flipping the plane swaps the parts, and turning all facets over changes signs.
func TestCutFlips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		corners, p := drawCut(t)
		want := rapidCut(t, corners, p)
		size := New(corners).Bounds().Diagonal()
		got := rapidCut(t, corners, p.Flip())
		got.Below, got.Above = got.Above, got.Below
		sameCut(t, got, want, size, 1e-13)
		if !steady(t, corners, p, want, size, 1e-4) {
			return // a sliver along a face: rounding decides whether it is a piece
		}
		if got.Pieces != want.Pieces || len(got.Loops) != len(want.Loops) {
			t.Fatalf("flipped: %d pieces, want %d", got.Pieces, want.Pieces)
		}
		inside := rapidCut(t, solids.Flip(corners), p)
		inside.Below.VolumeMM3 *= -1
		inside.Above.VolumeMM3 *= -1
		inside.SectionAreaMM2 *= -1
		sameCut(t, inside, want, size, 1e-13)
		if inside.Pieces != want.Pieces {
			t.Fatalf("inside out: %d pieces, want %d", inside.Pieces, want.Pieces)
		}
	})
}

// Cutting every facet into four leaves every number; midpoints of float32
// coordinates are exact.
func TestCutIgnoresHowFacetsAreSplit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		corners, p := drawCut(t)
		want := rapidCut(t, corners, p)
		size := New(corners).Bounds().Diagonal()
		got := rapidCut(t, solids.Subdivide(corners), p)
		sameCut(t, got, want, size, 1e-13)
	})
}

// Layers: cutting the upper half again leaves parts that add up, as laminates of
// three colours need.
func TestHalvesCanBeCutAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		corners, p := drawCut(t)
		m := New(corners)
		_, above, err := m.CutSolids(p)
		if err != nil {
			t.Fatal(err)
		}
		q := p
		q.HeightMM += rapid.Float64Range(0, 0.3).Draw(t, "step") * m.Bounds().Diagonal()
		if rapid.Bool().Draw(t, "askew") {
			q.Normal = r3.Vector{X: q.Normal.Y, Y: q.Normal.Z, Z: q.Normal.X}
		}
		again, err := above.Cut(q)
		if err != nil {
			t.Fatal(err)
		}
		first := rapidCut(t, corners, p)
		size := m.Bounds().Diagonal()
		if d := again.Below.VolumeMM3 + again.Above.VolumeMM3 - first.Above.VolumeMM3; !(math.Abs(d) <= 1e-13*size*size*size) {
			t.Fatalf("layers differ from their sum by %g", d)
		}
		middle, top, err := above.CutSolids(q)
		if err != nil {
			t.Fatal(err)
		}
		for _, layer := range []*Mesh{middle, top} {
			if !layer.Check().Oriented {
				t.Fatal("a layer is not closed")
			}
		}
		if q.Normal == p.Normal { // parallel: the layer below q is the whole's less the first
			whole := rapidCut(t, corners, q)
			if d := whole.Below.VolumeMM3 - first.Below.VolumeMM3 - again.Below.VolumeMM3; !(math.Abs(d) <= 1e-13*size*size*size) {
				t.Fatalf("the middle layer differs by %g", d)
			}
		}
	})
}
