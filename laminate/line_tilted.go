package laminate

import (
	"context"
	"fmt"
	"math"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
)

// Tilted is a plane that rises to the nose or to one side: belly, back.
type Tilted struct {
	HeightMM float64 // in the middle of the bait, along the back direction
	TiltDeg  float64 // how steeply it rises to the nose, -80 to 80
	RollDeg  float64 // how steeply it rises to the bait's left
	Hinge    *Hinge  // where the line stays while its tilt is found for the share
}

// Hinge is a place in side view, in mm along the nose and the back direction.
type Hinge struct{ AlongMM, HeightMM float64 }

func (Tilted) Kind() Kind                     { return KindTilted }
func (Tilted) Colours() (string, string)      { return "belly", "back" }
func (Tilted) Streams() bool                  { return true }
func (b Tilted) PlaceMM() float64             { return b.HeightMM }
func (b Tilted) At(heightMM float64) Boundary { b.HeightMM = heightMM; return b }

// steepestDeg is the steepest tilt; past it it is a slip.
const steepestDeg = 80.0

func (b Tilted) check(byPlace bool) error {
	if !(math.Abs(b.TiltDeg) <= steepestDeg && math.Abs(b.RollDeg) <= steepestDeg) {
		return fmt.Errorf("%w: a line tilts by at most %g degrees, not by %g and %g", ErrJob, steepestDeg, b.TiltDeg, b.RollDeg)
	}
	if b.Hinge != nil && (byPlace || !sound(math.Abs(b.Hinge.AlongMM)) || !sound(math.Abs(b.Hinge.HeightMM))) {
		return fmt.Errorf("%w: a line on a hinge needs the hinge's place and a share", ErrJob)
	}
	return nil
}

func (b Tilted) lay(ctx context.Context, c *cavity.Cavity, l Line) (laid, error) {
	f, err := c.Frame()
	if err != nil {
		return nil, err
	}
	if b.Hinge != nil {
		if b, err = b.swing(ctx, c, f, l.Share); err != nil {
			return nil, err
		}
		l.ByPlace = true
	}
	normal, upright := rising(f, b.TiltDeg, b.RollDeg)
	sheets, err := c.Planes(normal)
	if err != nil {
		return nil, err
	}
	// A plane that crosses the back direction at height h lies h*upright along its
	// normal, from where one through the middle at height 0 does.
	middle := f.Nose.Mul(middleOf(c, f.Nose)).Add(f.Left.Mul(middleOf(c, f.Left)))
	tilted := planes(sheets, normal, "")
	tilted.base, tilted.scale = normal.Dot(middle), upright
	tilted.missed = "the tilted line at %.3f mm misses the bait; in the middle of the bait it may lie from %.3f to %.3f mm"
	tilted.says = SplitLine{TiltDeg: &b.TiltDeg, RollDeg: &b.RollDeg}
	return found(tilted.find(ctx, b, l))
}

// rising returns the normal of a plane that rises to the nose and to the left, of
// length 1, and how long its part along the back is.
func rising(f cavity.Frame, tiltDeg, rollDeg float64) (normal r3.Vector, upright float64) {
	n := f.Back.Sub(f.Nose.Mul(math.Tan(tiltDeg * math.Pi / 180))).Sub(f.Left.Mul(math.Tan(rollDeg * math.Pi / 180)))
	upright = 1 / n.Norm()
	return n.Mul(upright), upright
}

// swing finds the tilt of least size with which a plane through the hinge has the
// wanted share below it, and returns the plane at that tilt and height. The share
// need not rise with the tilt, so tilts are looked at from 0 outwards until the
// share is passed; the place is then closed in on by the Illinois method (Dowell
// and Jarratt, BIT 11 (1971) 168; from memory).
func (b Tilted) swing(ctx context.Context, c *cavity.Cavity, f cavity.Frame, share float64) (Tilted, error) {
	hinge := f.Nose.Mul(b.Hinge.AlongMM).Add(f.Back.Mul(b.Hinge.HeightMM)).Add(f.Left.Mul(middleOf(c, f.Left)))
	reached := [2]float64{1, 0} // least and largest share
	missing := func(tilt float64) (float64, error) {
		normal, _ := rising(f, tilt, b.RollDeg)
		sheets, err := c.Planes(normal)
		if err != nil {
			return 0, err
		}
		s, err := sheets.Section(ctx, normal.Dot(hinge))
		below := s.BelowMM3 / c.FillMM3
		reached[0], reached[1] = min(reached[0], below), max(reached[1], below)
		return below - share, err
	}
	from, to, err := bracketTilt(missing)
	if err != nil {
		return b, err
	}
	if from == to {
		return b, fmt.Errorf("%w: no tilt about the hinge gives %.4g of the bait to the belly; tilts up to %g degrees give %.4g to %.4g: move the hinge",
			ErrJob, share, steepestDeg, reached[0], reached[1])
	}
	if b.TiltDeg, err = illinois(from, to, missing); err != nil {
		return b, err
	}
	middle := middleOf(c, f.Nose)
	b.HeightMM = b.Hinge.HeightMM + (middle-b.Hinge.AlongMM)*math.Tan(b.TiltDeg*math.Pi/180)
	b.Hinge = nil
	return b, nil
}

// bracketTilt returns two tilts between which missing changes its sign; the same one
// twice if there are none.
func bracketTilt(missing func(float64) (float64, error)) (from, to float64, err error) {
	const step = steepestDeg / 8
	level, err := missing(0)
	if err != nil {
		return 0, 0, err
	}
	last := [2]float64{level, level}
	for k := 1; k <= 8; k++ {
		for side, sign := range [2]float64{1, -1} {
			tilt := sign * step * float64(k)
			here, err := missing(tilt)
			if err != nil {
				return 0, 0, err
			}
			if (here >= 0) != (last[side] >= 0) {
				return tilt - sign*step, tilt, nil
			}
			last[side] = here
		}
	}
	return 0, 0, nil
}

// illinois closes in on where f is 0 between a and b, at which its signs differ, to
// 1e-12 of a share.
func illinois(a, b float64, f func(float64) (float64, error)) (float64, error) {
	fa, err := f(a)
	if err != nil {
		return 0, err
	}
	fb, err := f(b)
	if err != nil {
		return 0, err
	}
	for range 100 {
		if math.Abs(fb) < 1e-12 || a == b {
			break
		}
		x := b - fb*(b-a)/(fb-fa)
		fx, err := f(x)
		if err != nil {
			return 0, err
		}
		if (fx >= 0) != (fb >= 0) {
			a, fa = b, fb
		} else {
			fa /= 2
		}
		b, fb = x, fx
	}
	return b, nil
}
