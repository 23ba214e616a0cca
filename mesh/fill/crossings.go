package fill

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"bellyline/mesh"
	"bellyline/mesh/halfedge"
	"bellyline/mesh/internal/bvh"
	"bellyline/mesh/internal/lattice"

	"github.com/golang/geo/r3"
)

// Crossings counts the pairs of facets that go through each other, and names the
// first few. Facets that only touch, or that lie on one plane, do not count; for
// them see Volume, which decides what is enclosed twice.
//
// On a balanced surface it costs what Volume does on a clean one; on an open
// one several times that, because every facet has to be compared with all near it.
// It returns ctx.Err() when ctx ends.
func Crossings(ctx context.Context, m *mesh.Mesh) (pairs int, places []mesh.Place, err error) {
	if len(m.Triangles) == 0 {
		return 0, nil, nil
	}
	box := m.Bounds()
	l := lattice.New(box, 0)
	var t *bvh.Tree
	var doubt doubtful
	if m.Balanced() {
		t, doubt, err = doubtfulTree(ctx, m, l, box)
	} else {
		t = bvh.New(m)
		doubt = allDoubtful(t)
	}
	if err != nil {
		return 0, nil, err
	}
	var found crossings
	for seed := range uint64(seeds) {
		found, err = findCrossings(ctx, t, doubt, &welded{m, lattice.New(t.Box, seed)})
		if !errors.Is(err, lattice.ErrFlat) {
			break
		}
	}
	if err != nil {
		return 0, nil, err
	}
	crossing := realCrossingsOf(m, l, found.hits)
	for _, r := range crossing[:min(len(crossing), mesh.MaxPlaces)] {
		at := crossingPoint(m, l, r)
		places = append(places, mesh.Place{
			Facet: int(r.f), At: l.ToMM(at),
			Text: fmt.Sprintf("goes through facet %d at %s", r.g+1, mesh.PlaceText(l.ToMM(at))),
		})
	}
	return len(crossing), places, nil
}

// realCrossing is a pair of facets that go through each other.
type realCrossing struct {
	f, g int32 // f < g
	by   hit   // a side of one that goes through the other
}

// realCrossingsOf returns the pairs among the hits that cross where they are, without
// the moves of the lattice: a side of one begins and ends strictly on different
// sides of the other, and passes strictly inside its three sides.
func realCrossingsOf(m *mesh.Mesh, l lattice.Lattice, hits []hit) []realCrossing {
	var found []realCrossing
	for _, h := range hits {
		edge, facet := l.UnmovedFacet(m, h.edge.Facet()), l.UnmovedFacet(m, h.facet)
		k := h.edge.Corner()
		if sign, err := facet.Pierce(edge[k], edge[halfedge.After(k)]); sign == 0 || err != nil {
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

// crossingPoint returns where a pair crosses, on the lattice.
func crossingPoint(m *mesh.Mesh, l lattice.Lattice, r realCrossing) r3.Vector {
	edge, facet := l.UnmovedFacet(m, r.by.edge.Facet()), l.UnmovedFacet(m, r.by.facet)
	u, v := edge[r.by.edge.Corner()], edge[halfedge.After(r.by.edge.Corner())]
	hu, hv := facet.SharpHeight(u).V, facet.SharpHeight(v).V
	return between(u, v, hu/(hu-hv))
}

// allDoubtful returns doubt about everything, for surfaces that are not balanced.
func allDoubtful(t *bvh.Tree) doubtful {
	return doubtAbout(t, func(int) bool { return true }, false)
}
