package cavity

import (
	"context"
	"fmt"

	"bellyline/mesh/inset"
	"bellyline/mesh/union"
)

// Overlaps tells whether shells of the model overlap, so that sums over shells count
// more than what is filled.
func (c *Cavity) Overlaps() bool { return c.overlaps }

// Depths tells how deep places lie below the skin, on a lattice of the given step in
// mm. Where shells overlap the skin is that of what fills.
func (c *Cavity) Depths(ctx context.Context, stepMM float64) (*inset.Depths, error) {
	d, err := inset.Measure(ctx, c.Mesh, stepMM, c.overlaps)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", c.Name, err)
	}
	return d, nil
}

// SkinMM2 returns the area of the skin of what fills, in mm2.
func (c *Cavity) SkinMM2(ctx context.Context) (float64, error) {
	if !c.overlaps {
		return c.Mesh.Moments().AreaMM2, nil
	}
	solid, err := union.Of(ctx, c.Mesh)
	if err != nil {
		return 0, fmt.Errorf("%s: %w", c.Name, err)
	}
	return solid.AreaMM2, nil
}
