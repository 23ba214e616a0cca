package cavity

import (
	"context"
	"fmt"
	"math"

	"bellyline/mesh/fill"
)

// Level is what a plane across the back direction finds: a Section without the
// skin on its two sides, which alone takes a look at every facet.
type Level struct {
	HeightMM  float64
	BelowMM3  float64 // fill volumes of the two sides
	AboveMM3  float64
	AreaMM2   float64 // where the two sides join
	OutlineMM float64 // length of the cut seen on the skin
	Pieces    int
}

// Level measures at a height along the back direction, in mm, and agrees with
// Section but for rounding. It costs about 0.5 microsecond for each facet that
// reaches the plane; where shells overlap it costs what Section does.
func (c *Cavity) Level(ctx context.Context, h float64) (Level, error) {
	if c.overlaps || math.IsNaN(h) || math.IsInf(h, 0) { // Section says what is wrong with such a height
		s, err := c.Section(ctx, h)
		return Level{HeightMM: h, BelowMM3: s.BelowMM3, AboveMM3: s.AboveMM3, AreaMM2: s.AreaMM2, OutlineMM: s.OutlineMM, Pieces: s.Pieces}, err
	}
	return recall(c.memo, c.memo.levels, h, func() (Level, error) {
		at := c.levels.At(h)
		return Level{HeightMM: h, BelowMM3: at.VolumeBelowMM3, AboveMM3: at.VolumeAboveMM3, AreaMM2: at.SectionAreaMM2, OutlineMM: at.LineMM, Pieces: c.levels.Pieces(h)}, nil
	})
}

// BelowMM3 returns the fill volume below a height along the back direction, in mm,
// as Level does, at a tenth of its cost, or a third where shells overlap.
func (c *Cavity) BelowMM3(ctx context.Context, h float64) (float64, error) {
	if math.IsNaN(h) || math.IsInf(h, 0) {
		l, err := c.Level(ctx, h)
		return l.BelowMM3, err
	}
	if c.overlaps {
		return recall(c.memo, c.memo.belows, h, func() (float64, error) {
			below, err := fill.Below(ctx, c.Mesh, c.levels.Plane(h))
			if err != nil {
				return 0, fmt.Errorf("%s: %w", c.Name, err)
			}
			return below, nil
		})
	}
	return c.levels.At(h).VolumeBelowMM3, nil
}
