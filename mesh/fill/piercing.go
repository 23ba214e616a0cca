package fill

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"math/big"
	"slices"

	"bellyline/mesh/halfedge"
	"bellyline/mesh/internal/lattice"

	"github.com/golang/geo/r3"
)

// errInconsistent says that facets cross in a way that closed surfaces cannot.
var errInconsistent = errors.New("facets cross inconsistently")

// piercing is a place where an edge goes through a facet.
type piercing struct {
	edge  halfedge.Edge // the smaller of the two half-edges of the edge
	facet int32
	sign  int8           // +1 inward, along that half-edge
	u, v  lattice.Approx // heights of the edge's ends over the facet, of opposite signs
	at    r3.Vector      // on the lattice, to about a step
}

// piercings are all of them, in the order of their edges and along each edge.
type piercings struct {
	s    *surface
	list []piercing
	of   map[halfedge.Edge][2]int // the part of the list that belongs to an edge
}

// newPiercings puts hits in order: each place is hit once from each facet of its
// edge.
func newPiercings(s *surface, hits []hit) (*piercings, error) {
	hits = slices.Clone(hits)
	for i, h := range hits {
		if t := s.twin[h.edge.Facet()][h.edge.Corner()]; t < h.edge {
			hits[i].edge, hits[i].sign = t, -h.sign
		}
	}
	slices.SortFunc(hits, func(a, b hit) int {
		return cmp.Or(cmp.Compare(a.edge, b.edge), cmp.Compare(a.facet, b.facet))
	})
	if len(hits)%2 != 0 {
		return nil, errInconsistent
	}
	p := &piercings{s: s, list: make([]piercing, len(hits)/2), of: map[halfedge.Edge][2]int{}}
	for i := range p.list {
		if hits[2*i] != hits[2*i+1] {
			return nil, fmt.Errorf("%w: edge of facet %d through facet %d",
				errInconsistent, hits[2*i].edge.Facet()+1, hits[2*i].facet+1)
		}
		p.list[i] = s.piercing(hits[2*i])
	}
	if err := p.sort(); err != nil {
		return nil, err
	}
	for i, j := 0, 0; i < len(p.list); i = j {
		for j = i; j < len(p.list) && p.list[j].edge == p.list[i].edge; j++ {
		}
		p.of[p.list[i].edge] = [2]int{i, j}
	}
	return p, nil
}

// piercing works out where an edge goes through a facet.
func (s *surface) piercing(h hit) piercing {
	from, to := s.ends(h.edge)
	facet := s.corners(h.facet)
	p := piercing{edge: h.edge, facet: h.facet, sign: h.sign}
	p.u, p.v = facet.SharpHeight(s.at[from]), facet.SharpHeight(s.at[to])
	p.at = between(s.at[from], s.at[to], p.u.V/(p.u.V-p.v.V))
	return p
}

// between returns the point at a share t of the way from a to b, counted from the
// nearer end.
func between(a, b r3.Vector, t float64) r3.Vector {
	if t > 0.5 {
		return b.Add(a.Sub(b).Mul(1 - t))
	}
	return a.Add(b.Sub(a).Mul(t))
}

// sort puts the list in the order of edges and along each edge.
func (p *piercings) sort() error {
	var err error
	slices.SortFunc(p.list, func(a, b piercing) int {
		if a.edge != b.edge {
			return cmp.Compare(a.edge, b.edge)
		}
		if a.facet == b.facet {
			return 0
		}
		order := p.s.alongEdge(&a, &b)
		if order == 0 {
			err = lattice.ErrFlat
		}
		return order
	})
	return err
}

// alongEdge returns -1 if the edge of both goes through a before b, +1 if after,
// exactly. It goes through a at the share u/(u-v) of its length, so the sign wanted
// is that of ua.(ub-vb) - ub.(ua-va) = ub.va - ua.vb over (ua-va).(ub-vb).
func (s *surface) alongEdge(a, b *piercing) int {
	sign := b.u.Times(a.v).Minus(a.u.Times(b.v)).Sign()
	if sign == 0 {
		from, to := s.ends(a.edge)
		ta, tb := s.corners(a.facet), s.corners(b.facet)
		x, y := s.at[from], s.at[to]
		sign = lattice.BigDeterminant(tb.ExactHeight(x), ta.ExactHeight(y), ta.ExactHeight(x), tb.ExactHeight(y)).Sign()
	}
	if (a.u.V > 0) != (b.u.V > 0) {
		return -sign
	}
	return sign
}

// heightAt returns the height over a facet of the place where an edge goes through
// another one, times weight: the positive number |v-u| of the piercing. With the
// heights u and v of the edge's ends over the facet that it goes through, hu and hv
// over the other, it is (hu.v - hv.u)/(v-u).
func (s *surface) heightAt(facet int32, p *piercing) (height lattice.Approx, weight float64) {
	from, to := s.ends(p.edge)
	height = s.cornerHeight(facet, from).Times(p.v).Minus(s.cornerHeight(facet, to).Times(p.u))
	if p.v.V < 0 {
		height.V = -height.V
	}
	if math.Abs(height.V)*sharp < height.E {
		height = lattice.Rounded(s.exactHeightAt(facet, p))
	}
	return height, math.Abs(p.v.V - p.u.V)
}

// sharp is the relative error that is good enough for a place: what it moves is
// less than 2^-44 of a facet's length.
const sharp = 0x1p-44

// exactHeightAt is heightAt as a whole number.
func (s *surface) exactHeightAt(facet int32, p *piercing) *big.Int {
	from, to := s.ends(p.edge)
	through := s.corners(p.facet)
	height := lattice.BigDeterminant(s.exactCornerHeight(facet, from), through.ExactHeight(s.at[to]),
		s.exactCornerHeight(facet, to), through.ExactHeight(s.at[from]))
	if p.v.V < 0 {
		height.Neg(height)
	}
	return height
}

// cornerHeight returns the height of a corner over a facet: none over its own.
func (s *surface) cornerHeight(facet, id int32) lattice.Approx {
	if halfedge.HasCorner(s.ids[facet], id) {
		return lattice.Approx{}
	}
	t := s.corners(facet)
	return t.SharpHeight(s.at[id])
}

// exactCornerHeight is cornerHeight as a whole number.
func (s *surface) exactCornerHeight(facet, id int32) *big.Int {
	if halfedge.HasCorner(s.ids[facet], id) {
		return new(big.Int)
	}
	t := s.corners(facet)
	return t.ExactHeight(s.at[id])
}
