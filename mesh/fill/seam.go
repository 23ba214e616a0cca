package fill

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"bellyline/mesh/halfedge"
	"bellyline/mesh/internal/lattice"

	"github.com/golang/geo/r3"
)

// seam is the line in which two facets cross. It runs along the cross product
// of the normals of f and g, so on f the inner side of g is on its left, and on g
// the inner side of f on its right.
type seam struct {
	f, g       int32 // f < g
	start, end seamEnd
	cuts       []cut // where other facets go through it, in order along it
	outside    int   // winding number outside both facets, at its start
}

// seamEnd is an end of a seam: where an edge of one facet goes through the
// other, or a corner that both have.
type seamEnd struct {
	piercing int32 // index, -1 if the end is a corner
	corner   int32 // id
}

// cut is a place where a third facet goes through a segment.
type cut struct {
	facet    int32
	sign     int8           // +1 when the segment goes in there
	from, to lattice.Approx // heights of the segment's ends over the facet, of opposite signs, times their weights
	at       r3.Vector
}

// arrangement is how facets cross: all segments, in the order of f and g.
type arrangement struct {
	*piercings
	seams []seam
}

// newArrangement finds the segments and where facets go through them.
func newArrangement(ctx context.Context, p *piercings) (*arrangement, error) {
	a := &arrangement{piercings: p}
	if err := a.findSeams(); err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if err := a.findCuts(ctx); err != nil {
		return nil, err
	}
	return a, nil
}

// loose is an end that has not been joined to another yet.
type loose struct {
	f, g     int32
	piercing int32
	isEnd    bool
}

// findSeams joins ends.
func (a *arrangement) findSeams() error {
	ends := make([]loose, 0, 2*len(a.list))
	for i, p := range a.list {
		twin := a.s.twin[p.edge.Facet()][p.edge.Corner()]
		ends = append(ends,
			looseEnd(p.edge.Facet(), p.facet, int32(i), p.sign > 0),
			looseEnd(twin.Facet(), p.facet, int32(i), p.sign < 0))
	}
	slices.SortFunc(ends, func(x, y loose) int {
		return cmp.Or(cmp.Compare(x.f, y.f), cmp.Compare(x.g, y.g), cmp.Compare(x.piercing, y.piercing))
	})
	for len(ends) > 0 {
		n := 1
		for n < len(ends) && ends[n].f == ends[0].f && ends[n].g == ends[0].g {
			n++
		}
		seg, err := a.join(ends[:n])
		if err != nil {
			return err
		}
		a.seams = append(a.seams, seg)
		ends = ends[n:]
	}
	return nil
}

// looseEnd returns the end that facet other puts to the segment on the facet whose
// side goes through it. A side that goes in has the inner part of other ahead of
// it, so the segment, with that part on its left, comes out of the facet there.
func looseEnd(facet, other, piercing int32, goesIn bool) loose {
	if facet < other {
		return loose{facet, other, piercing, goesIn}
	}
	return loose{other, facet, piercing, !goesIn} // it runs the other way on g
}

// join makes a segment of its two ends, or of one and the corner that both facets
// have.
func (a *arrangement) join(ends []loose) (seam, error) {
	seg := seam{f: ends[0].f, g: ends[0].g}
	start := seamEnd{piercing: ends[0].piercing, corner: -1}
	var end seamEnd
	switch shared := commonCorner(a.s.ids[seg.f], a.s.ids[seg.g]); {
	case len(ends) == 2 && ends[0].isEnd != ends[1].isEnd && shared < 0:
		end = seamEnd{piercing: ends[1].piercing, corner: -1}
	case len(ends) == 1 && shared >= 0:
		end = seamEnd{piercing: -1, corner: shared}
	default:
		return seg, fmt.Errorf("%w: facets %d and %d, %d ends", errInconsistent, seg.f+1, seg.g+1, len(ends))
	}
	if ends[0].isEnd {
		start, end = end, start
	}
	seg.start, seg.end = start, end
	return seg, nil
}

func commonCorner(a, b [3]int32) int32 {
	for _, id := range a {
		if halfedge.HasCorner(b, id) {
			return id
		}
	}
	return -1
}

// place returns where an end of a segment is on the lattice.
func (a *arrangement) place(e seamEnd) r3.Vector {
	if e.piercing < 0 {
		return a.s.at[e.corner]
	}
	return a.list[e.piercing].at
}

// heightOf returns the height of an end over a facet times a positive weight.
func (a *arrangement) heightOf(facet int32, e seamEnd) (height lattice.Approx, weight float64) {
	if e.piercing < 0 {
		return a.s.cornerHeight(facet, e.corner), 1
	}
	return a.s.heightAt(facet, &a.list[e.piercing])
}

// find returns the segment of two facets, -1 if they do not cross.
func (a *arrangement) find(f, g int32) int {
	if f > g {
		f, g = g, f
	}
	i, found := slices.BinarySearchFunc(a.seams, [2]int32{f, g}, func(s seam, k [2]int32) int {
		return cmp.Or(cmp.Compare(s.f, k[0]), cmp.Compare(s.g, k[1]))
	})
	if !found {
		return -1
	}
	return i
}
