package laminate

import (
	"context"
	"errors"
	"fmt"
	"math"

	"bellyline/cavity"
	"bellyline/mesh"
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
	if errors.Is(err, mesh.ErrInset) {
		return fmt.Errorf("%w: %w", ErrJob, err)
	}
	return err
}

// depthBodies returns the bodies of core and skin. Where parts of the model overlap
// the space inside of the core is enclosed more than once, so that taking the core
// out once would leave some of it: such a skin is not saved.
func (s *Split) depthBodies(c *cavity.Cavity) ([]*mesh.Mesh, error) {
	if c.Overlaps() {
		return nil, fmt.Errorf("%s: %w: the model's parts overlap, so its skin is no single body: join them in the drawing program to save core and skin", c.Name, ErrJob)
	}
	var bodies []*mesh.Mesh
	for _, col := range s.Colours {
		if col.Name == "core" {
			bodies = append(bodies, s.inset.Body)
		} else {
			bodies = append(bodies, c.Mesh.Without(s.inset.Body))
		}
	}
	return bodies, nil
}
