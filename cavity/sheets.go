package cavity

import (
	"context"
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/fill"
)

// Sheets is a cavity seen along one shape of dividing surface that may be moved
// along its up direction: planes across any direction, or a fold. The sheet at
// height h is the shape moved by h mm.
type Sheets struct {
	cavity *Cavity
	up     r3.Vector  // of length 1
	fold   *mesh.Fold // nil for planes
	flat   *mesh.Flat // the body with the fold made level, nil for planes
	body   *mesh.Mesh // in which sheets are planes across up
}

// Planes sees the cavity along planes across a direction of any length but zero.
func (c *Cavity) Planes(up r3.Vector) (*Sheets, error) {
	length := up.Norm()
	if !(length > 0) || math.IsInf(length, 1) {
		return nil, fmt.Errorf("%w: (%g, %g, %g)", mesh.ErrDirection, up.X, up.Y, up.Z)
	}
	if up.Norm2() != 1 {
		up = up.Mul(1 / length)
	}
	return &Sheets{cavity: c, up: up, body: c.Mesh}, nil
}

// Folds sees the cavity along a line of knots (along, height) in mm, drawn in the
// plane of two directions and extruded across. Errors wrap mesh.ErrFold. Cost: two
// copies of the surface.
func (c *Cavity) Folds(along, up r3.Vector, knots []r2.Point) (*Sheets, error) {
	fold, err := mesh.NewFold(along, up, knots)
	if err != nil {
		return nil, err
	}
	s, err := c.Planes(up)
	if err != nil {
		return nil, err
	}
	s.fold, s.flat = fold, fold.FlattenLevels(c.levels)
	s.body = s.flat.Mesh
	return s, nil
}

// Range returns the heights between which a sheet meets the cavity, in mm.
func (s *Sheets) Range() (low, high float64) { return s.body.Span(s.up) }

// Section cuts the cavity by the sheet at height h. Where shells overlap all
// numbers are those of what fills.
func (s *Sheets) Section(ctx context.Context, h float64) (Section, error) {
	if s.fold == nil {
		return s.cavity.sectionBy(ctx, mesh.Plane{Normal: s.up, HeightMM: h})
	}
	cut, err := s.foldCut(ctx, h)
	if err != nil {
		return Section{}, fmt.Errorf("%s: %w", s.cavity.Name, err)
	}
	return Section{
		HeightMM: h, BelowMM3: cut.BelowMM3, AboveMM3: cut.AboveMM3,
		OutsideBelowMM2: cut.OutsideBelowMM2, OutsideAboveMM2: cut.OutsideAboveMM2,
		AreaMM2: cut.SectionAreaMM2, OutlineMM: cut.OutlineMM, Pieces: cut.Pieces,
	}, nil
}

// BelowMM3 returns the fill volume below the sheet at height h, in mm3, as Section
// does, at a fifth of its cost, or a third where shells overlap.
func (s *Sheets) BelowMM3(ctx context.Context, h float64) (float64, error) {
	if math.IsNaN(h) || math.IsInf(h, 0) {
		section, err := s.Section(ctx, h)
		return section.BelowMM3, err
	}
	if !s.cavity.overlaps {
		return s.body.VolumeBelow(s.up, h), nil
	}
	below, err := fill.Below(ctx, s.body, mesh.Plane{Normal: s.up, HeightMM: h}) // a fold made level moves no volume
	if err != nil {
		return 0, fmt.Errorf("%s: %w", s.cavity.Name, err)
	}
	return below, nil
}

func (s *Sheets) foldCut(ctx context.Context, h float64) (*mesh.FoldCut, error) {
	if s.cavity.overlaps {
		return fill.CutFlat(ctx, s.flat, h)
	}
	return s.flat.Cut(h)
}

// HeightFor returns the height below which the given share, 0 to 1, of what fills lies.
func (s *Sheets) HeightFor(ctx context.Context, share float64) (float64, error) {
	c := s.cavity
	h, err := s.body.HeightFor(s.up, share*c.levels.VolumeMM3())
	if err == nil && c.overlaps {
		low, high := s.Range()
		h, err = newtonHeight(share*c.FillMM3, 1e-12*c.FillMM3, low, high, h, func(h float64) (float64, float64, error) {
			cut, err := fill.Cut(ctx, s.body, mesh.Plane{Normal: s.up, HeightMM: h})
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

// Part cuts a body, which need not be the whole cavity, by the sheet at height h
// into two closed ones.
func (s *Sheets) Part(body *mesh.Mesh, h float64) (below, above *mesh.Mesh, err error) {
	if s.fold == nil {
		return body.CutSolids(mesh.Plane{Normal: s.up, HeightMM: h})
	}
	return s.fold.CutSolids(body, h)
}

// newtonHeight finds the height for a volume by Newton's method, dV/dh being the
// section, from a guess and inside a bracket that every step narrows.
func newtonHeight(volume, near, low, high, h float64, at func(h float64) (below, area float64, err error)) (float64, error) {
	for range 60 {
		below, area, err := at(h)
		if err != nil {
			return 0, err
		}
		missing := volume - below
		if math.Abs(missing) <= near {
			break
		}
		if missing > 0 {
			low = h
		} else {
			high = h
		}
		next := h + missing/area
		if !(next > low && next < high) {
			next = low + (high-low)/2
		}
		if next == h {
			break
		}
		h = next
	}
	return h, nil
}

// HeightMM returns how high a fold at height 0 lies at a place along it, and 0 for
// planes.
func (s *Sheets) HeightMM(along float64) float64 {
	if s.fold == nil {
		return 0
	}
	return s.fold.HeightMM(along)
}
