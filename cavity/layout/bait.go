package layout

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"bellyline/mesh"
)

// Bait is a bait as it lies in a mold: its length along the gate's direction, the
// parting plane at height 0.
type Bait struct {
	Mesh      *mesh.Mesh // in mm: y from the gate at 0 to the tip, x across about the gate, z along the pull
	LengthMM  float64
	LeftMM    float64 // how far it reaches to both sides of the gate
	RightMM   float64
	AboveMM   float64 // the parting plane
	BelowMM   float64
	TipMM     float64 // where across the tip lies: the vent is there
	VolumeMM3 float64
	ShadowMM2 float64 // area seen along the pull, at most: the box's
}

// widthMM is how much room it takes along the runner, whichever way round.
func (b Bait) widthMM() float64 { return b.LeftMM + b.RightMM }

// NewBait lays a bait for a parting. The gate is at the end that holds more: on that
// side of its middle the centre of volume lies.
func NewBait(m *mesh.Mesh, volumeMM3 float64, p Parting, nose r3.Vector) (*Bait, error) {
	pull := vector(p.Pull)
	along := nose.Sub(pull.Mul(nose.Dot(pull)))
	if along.Norm() < 0.1 {
		along = pull.Ortho()
	}
	along = along.Normalize()
	across := along.Cross(pull)
	low, high := m.Span(along)
	aLow, aHigh := m.Span(across)
	if aHigh-aLow > high-low { // the longer way is the length
		along, across = across, along.Mul(-1)
		low, high, aLow, aHigh = aLow, aHigh, -high, -low
	}
	if m.Moments().Centroid.Dot(along) > (low+high)/2 { // gate at the far end: turn by half
		along, across = along.Mul(-1), across.Mul(-1)
		low, high, aLow, aHigh = -high, -low, -aHigh, -aLow
	}
	bottom, top := m.Span(pull)
	b := &Bait{
		LengthMM: high - low, AboveMM: max(top-p.HeightMM, 0), BelowMM: max(p.HeightMM-bottom, 0), VolumeMM3: volumeMM3,
		ShadowMM2: (high - low) * (aHigh - aLow),
	}
	middle := gateAcross(m, along, across, low, high)
	b.LeftMM, b.RightMM = middle-aLow, aHigh-middle
	if !(b.LengthMM > 0 && b.AboveMM+b.BelowMM > 0) || math.IsInf(b.LengthMM, 0) {
		return nil, fmt.Errorf("%w: the bait has no size", ErrSize)
	}
	tip := m.Vertices[0]
	for _, v := range m.Vertices {
		if v.Dot(along) > tip.Dot(along) {
			tip = v
		}
	}
	b.TipMM = tip.Dot(across) - middle
	b.Mesh = moved(m, func(v r3.Vector) r3.Vector {
		return r3.Vector{X: v.Dot(across) - middle, Y: v.Dot(along) - low, Z: v.Dot(pull) - p.HeightMM}
	})
	return b, nil
}

// moved returns the same facets with their corners elsewhere.
func moved(m *mesh.Mesh, place func(r3.Vector) r3.Vector) *mesh.Mesh {
	out := &mesh.Mesh{Vertices: make([]r3.Vector, len(m.Vertices)), Triangles: m.Triangles}
	for i, v := range m.Vertices {
		out.Vertices[i] = place(v)
	}
	return out
}

// Scaled returns a model drawn larger.
func Scaled(m *mesh.Mesh, by float64) *mesh.Mesh {
	return moved(m, func(p r3.Vector) r3.Vector { return p.Mul(by) })
}

// gateAcross is where the gate meets the thick end: the middle of what lies within a
// fiftieth of the length from it.
func gateAcross(m *mesh.Mesh, along, across r3.Vector, low, high float64) float64 {
	from, to := math.Inf(1), math.Inf(-1)
	for _, v := range m.Vertices {
		if v.Dot(along) <= low+(high-low)/50 {
			from, to = min(from, v.Dot(across)), max(to, v.Dot(across))
		}
	}
	return (from + to) / 2
}

// Outlines returns the bait's outline in the parting face, in the frame of the bait.
func (b *Bait) Outlines() [][]r2.Point {
	cut, err := b.Mesh.Cut(mesh.Plane{Normal: r3.Vector{Z: 1}})
	if err != nil {
		return nil
	}
	var loops [][]r2.Point
	for _, loop := range cut.Loops {
		points := make([]r2.Point, len(loop))
		for i, p := range loop {
			points[i] = r2.Point{X: p.X, Y: p.Y}
		}
		loops = append(loops, points)
	}
	return loops
}
