package fill

import (
	"cmp"
	"math"
	"slices"

	"bellyline/mesh"
	"bellyline/mesh/exact"
	"bellyline/mesh/halfedge"

	"github.com/golang/geo/r3"
)

// enclosures returns the volumes between the parts of the surface whose winding
// number just outside is of the kind wanted, one for each such part that hangs
// together, the one of the largest size first.
//
// Such a part of a facet is bounded by parts of its sides and of the segments on
// it. With a point r of its plane, its share of the volume is a sixth of the sum of
// det(r, a, b) over the pieces from a to b of that boundary (Green's theorem in the
// plane, the divergence theorem in space), and of the area half the sum of
// det(n, a-r, b-r) for the unit normal n. So the pieces need not be put in order.
func (fl *flood) enclosures(wanted func(outside int) bool) []Overlap {
	e := enclosing{flood: fl, wanted: wanted, sets: halfedge.NewSets(len(fl.outside)), parts: map[int32]*enclosed{}}
	e.joinFacets()
	e.addFacets()
	for i := range fl.seams {
		e.eachPiece(&fl.seams[i], e.addPiece)
	}
	step := fl.s.lattice.StepMM
	var found []Overlap
	for facet, p := range e.parts {
		found = append(found, Overlap{
			VolumeMM3: p.sum.Value() / 6 * step * step * step,
			Box:       mesh.Box{Min: fl.s.lattice.ToMM(p.box.Min), Max: fl.s.lattice.ToMM(p.box.Max)},
			Facet:     int(facet),
			skinMM2:   p.skin / 2 * step * step,
			alone:     !p.part,
		})
	}
	slices.SortFunc(found, func(a, b Overlap) int {
		return cmp.Or(cmp.Compare(math.Abs(b.VolumeMM3), math.Abs(a.VolumeMM3)), cmp.Compare(a.Facet, b.Facet))
	})
	return found
}

// enclosing adds up enclosures.
type enclosing struct {
	*flood
	wanted func(outside int) bool
	sets   halfedge.Sets       // facets whose wanted parts hang together
	parts  map[int32]*enclosed // by the first facet of their set
}

// enclosed is one enclosure.
type enclosed struct {
	sum  exact.Double // six times its volume, on the lattice
	skin float64      // twice the area of the parts of facets round it, on the lattice
	box  mesh.Box
	part bool // some facets round it are crossed
}

// add adds the piece of boundary from a to b on a facet, some times over.
func (e *enclosing) add(f int32, a, b r3.Vector, times float64) {
	ids := e.s.ids[f]
	r := e.s.at[ids[0]]
	n := e.s.at[ids[1]].Sub(r).Cross(e.s.at[ids[2]].Sub(r))
	root := e.sets.Root(f)
	p := e.parts[root]
	if p == nil {
		p = &enclosed{box: mesh.Box{Min: a, Max: a}}
		e.parts[root] = p
	}
	piece := a.Sub(r).Cross(b.Sub(r))
	p.sum = p.sum.PlusFloat(times * r.Dot(piece))
	if size := n.Norm(); size > 0 {
		p.skin += times * n.Dot(piece) / size
	}
	p.part = p.part || e.crossed[f]
	for _, v := range [2]r3.Vector{a, b} {
		p.box.Min = r3.Vector{X: min(p.box.Min.X, v.X), Y: min(p.box.Min.Y, v.Y), Z: min(p.box.Min.Z, v.Z)}
		p.box.Max = r3.Vector{X: max(p.box.Max.X, v.X), Y: max(p.box.Max.Y, v.Y), Z: max(p.box.Max.Z, v.Z)}
	}
}

// joinFacets joins facets across the wanted parts of their sides and of segments.
func (e *enclosing) joinFacets() {
	for f := range e.outside {
		if e.s.shell[f] < 0 {
			continue
		}
		if !e.crossed[f] && !e.wanted(int(e.outside[f])) {
			continue
		}
		for k, twin := range e.s.twin[f] {
			e.eachPart(halfedge.Edge(f<<2|k), func(w int, _, _ r3.Vector) {
				if e.wanted(w) {
					e.sets.Join(int32(f), twin.Facet())
				}
			})
		}
	}
	for i := range e.seams {
		seg := &e.seams[i]
		e.eachPiece(seg, func(_ *seam, w int, _, _ r3.Vector) {
			if e.wanted(w) || e.wanted(w+1) {
				e.sets.Join(seg.f, seg.g)
			}
		})
	}
}

// addFacets adds the wanted parts of all sides.
func (e *enclosing) addFacets() {
	for f := range e.outside {
		if e.s.shell[f] < 0 {
			continue
		}
		if !e.crossed[f] && !e.wanted(int(e.outside[f])) {
			continue
		}
		for k := range 3 {
			e.eachPart(halfedge.Edge(f<<2|k), func(w int, a, b r3.Vector) {
				if e.wanted(w) {
					e.add(int32(f), a, b, 1)
				}
			})
		}
	}
}

// addPiece adds a piece of a segment to its facets, where what is wanted lies on
// one side only: w on the right of the segment and one more on the left on f, the
// other way round on g.
func (e *enclosing) addPiece(seg *seam, w int, a, b r3.Vector) {
	switch left, right := e.wanted(w+1), e.wanted(w); {
	case left && !right:
		e.add(seg.f, a, b, 1)
		e.add(seg.g, a, b, -1)
	case right && !left:
		e.add(seg.f, a, b, -1)
		e.add(seg.g, a, b, 1)
	}
}

// eachPart calls f for the parts between piercings of a side, in their order, with
// the winding number outside the surface.
func (fl *flood) eachPart(h halfedge.Edge, f func(w int, a, b r3.Vector)) {
	from, to := fl.s.ends(h)
	at, last := fl.s.at[from], fl.s.at[to]
	if !fl.crossed[h.Facet()] {
		f(int(fl.outside[h.Facet()]), at, last)
		return
	}
	starts, _ := fl.starts(h.Facet()) // checked when the numbers were spread
	w := int(starts[h.Corner()])
	twin := fl.s.twin[h.Facet()][h.Corner()]
	part := fl.of[min(h, twin)]
	list := fl.list[part[0]:part[1]]
	for i := range list {
		p, sign := &list[i], 1
		if twin < h {
			p, sign = &list[len(list)-1-i], -1
		}
		f(w, at, p.at)
		w, at = w+sign*int(p.sign), p.at
	}
	f(w, at, last)
}

// eachPiece calls f for the pieces of a segment between cuts, in their order, with
// the winding number outside both facets.
func (fl *flood) eachPiece(seg *seam, f func(seg *seam, w int, a, b r3.Vector)) {
	w, at := seg.outside, fl.place(seg.start)
	for _, c := range seg.cuts {
		f(seg, w, at, c.at)
		w, at = w+int(c.sign), c.at
	}
	f(seg, w, at, fl.place(seg.end))
}
