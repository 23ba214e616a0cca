package cavity

import (
	"context"
	"fmt"
	"sync"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/stl"
)

// Cavity is the hollow that a bait fills, as its model shows it.
type Cavity struct {
	Name       string
	Mesh       *mesh.Mesh
	Back, Nose r3.Vector // unit directions, belly to back and tail to nose
	FillMM3    float64   // what plastic fills: overlapping shells once
	Warnings   []string
	SizeDoubt  string // why the unit of the model may be wrong, empty if it looks right; one of the warnings

	levels   *mesh.Levels // along Back; of the plain sum over shells
	overlaps bool         // so that levels count more than what is filled
	memo     *memo        // of what costs much where shells overlap

	silhouette func() Silhouette
}

// Open reads the model of a cavity that must enclose a volume. The error of one
// that does not wraps ErrNoVolume and names the first place. back may have any
// length but zero.
func Open(ctx context.Context, path string, opts Options, back, nose r3.Vector) (*Cavity, error) {
	m, surface, err := Measure(ctx, path, opts)
	if err != nil {
		return nil, err
	}
	return m.Cavity(surface, back, nose)
}

// Cavity returns the cavity that was measured, or the reason why it is none. surface
// is what Measure returned beside m.
func (m *Measurement) Cavity(surface *mesh.Mesh, back, nose r3.Vector) (*Cavity, error) {
	if m.FillVolumeMM3 == nil {
		return nil, fmt.Errorf("%s: %w: %s", m.File, ErrNoVolume, m.Reason)
	}
	levels, err := surface.Levels(back)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", m.File, err)
	}
	c := &Cavity{
		Name: m.File, Mesh: surface, Back: levels.Plane(0).Normal, Nose: nose,
		FillMM3: *m.FillVolumeMM3, Warnings: m.Warnings, SizeDoubt: m.sizeDoubt, levels: levels, overlaps: *m.OverlapMM3 > 0, memo: newMemo(),
	}
	c.silhouette = sync.OnceValue(c.measureSilhouette)
	return c, nil
}

// FillVolume returns what a model holds, in mm3, or why no volume can be given.
func FillVolume(ctx context.Context, path string, opts Options) (float64, error) {
	model, err := stl.ReadFile(ctx, path, stl.ReadOptions{Unit: opts.Unit, Progress: opts.Progress})
	if err != nil {
		return 0, err
	}
	return FillVolumeOf(ctx, path, model, opts)
}

// FillVolumeOf is FillVolume for a model that has been read, and calls it by the
// given name.
func FillVolumeOf(ctx context.Context, path string, model *stl.Model, opts Options) (float64, error) {
	m, _, err := MeasureModel(ctx, path, model, opts)
	switch {
	case err != nil:
		return 0, err
	case m.FillVolumeMM3 == nil:
		return 0, fmt.Errorf("%s: %w: %s", path, ErrNoVolume, m.Reason)
	}
	return *m.FillVolumeMM3, nil
}
