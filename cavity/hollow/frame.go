package hollow

import (
	"math"

	"github.com/golang/geo/r3"
)

// Frame is how a half is looked at: from outside onto its parting face.
// Coordinates in it are along X and Y, along the block's edges where it has a
// rectangular outline, from the model's own origin, and Z above the parting face.
type Frame struct {
	X, Y, Pull r3.Vector // unit vectors, a right-handed system
	PartingMM  float64   // height of the parting face along Pull in the model

	// near is a point of the model close to the block, so that heights do not
	// suffer from where the block sits; its coordinates in the frame are at.
	near, at r3.Vector
}

// newFrame sets a frame on a plane; x is turned into the plane.
func newFrame(pull, x, near r3.Vector, partingMM float64) Frame {
	y := pull.Cross(x).Normalize()
	f := Frame{X: y.Cross(pull), Y: y, Pull: pull, PartingMM: partingMM, near: near}
	f.at = r3.Vector{X: near.Dot(f.X), Y: near.Dot(f.Y), Z: near.Dot(pull) - partingMM}
	return f
}

// To returns a point of the model in the frame, in mm.
func (f Frame) To(p r3.Vector) r3.Vector {
	d := p.Sub(f.near)
	return r3.Vector{X: f.at.X + d.Dot(f.X), Y: f.at.Y + d.Dot(f.Y), Z: f.at.Z + d.Dot(f.Pull)}
}

// From returns a point of the frame in the model, in mm.
func (f Frame) From(p r3.Vector) r3.Vector {
	d := p.Sub(f.at)
	return f.near.Add(f.X.Mul(d.X)).Add(f.Y.Mul(d.Y)).Add(f.Pull.Mul(d.Z))
}

// acrossPull returns the model axis that is the x of a frame: +x, or +y when the
// pull is along x.
func acrossPull(pull r3.Vector) r3.Vector {
	axis := r3.Vector{X: 1}
	if math.Abs(pull.X) > 0.9 {
		axis = r3.Vector{Y: 1}
	}
	return axis.Sub(pull.Mul(axis.Dot(pull))).Normalize()
}
