package cavity

import (
	"context"
	"errors"
	"fmt"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/union"
)

// OfMesh takes a surface in mm as the cavity that a bait fills. The name is for
// messages. The error of one that encloses no volume wraps ErrNoVolume; back and
// nose may have any length but zero.
func OfMesh(ctx context.Context, name string, surface *mesh.Mesh, back, nose r3.Vector) (*Cavity, error) {
	report := surface.Check()
	if !report.Oriented {
		return nil, fmt.Errorf("%s: %w: the surface is not closed", name, ErrNoVolume)
	}
	filled, err := union.OfChecked(ctx, surface, report)
	switch {
	case errors.Is(err, union.ErrInsideOut), errors.Is(err, union.ErrWinding):
		return nil, fmt.Errorf("%s: %w: %w", name, ErrNoVolume, err)
	case err != nil:
		return nil, err
	}
	known := Cavity{Name: name, Mesh: surface, FillMM3: filled.VolumeMM3, overlaps: filled.OverlapMM3 > 0}
	return newCavity(known, back, nose)
}
