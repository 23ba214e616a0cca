package laminate

import (
	"context"
	"fmt"
	"math"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
)

// rising returns the normal of a plane that rises to the nose and to the left, of
// length 1, and how long its part along the back is.
func (f frame) rising(tiltDeg, rollDeg float64) (normal r3.Vector, upright float64) {
	n := f.back.Sub(f.nose.Mul(math.Tan(tiltDeg * math.Pi / 180))).Sub(f.across.Mul(math.Tan(rollDeg * math.Pi / 180)))
	upright = 1 / n.Norm()
	return n.Mul(upright), upright
}

// tilt places a tilted plane. Its height is that above the middle of the bait, along
// the back direction.
func (p *placed) tilt(ctx context.Context, c *cavity.Cavity, f frame) error {
	if p.line.Hinge != nil {
		if err := p.swing(ctx, c, f); err != nil {
			return err
		}
	}
	normal, upright := f.rising(p.line.TiltDeg, p.line.RollDeg)
	sheets, err := c.Planes(normal)
	if err != nil {
		return err
	}
	p.sheets, p.normal = sheets, normal
	middle := f.nose.Mul(middleOf(c, f.nose)).Add(f.across.Mul(middleOf(c, f.across)))
	// A plane that crosses the back direction at height h lies h*upright along its
	// normal, from where one through the middle at height 0 does.
	base := normal.Dot(middle)
	low, high := sheets.Range()
	p.level = base + p.line.HeightMM*upright
	if !p.line.ByHeight {
		if !(p.line.BellyShare > 0 && p.line.BellyShare < 1) {
			return fmt.Errorf("%w: a share of the bait lies between 0 and 1, not %g", ErrJob, p.line.BellyShare)
		}
		if p.level, err = sheets.HeightFor(ctx, p.line.BellyShare); err != nil {
			return err
		}
	}
	p.middle = (p.level - base) / upright
	p.sheet = flatSheet(normal, p.level)
	if !(p.level > low && p.level < high) {
		return fmt.Errorf("%w: the tilted line at %.3f mm misses the bait; in the middle of the bait it may lie from %.3f to %.3f mm",
			ErrJob, p.middle, (low-base)/upright, (high-base)/upright)
	}
	return nil
}

// swing finds the tilt of least size with which a plane through the hinge has the
// wanted share below it, and makes the line one at that tilt and height. The share
// need not rise with the tilt, so tilts are looked at from 0 outwards until the
// share is passed; the place is then closed in on by the Illinois method (Dowell
// and Jarratt, BIT 11 (1971) 168; from memory).
func (p *placed) swing(ctx context.Context, c *cavity.Cavity, f frame) error {
	hinge := f.nose.Mul(p.line.Hinge.AlongMM).Add(f.back.Mul(p.line.Hinge.HeightMM)).Add(f.across.Mul(middleOf(c, f.across)))
	reached := [2]float64{1, 0} // least and largest share
	missing := func(tilt float64) (float64, error) {
		normal, _ := f.rising(tilt, p.line.RollDeg)
		sheets, err := c.Planes(normal)
		if err != nil {
			return 0, err
		}
		s, err := sheets.Section(ctx, normal.Dot(hinge))
		share := s.BelowMM3 / c.FillMM3
		reached[0], reached[1] = min(reached[0], share), max(reached[1], share)
		return share - p.line.BellyShare, err
	}
	from, to, err := bracketTilt(missing)
	if err != nil {
		return err
	}
	if from == to {
		return fmt.Errorf("%w: no tilt about the hinge gives %.4g of the bait to the belly; tilts up to %g degrees give %.4g to %.4g: move the hinge",
			ErrJob, p.line.BellyShare, steepestDeg, reached[0], reached[1])
	}
	if p.line.TiltDeg, err = illinois(from, to, missing); err != nil {
		return err
	}
	middle := middleOf(c, f.nose)
	p.line.ByHeight = true
	p.line.HeightMM = p.line.Hinge.HeightMM + (middle-p.line.Hinge.AlongMM)*math.Tan(p.line.TiltDeg*math.Pi/180)
	return nil
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
