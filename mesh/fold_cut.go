package mesh

import (
	"github.com/golang/geo/r2"

	"bellyline/mesh/outline"
)

// FoldCut is what a fold makes of a solid, in numbers. Below is the part on the
// side that the fold's up points away from.
type FoldCut struct {
	BelowMM3, AboveMM3               float64
	OutsideBelowMM2, OutsideAboveMM2 float64 // skin, the section left out
	SectionAreaMM2                   float64 // of the bent section itself
	OutlineMM                        float64 // all loops of the section, along the skin
	Pieces                           int     // connected pieces of section
}

// Cut returns the numbers of both parts and of the section between them, for the
// fold at height h. The same holds for them as for Mesh.Cut; the error wraps
// ErrNotClosed. No cap is triangulated: a section on strips that bend one way can be
// rolled out flat, where its loops tell its area.
func (f *Flat) Cut(h float64) (*FoldCut, error) {
	c, err := f.cutter(h)
	if err != nil {
		return nil, err
	}
	sums := f.scan(c)
	s := c.section(sums.crossing, sums.flat)
	n2 := c.length * c.length
	cut := &FoldCut{
		BelowMM3: sums.parts[0].volume.Value() / n2, AboveMM3: sums.parts[1].volume.Value() / n2,
		OutsideBelowMM2: sums.parts[0].area.Value(), OutsideAboveMM2: sums.parts[1].area.Value(),
	}
	_, _, cut.Pieces = c.measure(s)
	for _, loop := range f.rollOut(c, s) {
		cut.SectionAreaMM2 += outline.Area(loop)
		cut.OutlineMM += outline.Length(loop)
	}
	return cut, nil
}

func (f *Flat) plane(h float64) Plane { return Plane{Normal: f.fold.up, HeightMM: h} }

func (f *Flat) cutter(h float64) (*cutter, error) {
	p := f.plane(h)
	if !f.closed {
		return newCutter(f.Mesh, p)
	}
	if err := p.check(); err != nil {
		return nil, err
	}
	return newCutterOfClosed(f.Mesh, p), nil
}

// rollOut returns the loops of a section with the fold rolled out flat: x is the
// length along the line, y across it.
func (f *Flat) rollOut(c *cutter, s *section) [][]r2.Point {
	loops := make([][]r2.Point, len(s.loops))
	for i, loop := range s.loops {
		for _, n := range loop {
			p := c.position(s, n)
			loops[i] = append(loops[i], r2.Point{X: f.fold.arcMM(f.fold.along.Dot(p)), Y: f.fold.across.Dot(p)})
		}
	}
	return loops
}

// Loops returns the loops of the section at height h with the fold rolled out flat: x
// is the length along the line, y across it. The error wraps ErrNotClosed.
func (f *Flat) Loops(h float64) ([][]r2.Point, error) {
	c, err := f.cutter(h)
	if err != nil {
		return nil, err
	}
	sums := f.scan(c)
	return f.rollOut(c, c.section(sums.crossing, sums.flat)), nil
}

// Skin returns the body before the push, cut at the knots.
func (f *Flat) Skin() *Mesh { return f.skin }

// CutSolids returns the two parts of a body cut by the fold at height h, as closed
// surfaces, as Mesh.CutSolids does for a plane. Where the fold bends both have the
// same edge.
func (f *Fold) CutSolids(m *Mesh, h float64) (below, above *Mesh, err error) {
	return f.Flatten(m).Solids(h)
}

// Solids is Fold.CutSolids of the body that was flattened: the pushed body is cut, the
// cap cut at the knots, and both parts pushed back.
func (f *Flat) Solids(h float64) (below, above *Mesh, err error) {
	low, high, err := f.Mesh.CutSolids(f.plane(h))
	if err != nil {
		return nil, nil, err
	}
	return f.fold.pushBack(low), f.fold.pushBack(high), nil
}

func (f *Fold) pushBack(m *Mesh) *Mesh {
	cut, at := f.imprint(m)
	return f.push(cut, at, 1)
}
