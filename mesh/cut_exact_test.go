package mesh

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh/internal/near"
	"bellyline/mesh/solids"
)

// exactBodies are small enough for arithmetic of 300 bits.
func exactBodies() map[string][]r3.Vector {
	return map[string][]r3.Vector{
		"box":         solids.Box(r3.Vector{}, r3.Vector{X: 4, Y: 3, Z: 2}),
		"tetrahedron": solids.CornerTetrahedron(5, 4, 3),
		"icosahedron": solids.Icosahedron(6),
		"sphere":      solids.Sphere(5, 12),
		"torus":       solids.Torus(10, 3, 12, 8),
		"hollow":      solids.Join(solids.Sphere(5, 10), solids.Flip(solids.Sphere(3, 8))),
	}
}

// Volume, area and outline against clipping in 300 bits, at any place, with
// normals of any length, and for parts down to a thousandth of the size: every
// part is right to 1e-12 of itself, not of the whole.
func TestCutAgainstExactClipping(t *testing.T) {
	for name, corners := range exactBodies() {
		t.Run(name, func(t *testing.T) {
			rng := rand.New(rand.NewPCG(21, 22))
			for i := range PlaneCount(24) {
				turned := solids.Turn(corners, solids.RandomRotation(rng))
				far := []float64{0, 10, 1e3, 1e5}[i%4]
				moved := solids.Move(turned, r3.Vector{X: far, Y: -far * rng.Float64(), Z: far / 3})
				m := New(solids.Float32(moved))
				normal := r3.Vector{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}
				normal = normal.Mul(math.Exp(3 * rng.NormFloat64()))
				lo, hi := math.Inf(1), math.Inf(-1)
				for _, v := range m.Vertices {
					lo, hi = min(lo, normal.Dot(v)), max(hi, normal.Dot(v))
				}
				share := []float64{0.5, 0.9, 0.01, 0.0015}[i%4]
				p := Plane{Normal: normal, HeightMM: lo + share*(hi-lo)}
				want := measureExactly(m, p.Normal, p.HeightMM)
				cut := cutBy(t, m, p.Normal, p.HeightMM)
				below, _ := want.below.Float64()
				area, _ := want.area.Float64()
				near.Number(t, "below", cut.Below.VolumeMM3, below, 1e-12)
				// Far away, crossing points keep 1e-16 of the size, not of the distance.
				near.Number(t, "area", cut.SectionAreaMM2, area, 1e-12)
				near.Number(t, "outline", cut.OutlineMM, want.lineMM, 1e-12)
				back := cutBy(t, m, p.Normal.Mul(-1), -p.HeightMM)
				near.Number(t, "below, from the other side", back.Above.VolumeMM3, below, 1e-12)
				area2 := measureExactly(m, p.Normal.Mul(-1), -p.HeightMM)
				above, _ := area2.below.Float64()
				near.Number(t, "above", cut.Above.VolumeMM3, above, 1e-12)
			}
		})
	}
}

// A slice one or two units in the last place thick is cut off where it should
// be, and its volume is right to nearly all digits: planes a last bit from a face,
// and planes a last bit from a vertex in any direction.
func TestSlicesOfALastBit(t *testing.T) {
	box := New(solids.Box(r3.Vector{}, r3.Vector{X: 4, Y: 3, Z: 2}))
	for steps := 1; steps <= 3; steps++ {
		h := near.Nudge(2, -steps)
		cut := cutBy(t, box, r3.Vector{Z: 1}, h)
		near.Number(t, "slice off the top", cut.Above.VolumeMM3, 12*(2-h), 1e-14)
		near.Number(t, "its section", cut.SectionAreaMM2, 12, 1e-14)
		if cut := cutBy(t, box, r3.Vector{Z: 1}, near.Nudge(2, steps)); cut.Above.VolumeMM3 != 0 || cut.Pieces != 0 {
			t.Errorf("%d units above the top: %+v", steps, cut)
		}
	}
	rng := rand.New(rand.NewPCG(23, 24))
	for name, corners := range exactBodies() {
		m := New(solids.Float32(corners))
		for range PlaneCount(30) {
			normal := r3.Vector{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}
			v := m.Vertices[rng.IntN(len(m.Vertices))]
			p := Plane{Normal: normal, HeightMM: near.Nudge(normal.Dot(v), rng.IntN(7)-3)}
			want := measureExactly(m, p.Normal, p.HeightMM)
			cut := cutBy(t, m, p.Normal, p.HeightMM)
			below, _ := want.below.Float64()
			if !(math.Abs(cut.Below.VolumeMM3-below) <= 1e-12*math.Abs(below)) {
				t.Errorf("%s, %v: below %.17g, want %.17g", name, p, cut.Below.VolumeMM3, below)
			}
			MustAddUp(t, m, p)
		}
	}
}
