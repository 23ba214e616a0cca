package cavity

import (
	"errors"
	"fmt"
	"math"
)

// Channel is one part of the way from the injector to the cavities, or several
// alike. It is given as a volume, by its size, or by the weight of its trimmings.
type Channel struct {
	Name     string  // runner, sprue, gate, plug: the plug is what the block between injector and mold keeps
	Count    int     // how many alike; 0 means 1
	VolumeML float64 // filled hot, each
	MassG    float64 // weighed cold, each; used when VolumeML is 0
	Source   string  // how it is known, in words: "model runner.stl", "60 mm of 8 mm round"
}

// Feed is everything that a shot fills besides the cavities.
type Feed []Channel

// ErrChannel is wrapped by errors about a channel that cannot be.
var ErrChannel = errors.New("channel cannot be")

// HotML returns what the feed takes at pouring temperature, in mL, when it is
// filled with plastic of the given hot density in g/mL. What was given as a
// volume is taken as filled hot and not fed while it sets, since it is the
// runner that feeds the cavities.
func (f Feed) HotML(hotDensity float64) float64 {
	total := 0.0
	for _, c := range f {
		each := c.VolumeML
		if each == 0 {
			each = c.MassG / hotDensity
		}
		total += each * float64(max(c.Count, 1))
	}
	return total
}

// RoundML returns the volume in mL of a round channel of the given length whose
// diameter goes from d1 to d2, all in mm: the frustum of a cone (Zwillinger, CRC
// Standard Mathematical Tables, solids; from memory). No size may be negative.
func RoundML(lengthMM, d1MM, d2MM float64) float64 {
	return math.Pi * lengthMM / 12 * (d1MM*d1MM + d1MM*d2MM + d2MM*d2MM) / 1000
}

// FlatML returns the volume in mL of a rectangular channel, sizes in mm, none negative.
func FlatML(lengthMM, widthMM, depthMM float64) float64 {
	return lengthMM * widthMM * depthMM / 1000
}

// mostAlike is past any number of channels in one mold.
const mostAlike = 10_000

// Check says whether every channel is one that can be; its errors wrap ErrChannel.
func (f Feed) Check() error {
	for _, c := range f {
		switch {
		case !sound(c.VolumeML):
			return fmt.Errorf("%w: %s of %g mL", ErrChannel, c.Name, c.VolumeML)
		case !sound(c.MassG):
			return fmt.Errorf("%w: %s of %g g", ErrChannel, c.Name, c.MassG)
		case c.VolumeML > 0 && c.MassG > 0:
			return fmt.Errorf("%w: %s has both a volume and a weight; give one", ErrChannel, c.Name)
		case c.Count < 0 || c.Count > mostAlike:
			return fmt.Errorf("%w: %d of %s", ErrChannel, c.Count, c.Name)
		}
	}
	return nil
}
