package cavity

import (
	"context"
	"fmt"

	"bellyline/mesh"
	"bellyline/mesh/fill"
)

// Section is the cavity cut by a plane across the back direction.
type Section struct {
	HeightMM        float64
	BelowMM3        float64 // fill volumes of the two sides
	AboveMM3        float64
	OutsideBelowMM2 float64 // skin, without the cut itself
	OutsideAboveMM2 float64
	AreaMM2         float64 // where the two sides join
	OutlineMM       float64 // length of the cut seen on the skin
	Pieces          int
}

// Section cuts the cavity at a height along its back direction, in mm. Where
// shells overlap all numbers are those of what fills.
func (c *Cavity) Section(ctx context.Context, h float64) (Section, error) {
	if c.overlaps {
		return recall(c.memo, c.memo.sections, h, func() (Section, error) { return c.section(ctx, h) })
	}
	return c.section(ctx, h)
}

func (c *Cavity) section(ctx context.Context, h float64) (Section, error) {
	return c.sectionBy(ctx, c.levels.Plane(h))
}

func (c *Cavity) sectionBy(ctx context.Context, p mesh.Plane) (Section, error) {
	cut, err := c.cut(ctx, p)
	if err != nil {
		return Section{}, fmt.Errorf("%s: %w", c.Name, err)
	}
	return Section{
		HeightMM: p.HeightMM, BelowMM3: cut.Below.VolumeMM3, AboveMM3: cut.Above.VolumeMM3,
		OutsideBelowMM2: cut.Below.OutsideMM2, OutsideAboveMM2: cut.Above.OutsideMM2,
		AreaMM2: cut.SectionAreaMM2, OutlineMM: cut.OutlineMM, Pieces: cut.Pieces,
	}, nil
}

func (c *Cavity) cut(ctx context.Context, p mesh.Plane) (*mesh.Cut, error) {
	if c.overlaps {
		return fill.Cut(ctx, c.Mesh, p)
	}
	return c.Mesh.Cut(p)
}

// Heights returns the lowest and the highest point along the back direction.
func (c *Cavity) Heights() (low, high float64) { return c.levels.Range() }

// HeightFor returns the height below which the given share of what fills lies.
func (c *Cavity) HeightFor(ctx context.Context, share float64) (float64, error) {
	return recall(c.memo, c.memo.heights, share, func() (float64, error) {
		if c.overlaps {
			return c.heightOfFill(ctx, share*c.FillMM3)
		}
		h, err := c.levels.HeightFor(share * c.levels.VolumeMM3())
		if err != nil {
			return 0, fmt.Errorf("%s: %w", c.Name, err)
		}
		return h, nil
	})
}

// heightOfFill starts from the height for the plain sum over shells: a good guess,
// as overlaps are small.
func (c *Cavity) heightOfFill(ctx context.Context, volume float64) (float64, error) {
	low, high := c.Heights()
	h, err := c.levels.HeightFor(volume / c.FillMM3 * c.levels.VolumeMM3())
	if err == nil {
		h, err = newtonHeight(volume, 1e-12*c.FillMM3, low, high, h, func(h float64) (float64, float64, error) {
			cut, err := c.cut(ctx, c.levels.Plane(h))
			if err != nil {
				return 0, 0, err
			}
			return cut.Below.VolumeMM3, cut.SectionAreaMM2, nil
		})
	}
	if err != nil {
		return 0, fmt.Errorf("%s: %w", c.Name, err)
	}
	return h, nil
}
