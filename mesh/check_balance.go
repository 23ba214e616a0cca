package mesh

import (
	"errors"
	"fmt"

	"bellyline/mesh/halfedge"
)

// ErrNotClosed is wrapped when a surface encloses no definite volume: some
// edge is not run as often one way as the other.
var ErrNotClosed = errors.New("surface is not closed and consistently oriented")

// Balanced reports whether every edge is run as often one way as the other:
// the surface has no boundary as a chain of oriented facets, so what it
// encloses, and its section by any plane, are well defined.
//
// Check says which edges are wrong; this takes one pass and no memory, so that a cut
// can afford it every time.
func (m *Mesh) Balanced() bool { return halfedge.AllBalanced(m.Triangles) }

// WhyOpen says which edges keep the surface from being balanced. The error
// wraps ErrNotClosed.
func WhyOpen(m *Mesh) error {
	report := m.Check()
	for _, kind := range []ProblemKind{BoundaryEdge, MisorientedEdge} {
		for _, p := range report.Problems {
			if p.Kind == kind && len(p.Places) > 0 {
				return fmt.Errorf("%w: %s %d, first %s", ErrNotClosed, kind, p.Count, p.Places[0].Text)
			}
		}
	}
	return ErrNotClosed
}
