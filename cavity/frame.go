package cavity

import (
	"errors"
	"fmt"
	"math"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/vector"
)

// Frame is how a bait lies in its model: three directions of length 1 at right angles.
type Frame struct{ Nose, Back, Left r3.Vector }

// ErrFrame is wrapped when the ways to the back and to the nose do not fit together.
var ErrFrame = errors.New("back and nose lie along one line; the back is up, the nose is forward")

// leastSine is the sine of 25 degrees: back and nose closer to one line than that
// are a slip of the pen.
const leastSine = 0.42

// NewFrame returns the frame of two directions of any length but zero. The nose is made
// square to the back. Errors wrap ErrFrame, or mesh.ErrDirection where one has no
// direction.
func NewFrame(back, nose r3.Vector) (Frame, error) {
	var unit [2]r3.Vector
	for i, v := range [2]r3.Vector{back, nose} {
		u, ok := vector.Unit(v)
		if !ok {
			return Frame{}, fmt.Errorf("%w: (%g, %g, %g)", mesh.ErrDirection, v.X, v.Y, v.Z)
		}
		unit[i] = u
	}
	f := Frame{Back: unit[0], Nose: unit[1]}
	off := f.Nose.Dot(f.Back)
	if math.Sqrt(max(0, 1-off*off)) < leastSine {
		return f, ErrFrame
	}
	if off != 0 {
		f.Nose = f.Nose.Sub(f.Back.Mul(off)).Normalize()
	}
	f.Left = f.Back.Cross(f.Nose)
	return f, nil
}
