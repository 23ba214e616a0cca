package layout

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/vector"
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
	TipMM     float64 // where across the far end lies
	EndMM     float64 // how thick the end at the gate is
	MouthMM   float64 // from the end of the bait's box to where the gate meets it
	VolumeMM3 float64
	ShadowMM2 float64 // area seen along the pull, at most: the box's

	loops [][]r2.Point // its outline in the parting face
	tips  []Tip        // the farthest from the gate first
}

// widthMM is how much room it takes along the runner, whichever way round.
func (b Bait) widthMM() float64 { return b.LeftMM + b.RightMM }

const (
	// alike is how much thicker the far end has to be to get the gate.
	alike = 1.05
	// rounded is from which share of its length a bait's width counts as a length too:
	// it is then gated at a side that is sideGate times as thick as its ends.
	rounded, sideGate = 0.6, 1.5
)

// NewBait lays a bait for a parting, along its longer side seen along the pull, with
// its gate at the thick end, see endOf. Of ends that are alike it is the one nearer to
// the centre of volume. A bait about as wide as long may be laid across.
func NewBait(m *mesh.Mesh, volumeMM3 float64, p Parting, nose r3.Vector) (*Bait, error) {
	pull := vector.Of(p.Pull)
	along := nose.Sub(pull.Mul(nose.Dot(pull)))
	if along.Norm() < 0.1 {
		along = pull.Ortho()
	}
	along = along.Normalize()
	across := along.Cross(pull)
	long, wide := spanOf(m, along), spanOf(m, across)
	if wide > long { // the longer way is the length
		along, across = across, along.Mul(-1)
		long, wide = wide, long
	}
	b := laidEitherWay(m, along, across, p)
	if wide > rounded*long {
		if o := laidEitherWay(m, across, along.Mul(-1), p); o.EndMM > sideGate*b.EndMM {
			b = o
		}
	}
	b.VolumeMM3 = volumeMM3
	if !(b.LengthMM > 0 && b.AboveMM+b.BelowMM > 0) || math.IsInf(b.LengthMM, 0) {
		return nil, fmt.Errorf("%w: the bait has no size", ErrSize)
	}
	b.tips = b.findTips(b.loops)
	return b, nil
}

func spanOf(m *mesh.Mesh, dir r3.Vector) float64 {
	low, high := m.Span(dir)
	return high - low
}

// laidEitherWay lays a bait with its gate at one end of a direction.
func laidEitherWay(m *mesh.Mesh, along, across r3.Vector, p Parting) *Bait {
	if low, high := m.Span(along); m.Moments().Centroid.Dot(along) > (low+high)/2 {
		along, across = along.Mul(-1), across.Mul(-1)
	}
	near, far := laidAlong(m, along, across, p), laidAlong(m, along.Mul(-1), across.Mul(-1), p)
	if far.EndMM > alike*near.EndMM {
		return far
	}
	return near
}

// laidAlong lays a bait with the gate at the low end of a direction.
func laidAlong(m *mesh.Mesh, along, across r3.Vector, p Parting) *Bait {
	pull := vector.Of(p.Pull)
	low, high := m.Span(along)
	bottom, top := m.Span(pull)
	b := &Bait{LengthMM: high - low, AboveMM: max(top-p.HeightMM, 0), BelowMM: max(p.HeightMM-bottom, 0)}
	lay := func(middle float64) {
		b.Mesh = moved(m, func(v r3.Vector) r3.Vector {
			return r3.Vector{X: v.Dot(across) - middle, Y: v.Dot(along) - low, Z: v.Dot(pull) - p.HeightMM}
		})
		b.loops = b.outlines()
	}
	aLow, aHigh := m.Span(across)
	lay((aLow + aHigh) / 2)
	end := b.endOf()
	middle := (aLow+aHigh)/2 + end.across
	lay(middle)
	b.EndMM, b.MouthMM = end.thickMM, end.mouthMM
	b.LeftMM, b.RightMM = middle-aLow, aHigh-middle
	b.ShadowMM2 = b.LengthMM * (b.LeftMM + b.RightMM)
	for i, v := range b.Mesh.Vertices {
		if i == 0 || v.Y > b.LengthMM-1e-9*b.LengthMM {
			b.TipMM = v.X
		}
	}
	return b
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

// outlines returns the bait's outline in the parting face, in the frame of the bait. A
// bait that lies in one half only touches the face with a side: its outline is taken a
// hair inside.
func (b *Bait) outlines() [][]r2.Point {
	const hair = 1e-3 // of its height
	for _, height := range []float64{0, hair * b.AboveMM, -hair * b.BelowMM} {
		cut, err := b.Mesh.Cut(mesh.Plane{Normal: r3.Vector{Z: 1}, HeightMM: height})
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
		if len(loops) > 0 {
			return loops
		}
	}
	return nil
}
