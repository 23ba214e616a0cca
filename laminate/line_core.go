package laminate

import (
	"context"
	"errors"
	"fmt"
	"math"

	"bellyline/cavity"
	"bellyline/mesh"
	"bellyline/mesh/inset"
)

// latticePoints is what a lattice of depths has when its step is fit to the bait: a
// bait of 100 x 20 x 15 mm gets steps of 0.5 mm and takes a second or two.
const latticePoints = 250_000

// byDepth parts a cavity into its core, at least so many mm below the skin, and the
// skin round it.
func (s *Split) byDepth(ctx context.Context, c *cavity.Cavity, l Line) error {
	if err := l.check(); err != nil {
		return err
	}
	if !l.ByHeight && !(l.BellyShare > 0 && l.BellyShare < 1) {
		return fmt.Errorf("%w: a share of the bait lies between 0 and 1, not %g", ErrJob, l.BellyShare)
	}
	step := l.StepMM
	if step == 0 {
		size := c.Mesh.Bounds().Size()
		step = math.Cbrt(size.X * size.Y * size.Z / latticePoints)
	}
	depths, err := c.Depths(ctx, step)
	if err != nil {
		return insetError(err)
	}
	depth := l.HeightMM
	if !l.ByHeight {
		core := l.BellyShare
		if l.kind() == Skin {
			core = 1 - core
		}
		if depth, err = depths.DepthFor(core * c.FillMM3); err != nil {
			return insetError(err)
		}
	}
	if s.inset, err = depths.Inset(depth); err != nil {
		return insetError(err)
	}
	s.Line = SplitLine{Kind: string(l.kind()), Needs: l.kind().Needs(), HeightsMM: []float64{},
		DepthMM: &depth, StepMM: &step, ErrorMM3: &s.inset.ErrorMM3}
	skin, err := c.SkinMM2(ctx)
	if err != nil {
		return err
	}
	if c.Overlaps() {
		s.showOutside(c, depths)
	}
	s.SplitAreaMM2, s.Pieces = s.inset.AreaMM2, s.inset.Pieces
	core := SplitColour{Name: "core", VolumeMM3: s.inset.VolumeMM3, JoinedMM2: s.inset.AreaMM2}
	round := SplitColour{Name: "skin", VolumeMM3: c.FillMM3 - s.inset.VolumeMM3, OutsideMM2: skin, JoinedMM2: s.inset.AreaMM2}
	s.Colours = []SplitColour{core, round}
	if l.kind() == Skin {
		s.Colours = []SplitColour{round, core}
	}
	return nil
}

// insetError says what cannot be in the words of the line.
func insetError(err error) error {
	if errors.Is(err, inset.ErrInset) {
		return fmt.Errorf("%w: %w", ErrJob, err)
	}
	return err
}

// showOutside keeps the skin's outside for a model whose parts overlap. Its own surface
// encloses the space inside of the core more than once, so that taking the core out
// once would leave some of it.
func (s *Split) showOutside(c *cavity.Cavity, d *inset.Depths) {
	s.outside = d.Outside()
	off := s.outside.Moments().VolumeMM3 - c.FillMM3
	s.Warnings = append(s.Warnings, fmt.Sprintf("the model's parts overlap: a saved skin has them joined as a lattice of %.2f mm shows them, with edges rounded off, and holds %.1f mm3 %s than is told here; a finer step makes that less, joined parts in the drawing program undo it",
		d.StepMM(), math.Abs(off), map[bool]string{true: "more", false: "less"}[off > 0]))
}

// depthBodies returns the bodies of core and skin.
func (s *Split) depthBodies(c *cavity.Cavity) []*mesh.Mesh {
	outside := c.Mesh
	if s.outside != nil {
		outside = s.outside
	}
	var bodies []*mesh.Mesh
	for _, col := range s.Colours {
		if col.Name == "core" {
			bodies = append(bodies, s.inset.Body)
		} else {
			bodies = append(bodies, inset.Without(outside, s.inset.Body))
		}
	}
	return bodies
}
