package lattice

import (
	"errors"

	"bellyline/mesh/halfedge"

	"github.com/golang/geo/r3"
)

// ErrFlat says that corners lie on one plane even on the lattice. Another seed
// moves them apart.
var ErrFlat = errors.New("corners on one plane")

// Pierce says how the line from u to v goes through a facet, decided exactly: +1
// inward, -1 outward, 0 not at all.
func (t *Corners) Pierce(u, v r3.Vector) (int, error) {
	from, to := t.Side(u), t.Side(v)
	if from == to && from != 0 {
		return 0, nil
	}
	return t.PierceFrom(u, v, from, to)
}

// PierceFrom is pierce for a line whose ends lie on the given sides.
func (t *Corners) PierceFrom(u, v r3.Vector, from, to int) (int, error) {
	first := 0
	for k := range 3 {
		past := Corners{u, v, t[k]}
		turn := past.Side(t[halfedge.After(k)])
		switch {
		case turn == 0:
			return 0, ErrFlat
		case k == 0:
			first = turn
		case turn != first:
			return 0, nil
		}
	}
	if from == 0 || to == 0 {
		return 0, ErrFlat
	}
	return from, nil
}
