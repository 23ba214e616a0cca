package mesh

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"bellyline/mesh/internal/halfedge"

	"github.com/golang/geo/r3"
)

// Crossings counts the pairs of facets that go through each other, and names the
// first few. Facets that only touch, or that lie on one plane, do not count; for
// them see FillVolume, which decides what is enclosed twice.
//
// On a balanced surface it costs what FillVolume does on a clean one; on an open
// one several times that, because every facet has to be compared with all near it.
// It returns ctx.Err() when ctx ends.
func (m *Mesh) Crossings(ctx context.Context) (pairs int, places []Place, err error) {
	if len(m.Triangles) == 0 {
		return 0, nil, nil
	}
	box := m.Bounds()
	l := newLattice(box, 0)
	var t *Tree
	var doubt doubtful
	if m.balanced() {
		t, doubt, err = doubtfulTree(ctx, m, l, box)
	} else {
		t = NewTree(m)
		doubt = t.allDoubtful()
	}
	if err != nil {
		return 0, nil, err
	}
	var found crossings
	for seed := range uint64(seeds) {
		found, err = t.findCrossings(ctx, doubt, &welded{m, newLattice(t.box, seed)})
		if !errors.Is(err, errFlat) {
			break
		}
	}
	if err != nil {
		return 0, nil, err
	}
	crossing := m.realCrossings(l, found.hits)
	for _, r := range crossing[:min(len(crossing), maxPlaces)] {
		at := m.crossingPoint(l, r)
		places = append(places, Place{
			Facet: int(r.f), At: l.toMM(at),
			Text: fmt.Sprintf("goes through facet %d at %s", r.g+1, point(l.toMM(at))),
		})
	}
	return len(crossing), places, nil
}

// realCrossing is a pair of facets that go through each other.
type realCrossing struct {
	f, g int32 // f < g
	by   hit   // a side of one that goes through the other
}

// realCrossings returns the pairs among the hits that cross where they are, without
// the moves of the lattice: a side of one begins and ends strictly on different
// sides of the other, and passes strictly inside its three sides.
func (m *Mesh) realCrossings(l lattice, hits []hit) []realCrossing {
	var found []realCrossing
	for _, h := range hits {
		edge, facet := m.unmoved(l, h.edge.Facet()), m.unmoved(l, h.facet)
		k := h.edge.Corner()
		if sign, err := facet.pierce(edge[k], edge[halfedge.After(k)]); sign == 0 || err != nil {
			continue
		}
		f, g := min(h.edge.Facet(), h.facet), max(h.edge.Facet(), h.facet)
		found = append(found, realCrossing{f, g, h})
	}
	slices.SortFunc(found, func(a, b realCrossing) int {
		return cmp.Or(cmp.Compare(a.f, b.f), cmp.Compare(a.g, b.g),
			cmp.Compare(a.by.edge, b.by.edge), cmp.Compare(a.by.facet, b.by.facet))
	})
	return slices.CompactFunc(found, func(a, b realCrossing) bool { return a.f == b.f && a.g == b.g })
}

// unmoved returns the corners of a facet on the lattice as they are.
func (m *Mesh) unmoved(l lattice, f int32) corners {
	a, b, c := m.Corners(int(f))
	return corners{l.unmoved(a), l.unmoved(b), l.unmoved(c)}
}

// crossingPoint returns where a pair crosses, on the lattice.
func (m *Mesh) crossingPoint(l lattice, r realCrossing) r3.Vector {
	edge, facet := m.unmoved(l, r.by.edge.Facet()), m.unmoved(l, r.by.facet)
	u, v := edge[r.by.edge.Corner()], edge[halfedge.After(r.by.edge.Corner())]
	hu, hv := facet.sharpHeight(u).v, facet.sharpHeight(v).v
	return between(u, v, hu/(hu-hv))
}

// allDoubtful returns doubt about everything, for surfaces that are not balanced.
func (t *Tree) allDoubtful() doubtful { return t.doubtAbout(func(int) bool { return true }, false) }
