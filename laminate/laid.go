package laminate

import (
	"context"
	"fmt"
	"math"
	"reflect"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/mesh"
)

// laid is a boundary that has found its place in a cavity.
type laid interface {
	at() Boundary    // at the place that was found
	lies() SplitLine // in words of a result
	// belowMM3 is what lies below, section all that the boundary parts.
	belowMM3(ctx context.Context) (float64, error)
	section(ctx context.Context) (cavity.Section, error)
	// bodies cuts a body, which need not be the whole cavity.
	bodies(body *mesh.Mesh) (below, above *mesh.Mesh, err error)
	surface() *Sheet // to be drawn; nil where no sheet parts the colours
	warnings() []string
}

// surfaces are those of one shape, each at a height of its own.
type surfaces interface {
	Range() (low, high float64)
	HeightFor(ctx context.Context, share float64) (float64, error)
	BelowMM3(ctx context.Context, h float64) (float64, error)
	Section(ctx context.Context, h float64) (cavity.Section, error)
	Part(body *mesh.Mesh, h float64) (below, above *mesh.Mesh, err error)
}

// levels are a cavity's own level surfaces, which it holds ready.
type levels struct{ *cavity.Cavity }

func (l levels) Range() (low, high float64) { return l.Heights() }

func (l levels) Part(body *mesh.Mesh, h float64) (below, above *mesh.Mesh, err error) {
	return body.CutSolids(mesh.Plane{Normal: l.Back(), HeightMM: h})
}

// family is the sheets among which a boundary is found: a shape that may be moved up.
type family struct {
	surfaces
	up, along r3.Vector
	knots     []r2.Point // of the shape at place 0, along and up
	// The sheet at a place lies at the height base + scale*place of its surfaces, and
	// ahead of its place in the middle of the bait.
	base, scale, ahead float64
	missed             string // how to say it: the place, and the places from and to which it meets the bait
	says               SplitLine
}

// planes are the planes at heights along a direction.
func planes(s surfaces, up r3.Vector, where string) family {
	return family{surfaces: s, up: up, knots: []r2.Point{{}}, scale: 1,
		missed: "the line at %.3f mm misses the bait, which reaches from %.3f to %.3f mm" + where}
}

// find returns the sheet at the place of a boundary, or for the share of a line.
func (f family) find(ctx context.Context, b Boundary, l Line) (*sheet, error) {
	low, high := f.Range()
	s := &sheet{family: f, level: f.base + f.scale*b.PlaceMM()}
	if !l.ByPlace {
		var err error
		if s.level, err = f.HeightFor(ctx, l.Share); err != nil {
			return nil, err
		}
	}
	place := (s.level - f.base) / f.scale
	s.boundary, s.middle = b.At(place), f.ahead+place
	if !(s.level > low && s.level < high) {
		return nil, fmt.Errorf("%w: %s", ErrJob, fmt.Sprintf(f.missed, place, (low-f.base)/f.scale, (high-f.base)/f.scale))
	}
	return s, nil
}

// sheet is a boundary that parts a cavity by a sheet.
type sheet struct {
	family
	boundary Boundary
	level    float64 // among its surfaces
	middle   float64 // of the bait: there it lies so high, as people read it
}

func (s *sheet) at() Boundary { return s.boundary }

func (s *sheet) warnings() []string { return nil }

func (s *sheet) belowMM3(ctx context.Context) (float64, error) { return s.BelowMM3(ctx, s.level) }

func (s *sheet) section(ctx context.Context) (cavity.Section, error) { return s.Section(ctx, s.level) }

func (s *sheet) bodies(body *mesh.Mesh) (below, above *mesh.Mesh, err error) {
	return s.Part(body, s.level)
}

func (s *sheet) surface() *Sheet {
	var knots [][2]float64
	for _, k := range s.knots {
		knots = append(knots, [2]float64{k.X, k.Y + s.level})
	}
	sheet := bentSheet(s.along, s.up, knots)
	return &sheet
}

// found is a sheet as a boundary that was laid, without a nil among them.
func found(s *sheet, err error) (laid, error) {
	if err != nil {
		return nil, err
	}
	return s, nil
}

// crosses tells whether a part of the bait lies below the lower of two boundaries and
// above the upper one.
func crosses(c *cavity.Cavity, lower, upper laid) (bool, error) {
	if reflect.DeepEqual(lower.at().At(0), upper.at().At(0)) { // one moved up is the other
		return false, nil
	}
	below, _, err := lower.bodies(c.Mesh)
	if err != nil {
		return false, err
	}
	if len(below.Triangles) == 0 {
		return false, nil
	}
	_, both, err := upper.bodies(below)
	if err != nil {
		return false, err
	}
	return math.Abs(both.Moments().VolumeMM3) > 1e-9*c.FillMM3, nil
}

// middleOf returns the middle of the bait along a direction.
func middleOf(c *cavity.Cavity, dir r3.Vector) float64 {
	low, high := c.Mesh.Span(dir)
	return low + (high-low)/2
}
