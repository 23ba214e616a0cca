package mesh

import (
	"errors"
	"fmt"

	"bellyline/mesh/parallel"
)

// ErrNotClosed is wrapped when a surface encloses no definite volume: some
// edge is not run as often one way as the other.
var ErrNotClosed = errors.New("surface is not closed and consistently oriented")

// balanced reports whether every edge is run as often one way as the other:
// the surface has no boundary as a chain of oriented facets, so what it
// encloses, and its section by any plane, are well defined.
//
// Edges are not paired one by one (Check does that, and says which are wrong).
// Each edge has a scattered 128-bit value, added when it is run from its lower
// to its higher vertex and subtracted the other way. The sum is zero when all
// edges balance; when they do not, it is zero by chance once in 2^128.
// One pass, no memory, so that a cut can afford it every time.
func (m *Mesh) balanced() bool {
	sums := make([][2]uint64, cutBlocks(len(m.Triangles)))
	parallel.Blocks(len(m.Triangles), cutBlock, func(block, from, to int) {
		var s [2]uint64
		for _, t := range m.Triangles[from:to] {
			addEdge(&s, t[0], t[1])
			addEdge(&s, t[1], t[2])
			addEdge(&s, t[2], t[0])
		}
		sums[block] = s
	})
	var all [2]uint64
	for _, s := range sums {
		all[0] += s[0]
		all[1] += s[1]
	}
	return all == [2]uint64{}
}

// notClosed says which edges keep the surface from being balanced. The error
// wraps ErrNotClosed.
func (m *Mesh) notClosed() error {
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

func addEdge(s *[2]uint64, from, to int32) {
	switch {
	case from < to:
		a, b := scatter(edgeKey(from, to))
		s[0] += a
		s[1] += b
	case from > to:
		a, b := scatter(edgeKey(to, from))
		s[0] -= a
		s[1] -= b
	}
}

// edgeKey names the edge between two vertices, the lower index first.
func edgeKey(lo, hi int32) uint64 { return uint64(uint32(lo))<<32 | uint64(uint32(hi)) }

// scatter mixes a key into two words by the finalizer of SplitMix64 (Steele,
// Lea and Flood 2014, Fast Splittable Pseudorandom Number Generators; from
// memory), run from two starting points.
func scatter(key uint64) (a, b uint64) {
	return mix64(key + 0x9e3779b97f4a7c15), mix64(key ^ 0xd1b54a32d192ed03)
}

func mix64(z uint64) uint64 {
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}
