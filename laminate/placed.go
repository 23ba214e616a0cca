package laminate

import (
	"context"
	"fmt"
	"math"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/mesh"
)

// placed is a line that has found its place in a cavity: a sheet at a height.
type placed struct {
	line   Line
	sheets *cavity.Sheets
	level  float64      // the sheet's height
	middle float64      // of the line in the middle of the bait, as people read it
	normal r3.Vector    // the direction that heights count along
	knots  [][2]float64 // of a drawn line where it lies
	sheet  Sheet        // the same surface, to be drawn
}

// frame is how a cavity lies: nose square to back, across to the left.
type frame struct{ nose, back, across r3.Vector }

func frameOf(c *cavity.Cavity) (frame, error) {
	f := frame{nose: c.Nose, back: c.Back}
	if off := c.Nose.Dot(c.Back); off != 0 {
		f.nose = c.Nose.Sub(c.Back.Mul(off)).Normalize()
	}
	const leastSine = 0.05 // of the angle between nose and back
	if !(c.Nose.Cross(c.Back).Norm() >= leastSine*c.Nose.Norm()) {
		return f, fmt.Errorf("%w: back and nose lie along one line; the back is up, the nose is forward", ErrJob)
	}
	f.across = f.back.Cross(f.nose)
	return f, nil
}

// place finds where a line lies that parts the cavity by a sheet: every kind but core
// and skin. A share costs one search, a hinge some ten cuts.
func (l Line) place(ctx context.Context, c *cavity.Cavity) (*placed, error) {
	if err := l.check(); err != nil {
		return nil, err
	}
	p := &placed{line: l, normal: c.Back}
	if l.kind() == Level {
		err := p.find(ctx, c, 0, "", c.HeightFor)
		p.sheet = flatSheet(c.Back, p.level)
		return p, err
	}
	f, err := frameOf(c)
	if err != nil {
		return nil, err
	}
	switch l.kind() {
	case Tilted:
		err = p.tilt(ctx, c, f)
	case Drawn:
		err = p.draw(ctx, c, f)
	case Crosswise:
		p.normal = f.nose
		if p.sheets, err = c.Planes(f.nose); err == nil {
			err = p.find(ctx, c, 0, " along the nose direction", p.sheets.HeightFor)
		}
		p.sheet = flatSheet(f.nose, p.level)
	case Stripe:
		err = p.groove(ctx, c, f)
	default:
		err = fmt.Errorf("%w: a %s is no sheet", ErrJob, l.kind())
	}
	return p, err
}

// find sets the level of a sheet: as given, plus what the level is ahead of the
// height that people read, or for the share.
func (p *placed) find(ctx context.Context, c *cavity.Cavity, ahead float64, where string, heightFor func(context.Context, float64) (float64, error)) error {
	low, high := c.Heights()
	if p.sheets != nil {
		low, high = p.sheets.Range()
	}
	p.level = p.line.HeightMM + ahead
	if !p.line.ByHeight {
		share := p.line.BellyShare
		if !(share > 0 && share < 1) {
			return fmt.Errorf("%w: a share of the bait lies between 0 and 1, not %g", ErrJob, share)
		}
		var err error
		if p.level, err = heightFor(ctx, share); err != nil {
			return err
		}
	}
	p.middle = p.level - ahead
	if !(p.level > low && p.level < high) {
		return fmt.Errorf("%w: the line at %.3f mm misses the bait, which reaches from %.3f to %.3f mm%s", ErrJob, p.middle, low-ahead, high-ahead, where)
	}
	return nil
}

// section cuts the cavity where the line lies.
func (p *placed) section(ctx context.Context, c *cavity.Cavity) (cavity.Section, error) {
	if p.sheets == nil {
		return c.Section(ctx, p.level)
	}
	return p.sheets.Section(ctx, p.level)
}

// belowMM3 is what lies below, without the rest of a section.
func (p *placed) belowMM3(ctx context.Context, c *cavity.Cavity) (float64, error) {
	if p.sheets == nil {
		return c.BelowMM3(ctx, p.level)
	}
	return p.sheets.BelowMM3(ctx, p.level)
}

// part cuts a body where the line lies.
func (p *placed) part(c *cavity.Cavity, body *mesh.Mesh) (below, above *mesh.Mesh, err error) {
	if p.sheets == nil {
		return body.CutSolids(mesh.Plane{Normal: c.Back, HeightMM: p.level})
	}
	return p.sheets.Part(body, p.level)
}

// middleOf returns the middle of the bait along a direction.
func middleOf(c *cavity.Cavity, dir r3.Vector) float64 {
	low, high := c.Mesh.Span(dir)
	return low + (high-low)/2
}

// crosses tells whether a part of the bait lies below the lower of two lines and
// above the upper one.
func (p *placed) crosses(c *cavity.Cavity, upper *placed) (bool, error) {
	if p.sheets == nil && upper.sheets == nil {
		return false, nil
	}
	below, _, err := p.part(c, c.Mesh)
	if err != nil {
		return false, err
	}
	if len(below.Triangles) == 0 {
		return false, nil
	}
	_, both, err := upper.part(c, below)
	if err != nil {
		return false, err
	}
	return math.Abs(both.Moments().VolumeMM3) > 1e-9*c.FillMM3, nil
}
