package mesh

import (
	"errors"
	"fmt"

	"bellyline/mesh/exact"
	"bellyline/mesh/vector"

	"github.com/golang/geo/r3"
)

// ErrNoSuchVolume is wrapped where no height has the wanted volume below it.
var ErrNoSuchVolume = errors.New("no height has that volume below it")

// Levels answers, for planes across one direction at any height, how much of a
// body lies below, how large the section is and how long its outline.
//
// Every facet of a closed surface that lies wholly below the plane gives a term
// that is linear in the height of the plane, so these terms are summed once, in
// the order of the facets' lowest corners; a query adds up only the facets that
// reach the plane. Invariants, each tested:
//
//  1. A query agrees with a direct Cut to 1e-12 of the whole, and to 1e-12 of
//     the part for planes further than 1e-3 of the size from the part's end.
//  2. A plane through vertices, edges or facets parts them as Cut does.
//  3. Results are the same bit for bit whatever the number of threads.
//  4. Below and above are summed apart: neither is the whole less the other.
//
// Overlapping shells count once each, as in Cut. A Levels is not changed by
// queries; any number may run at once. It keeps the Mesh and 51 bytes a facet.
type Levels struct {
	mesh   *Mesh
	dir    r3.Vector    // of length 1
	origin r3.Vector    // heights are kept relative to it
	base   exact.Double // dir·origin

	facets []levelFacet // by layers of their lowest corner
	layers []int32      // layers[i] is the first facet of layer i; one more at the end
	sums   []levelSum   // sums[b] of the facets before b*levelRun
	whole  levelSum
	highs  [][]float64 // highest corners by runs of facets, see levels_reach.go

	floor      float64    // local height where the layers begin
	layerScale float64    // layers per mm
	low, high  float64    // local heights of the lowest and the highest corner
	doubt      float64    // see levelDoubt
	ends       [2]float64 // heights of the lowest and the highest corner
}

// levelFacet is a facet as a level plane meets it; heights are local.
type levelFacet struct {
	low, mid, high float64 // heights of the corners
	shadow         float64 // signed area of its shadow on the plane, mm2; positive when it faces up
	width          float64 // its section at mid, the longest, in mm; 0 when it lies in one plane
	number         int32   // of the facet in the mesh
}

// levelSum gathers what facets wholly on one side of the plane give.
type levelSum struct {
	shadow exact.Double // sum of shadow
	moment exact.Double // sum of shadow times the sum of the three heights: 3 times its moment
}

func (s levelSum) plus(t levelSum) levelSum {
	return levelSum{s.shadow.Plus(t.shadow), s.moment.Plus(t.moment)}
}

func (s levelSum) minus(t levelSum) levelSum {
	return levelSum{s.shadow.Minus(t.shadow), s.moment.Minus(t.moment)}
}

// add adds one facet. The same facet always gives the same term, so taking it
// out again by minus leaves no rounding of float64 behind.
func (s *levelSum) add(f *levelFacet) {
	heights := exact.AddExactly(f.low, f.high).PlusFloat(f.mid)
	s.shadow = s.shadow.PlusFloat(f.shadow)
	s.moment = s.moment.Plus(heights.Times(f.shadow))
}

// take takes out one facet that add has put in.
func (s *levelSum) take(f *levelFacet) {
	g := *f
	g.shadow = -g.shadow
	s.add(&g)
}

// volume returns the volume between the facets and the plane at local height x.
func (s levelSum) volume(x float64) exact.Double {
	third := s.moment.Times(1.0 / 3)
	// 1/3 is not a float64; what it lacks is 2^-54/3 of it.
	third = third.Plus(s.moment.Times(0x1p-54 / 3))
	return third.Minus(s.shadow.Times(x))
}

// levelRun is how many facets stand between two stored sums.
const levelRun = 16

// levelDoubt is how far two local heights may stand apart and the exact ones
// still be in the other order, in units of the body's half diagonal r.
//
// With u = 2^-53: p-origin is rounded by at most u in each coordinate (u·r in
// all, by Cauchy), the dot product is summed in twice the precision and rounded
// once (u·r), and so is the height of the plane less base (u·r). Under 4u·r.
const levelDoubt = 0x1p-51

// Levels sorts the facets by height along dir, which may have any length; a
// height is in millimetres along it from the origin of the coordinates.
//
// Errors wrap ErrDirection if dir is zero or not finite, and ErrNotClosed unless every
// edge is run as often one way as the other, in which case alone a volume below is
// well defined. Time and memory grow with the number of facets.
func (m *Mesh) Levels(dir r3.Vector) (*Levels, error) {
	up, ok := vector.Unit(dir)
	if !ok {
		return nil, fmt.Errorf("%w: (%g, %g, %g)", ErrDirection, dir.X, dir.Y, dir.Z)
	}
	if !m.Balanced() {
		return nil, fmt.Errorf("cannot find levels: %w", ErrNotClosed)
	}
	l := &Levels{mesh: m, dir: up}
	if len(m.Triangles) == 0 {
		return l, nil
	}
	l.build()
	return l, nil
}

// Range returns the heights in millimetres of the lowest and the highest
// corner, both 0 for an empty mesh.
func (l *Levels) Range() (lowest, highest float64) { return l.ends[0], l.ends[1] }

// VolumeMM3 returns the signed volume of the whole.
func (l *Levels) VolumeMM3() float64 { return l.whole.volume(0).Value() }

// Plane returns the plane at height h, below which At measures.
func (l *Levels) Plane(h float64) Plane { return Plane{Normal: l.dir, HeightMM: h} }
