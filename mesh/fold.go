package mesh

import (
	"errors"
	"fmt"
	"sort"

	"bellyline/mesh/parallel"
	"bellyline/mesh/vector"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// ErrFold is wrapped by every error about a fold that is none.
var ErrFold = errors.New("not a fold")

// Fold is a surface of flat strips that bends one way only: a line of straight
// pieces, drawn in the plane of Along and Up, extruded across it. Beyond its first
// and last knot it runs on level. A copy of it moved by h along Up is "the fold at
// height h".
type Fold struct {
	along, up, across r3.Vector  // of length 1, at right angles, right-handed in this order
	knots             []r2.Point // along and height in mm, along ascending
	arc               []float64  // length of the line up to each knot, in mm
}

// NewFold makes a fold of knots (along, height) in mm, listed with along ascending.
// The directions may have any length; up counts as it is, along is made square to
// it. Errors wrap ErrFold, or ErrDirection.
func NewFold(along, up r3.Vector, knots []r2.Point) (*Fold, error) {
	up, okUp := vector.Unit(up)
	along, okAlong := vector.Unit(along)
	square, ok := vector.Unit(along.Sub(up.Mul(along.Dot(up))))
	if !okUp || !okAlong || !ok || square.Dot(along) < leastSquare {
		return nil, fmt.Errorf("%w: a fold needs two directions that differ", ErrDirection)
	}
	if off := along.Dot(up); off == 0 {
		square = along // exact for directions along axes
	}
	if len(knots) == 0 {
		return nil, fmt.Errorf("%w: no point is given", ErrFold)
	}
	f := &Fold{along: square, up: up, across: up.Cross(square), knots: knots, arc: make([]float64, len(knots))}
	for i, k := range knots {
		switch {
		case !isOrdinary(k.X) || !isOrdinary(k.Y):
			return nil, fmt.Errorf("%w: point %d is (%g, %g)", ErrFold, i+1, k.X, k.Y)
		case i > 0 && !(k.X > knots[i-1].X):
			return nil, fmt.Errorf("%w: point %d at %g mm does not lie further along than the one before it, at %g mm", ErrFold, i+1, k.X, knots[i-1].X)
		case i > 0:
			f.arc[i] = f.arc[i-1] + k.Sub(knots[i-1]).Norm()
		}
	}
	return f, nil
}

// leastSquare is the sine under which two directions count as one.
const leastSquare = 1e-3

// HeightMM returns how high the fold at height 0 lies at a place along it, in mm.
func (f *Fold) HeightMM(along float64) float64 { return f.heightFrom(along, f.stationOf(along, 0)) }

// heightFrom is HeightMM for a place whose station is known.
func (f *Fold) heightFrom(along float64, station int32) float64 {
	switch k, last := int(station/2), len(f.knots)-1; {
	case station%2 == 1 || k == 0:
		return f.knots[k].Y
	case k > last:
		return f.knots[last].Y
	default:
		a, b := f.knots[k-1], f.knots[k]
		return a.Y + (b.Y-a.Y)*((along-a.X)/(b.X-a.X))
	}
}

// arcMM returns the length of the line up to a place along it.
func (f *Fold) arcMM(along float64) float64 {
	i := sort.Search(len(f.knots), func(i int) bool { return f.knots[i].X >= along })
	switch last := len(f.knots) - 1; {
	case i == 0:
		return along - f.knots[0].X
	case i > last:
		return f.arc[last] + along - f.knots[last].X
	}
	a, b := f.knots[i-1], f.knots[i]
	return f.arc[i-1] + (f.arc[i]-f.arc[i-1])*((along-a.X)/(b.X-a.X))
}

// Flat is a body that was pushed down along the up direction of a fold, at each
// place by the fold's own height there, so that the fold has become level. The
// facets were cut at the knots first, so they stay flat; the push is a shear in
// each strip, which changes no volume and lets nothing cross that did not.
type Flat struct {
	Mesh   *Mesh // the pushed body
	fold   *Fold
	skin   *Mesh // the same facets where they were
	closed bool  // known to be balanced
}

// Flatten pushes a body down by the fold. Facets that reach over a knot are
// replaced by pieces, behind the others; the surface stays as closed as it was.
// Cost: a few passes and two copies of the surface.
func (f *Fold) Flatten(m *Mesh) *Flat {
	skin, at := f.imprint(m)
	return &Flat{Mesh: f.push(skin, at, -1), fold: f, skin: skin}
}

// FlattenLevels is Flatten for the surface that levels were built of, which is known to
// be closed: cuts need not look again, which takes them a third of their time.
func (f *Fold) FlattenLevels(l *Levels) *Flat {
	flat := f.Flatten(l.mesh)
	flat.closed = true
	return flat
}

// push returns the imprinted body pushed along up by the fold's height times way.
func (f *Fold) push(m *Mesh, at *imprinter, way float64) *Mesh {
	pushed := &Mesh{Vertices: make([]r3.Vector, len(m.Vertices)), Triangles: m.Triangles}
	parallel.Blocks(len(m.Vertices), cutBlock, func(_, from, to int) {
		for i := from; i < to; i++ {
			pushed.Vertices[i] = m.Vertices[i].Add(f.up.Mul(way * f.heightFrom(at.along[i], at.station[i])))
		}
	})
	return pushed
}

// HeightFor returns the height of the fold with volumeMM3 of the closed body below
// it; see Mesh.HeightFor.
func (f *Flat) HeightFor(volumeMM3 float64) (float64, error) {
	return f.Mesh.HeightFor(f.fold.up, volumeMM3)
}
