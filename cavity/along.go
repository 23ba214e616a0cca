package cavity

import (
	"context"
	"fmt"
	"sync"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/outline"
)

// Upward returns the cavity seen with another direction for its back: all heights,
// shares and sections are then along it. It costs one build of levels.
func (c *Cavity) Upward(back r3.Vector) (*Cavity, error) {
	levels, err := c.Mesh.Levels(back)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", c.Name, err)
	}
	other := *c
	other.Back, other.levels, other.memo = levels.Plane(0).Normal, levels, newMemo()
	other.silhouette = sync.OnceValue(other.measureSilhouette)
	return &other, nil
}

// bend is how a cavity was sheared to make a bent line straight.
//
// With h(x) the height of the line, the shear z - h(x) takes the line to a plane and
// keeps every volume, as it moves upright rods as a whole. Facets are divided where
// the line bends first, so that each of them stays flat. Volumes, shares and heights
// are thus those of a plane; areas and lengths are measured on what was sheared back.
type bend struct {
	line  Profile
	nose  r3.Vector  // of length 1, across the back
	whole *mesh.Mesh // as it was
}

// Along returns the cavity seen along a line in side view: its heights are how far
// the line is moved along the back from where it was drawn, 0 for the line itself.
// It costs a pass over the facets for every point of the line, and one build of
// levels. Of a cavity that is bent already it is an error.
func (c *Cavity) Along(line Profile) (*Cavity, error) {
	if err := line.Check(); err != nil {
		return nil, err
	}
	nose := c.Nose.Sub(c.Back.Mul(c.Nose.Dot(c.Back))).Normalize()
	if c.bend != nil || nose == (r3.Vector{}) {
		return nil, fmt.Errorf("%w: there is no side to see it from", ErrProfile)
	}
	other := *c
	other.bend, other.memo = &bend{line: line, nose: nose, whole: c.Mesh}, newMemo()
	divided, err := c.Mesh.Divide(other.bend.walls()...)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", c.Name, err)
	}
	other.Mesh = divided.Moved(func(v r3.Vector) r3.Vector { return v.Sub(c.Back.Mul(line.At(nose.Dot(v)))) })
	if other.levels, err = other.Mesh.Levels(c.Back); err != nil {
		return nil, fmt.Errorf("%s: %w", c.Name, err)
	}
	return &other, nil
}

// walls are the upright planes in which the line bends.
func (b *bend) walls() []mesh.Plane {
	var walls []mesh.Plane
	for _, p := range b.line {
		walls = append(walls, mesh.Plane{Normal: b.nose, HeightMM: p.X})
	}
	return walls
}

// Unbent returns a part of the cavity's mesh as it is in the model.
func (c *Cavity) Unbent(part *mesh.Mesh) (*mesh.Mesh, error) {
	if c.bend == nil {
		return part, nil
	}
	divided, err := part.Divide(c.bend.walls()...)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", c.Name, err)
	}
	return divided.Moved(func(v r3.Vector) r3.Vector { return v.Add(c.Back.Mul(c.bend.line.At(c.bend.nose.Dot(v)))) }), nil
}

// bentSection is Section along a bent line.
func (c *Cavity) bentSection(ctx context.Context, h float64) (Section, error) {
	cut, err := c.Mesh.Cut(c.levels.Plane(h))
	if err != nil {
		return Section{}, err
	}
	below, above, err := c.halves(h)
	if err != nil {
		return Section{}, err
	}
	s := Section{HeightMM: h}
	loops := c.unrolled(cut.Loops)
	if c.overlaps {
		var low, high mesh.Part
		if low, high, s.AreaMM2, err = c.bend.whole.FillParts(ctx, below, above); err != nil {
			return Section{}, err
		}
		s.BelowMM3, s.AboveMM3, s.OutsideBelowMM2, s.OutsideAboveMM2 = low.VolumeMM3, high.VolumeMM3, low.OutsideMM2, high.OutsideMM2
		s.OutlineMM, s.Pieces = outline.Joined(loops)
		return s, nil
	}
	for _, l := range loops {
		s.AreaMM2 += outline.Area(l)
		s.OutlineMM += outline.Length(l)
	}
	s.BelowMM3, s.AboveMM3, s.Pieces = cut.Below.VolumeMM3, cut.Above.VolumeMM3, cut.Pieces
	s.OutsideBelowMM2, s.OutsideAboveMM2 = below.Moments().AreaMM2-s.AreaMM2, above.Moments().AreaMM2-s.AreaMM2
	return s, nil
}

// halves returns the bodies on both sides of the line, as they are in the model.
func (c *Cavity) halves(h float64) (below, above *mesh.Mesh, err error) {
	if below, above, err = c.Mesh.CutSolids(c.levels.Plane(h)); err != nil {
		return nil, nil, err
	}
	if below, err = c.Unbent(below); err != nil {
		return nil, nil, err
	}
	above, err = c.Unbent(above)
	return below, above, err
}

// unrolled lays loops on the bent line flat: lengths along it and across the bait.
// As facets are divided where the line bends, that changes no length and no area.
func (c *Cavity) unrolled(loops [][]r3.Vector) [][]r2.Point {
	across := c.Back.Cross(c.bend.nose)
	flat := make([][]r2.Point, len(loops))
	for i, loop := range loops {
		for _, v := range loop {
			flat[i] = append(flat[i], r2.Point{X: c.bend.line.along(c.bend.nose.Dot(v)), Y: across.Dot(v)})
		}
	}
	return flat
}
