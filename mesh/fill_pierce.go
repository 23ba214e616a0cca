package mesh

import (
	"errors"

	"bellyline/mesh/internal/halfedge"

	"github.com/golang/geo/r3"
)

// errFlat says that corners lie on one plane even on the lattice. Another seed
// moves them apart.
var errFlat = errors.New("corners on one plane")

// pierce says how the line from u to v goes through a facet, decided exactly: +1
// inward, -1 outward, 0 not at all.
func (t *corners) pierce(u, v r3.Vector) (int, error) {
	from, to := t.side(u), t.side(v)
	if from == to && from != 0 {
		return 0, nil
	}
	return t.pierceFrom(u, v, from, to)
}

// pierceFrom is pierce for a line whose ends lie on the given sides.
func (t *corners) pierceFrom(u, v r3.Vector, from, to int) (int, error) {
	first := 0
	for k := range 3 {
		past := corners{u, v, t[k]}
		turn := past.side(t[halfedge.After(k)])
		switch {
		case turn == 0:
			return 0, errFlat
		case k == 0:
			first = turn
		case turn != first:
			return 0, nil
		}
	}
	if from == 0 || to == 0 {
		return 0, errFlat
	}
	return from, nil
}
