package cavity

import (
	"context"
	"errors"
	"fmt"
	"sync"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/union"
)

// OfMesh takes a surface in mm as the cavity that a bait fills. The name is for
// messages. The error of one that encloses no volume wraps ErrNoVolume; back may
// have any length but zero.
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
	levels, err := surface.Levels(back)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	c := &Cavity{Name: name, Mesh: surface, Back: levels.Plane(0).Normal, Nose: nose, FillMM3: filled.VolumeMM3, levels: levels, overlaps: filled.OverlapMM3 > 0, memo: newMemo()}
	c.silhouette = sync.OnceValue(c.measureSilhouette)
	return c, nil
}
