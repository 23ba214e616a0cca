package cavity

import (
	"context"
	"errors"
	"fmt"
	"sync"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
)

// Cavity is the hollow that a bait fills, as its model shows it.
type Cavity struct {
	Name      string
	Mesh      *mesh.Mesh
	FillMM3   float64 // what plastic fills: overlapping shells once
	Warnings  []string
	SizeDoubt string // why the unit of the model may be wrong, empty if it looks right; one of the warnings

	frame    Frame
	framed   error        // why no line can run along the bait
	levels   *mesh.Levels // along the back; of the plain sum over shells
	overlaps bool         // so that levels count more than what is filled
	memo     *memo        // of what costs much where shells overlap

	silhouette func() Silhouette
	shellAt    func(r3.Vector) int // nil for a model of one shell
}

// Back returns the direction from belly to back, of length 1.
func (c *Cavity) Back() r3.Vector { return c.frame.Back }

// Frame returns how the bait lies. What only asks for heights needs no nose, so that
// the error of directions along one line, which wraps ErrFrame, comes from here.
func (c *Cavity) Frame() (Frame, error) { return c.frame, c.framed }

// newCavity completes what is known of a cavity. The directions may have any length
// but zero.
func newCavity(c Cavity, back, nose r3.Vector) (*Cavity, error) {
	var err error
	if c.frame, c.framed = NewFrame(back, nose); c.framed != nil && !errors.Is(c.framed, ErrFrame) {
		return nil, fmt.Errorf("%s: %w", c.Name, c.framed)
	}
	if c.levels, err = c.Mesh.Levels(c.frame.Back); err != nil {
		return nil, fmt.Errorf("%s: %w", c.Name, err)
	}
	c.memo = newMemo()
	c.silhouette = sync.OnceValue(c.measureSilhouette)
	return &c, nil
}

// Open reads the model of a cavity that must enclose a volume. The error of one
// that does not wraps ErrNoVolume and names the first place. back and nose may have any
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
	filled, err := m.FilledMM3()
	if err != nil {
		return nil, err
	}
	known := Cavity{Name: m.File, Mesh: surface, FillMM3: filled, Warnings: m.Warnings, SizeDoubt: m.sizeDoubt, overlaps: *m.OverlapMM3 > 0}
	if m.Shells > 1 {
		known.shellAt = shellsOf(m.drawn)
	}
	return newCavity(known, back, nose)
}

// FilledMM3 returns what the model holds, or why no volume can be given, which wraps
// ErrNoVolume.
func (m *Measurement) FilledMM3() (float64, error) {
	if m.FillVolumeMM3 == nil {
		return 0, fmt.Errorf("%s: %w: %s", m.File, ErrNoVolume, m.Reason)
	}
	return *m.FillVolumeMM3, nil
}
