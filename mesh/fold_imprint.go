package mesh

import (
	"math"

	"bellyline/mesh/halfedge"
	"bellyline/mesh/parallel"

	"github.com/golang/geo/r3"
)

// imprint returns the body with every facet cut along the planes that stand on the
// knots. Its shape stays as it was. Both facets of an edge share the points made on
// it, so nothing opens. The imprinter knows where the vertices stand.
func (f *Fold) imprint(m *Mesh) (*Mesh, *imprinter) {
	p := newImprinter(f, m)
	over := make([][]int32, cutBlocks(len(m.Triangles)))
	knots := make([]int, len(over))
	parallel.Blocks(len(m.Triangles), cutBlock, func(block, from, to int) {
		for i := from; i < to; i++ {
			if n := p.knotsIn(m.Triangles[i]); n > 0 {
				over[block] = append(over[block], int32(i))
				knots[block] += n
			}
		}
	})
	cuts := 0
	for _, n := range knots {
		cuts += n
	}
	p.nodes = newEdgeKnots(2 * cuts) // a facet's cut has two ends
	out := keepBut(m.Triangles, over, 3*cuts)
	for _, block := range over {
		for _, i := range block {
			out = p.cut(out, m.Triangles[i])
		}
	}
	return &Mesh{Vertices: p.vertices, Triangles: out}, p
}

// keepBut returns the facets but for those listed block by block, with room for more
// behind them.
func keepBut(triangles [][3]int32, listed [][]int32, room int) [][3]int32 {
	starts, kept := make([]int, len(listed)), len(triangles)
	for b := range listed {
		starts[b] = b*cutBlock - (len(triangles) - kept)
		kept -= len(listed[b])
	}
	out := make([][3]int32, kept, kept+room)
	parallel.Blocks(len(triangles), cutBlock, func(block, from, to int) {
		rest := out[starts[block]:]
		for _, i := range listed[block] {
			rest = rest[copy(rest, triangles[from:i]):]
			from = int(i) + 1
		}
		copy(rest, triangles[from:to])
	})
	return out
}

// imprinter holds where vertices lie among the knots.
type imprinter struct {
	fold     *Fold
	vertices []r3.Vector
	along    []float64
	// station is 2k for a vertex before knot k and behind the one before it, 2k+1
	// for one on knot k.
	station  []int32
	nodes    edgeKnots
	polygons [3][]strip // scratch: two pieces that take turns, and the one before
}

// strip is a corner of a piece of facet, with the facet's edge that leads to the next.
type strip struct {
	vertex int32
	from   int32 // ends of the edge in the body
	to     int32
}

// onKnot is how near to a knot a vertex counts as on it, in units of the largest
// distance along. Points made on a knot miss it by a few roundings (2^-53 each);
// cut once more there they would leave slivers. The fold is steady over its knots,
// so that a vertex off by this much misses its height by that times the slope.
const onKnot = 0x1p-46

func newImprinter(f *Fold, m *Mesh) *imprinter {
	n := len(m.Vertices)
	p := &imprinter{fold: f, along: make([]float64, n, n+n/8), station: make([]int32, n, n+n/8), vertices: make([]r3.Vector, n, n+n/8)}
	largest := 0.0
	for _, k := range f.knots {
		largest = max(largest, math.Abs(k.X))
	}
	parallel.Blocks(n, cutBlock, func(_, from, to int) {
		copy(p.vertices[from:to], m.Vertices[from:to])
		for i := from; i < to; i++ {
			x := f.along.Dot(m.Vertices[i])
			p.along[i] = x
			p.station[i] = f.stationOf(x, onKnot*max(largest, math.Abs(x)))
		}
	})
	return p
}

// stationOf returns the station of a place along the fold: by halving, without the
// calls of the library's search, as every vertex asks.
func (f *Fold) stationOf(x, near float64) int32 {
	low, high := 0, len(f.knots)
	for low < high {
		if mid := (low + high) / 2; f.knots[mid].X < x-near {
			low = mid + 1
		} else {
			high = mid
		}
	}
	if low < len(f.knots) && f.knots[low].X <= x+near {
		return int32(2*low + 1)
	}
	return int32(2 * low)
}

// firstInside returns the first station on a knot past s.
func firstInside(s int32) int32 { return (s + 1) | 1 }

func (p *imprinter) reach(t [3]int32) (low, high int32) {
	a, b, c := p.station[t[0]], p.station[t[1]], p.station[t[2]]
	return min(a, b, c), max(a, b, c)
}

// knotsIn counts the knots that a facet reaches over.
func (p *imprinter) knotsIn(t [3]int32) int {
	low, high := p.reach(t)
	return max(0, int(high-firstInside(low)+1)/2)
}

// cut appends the pieces of a facet, one strip after the other.
func (p *imprinter) cut(out [][3]int32, t [3]int32) [][3]int32 {
	if halfedge.IsDegenerate(t) {
		return out // a line that would leave its neighbours unmatched in part: it bounds nothing
	}
	low, high := p.reach(t)
	rest, turn := append(p.polygons[0][:0], strip{t[0], t[0], t[1]}, strip{t[1], t[1], t[2]}, strip{t[2], t[2], t[0]}), 0
	p.polygons[0] = rest
	for s := firstInside(low); s < high; s += 2 {
		turn = 1 - turn
		before, behind := p.part(rest, s, p.polygons[2][:0], p.polygons[turn][:0])
		p.polygons[2], p.polygons[turn] = before, behind
		out = fan3(out, before)
		rest = behind
	}
	return fan3(out, rest)
}

// part parts a convex piece at a knot. An edge along a knot is never met again, so
// it does not matter which edge of the facet it remembers. The pieces are appended.
func (p *imprinter) part(piece []strip, knot int32, before, behind []strip) ([]strip, []strip) {
	for i, c := range piece {
		here, there := p.station[c.vertex]-knot, p.station[piece[(i+1)%len(piece)].vertex]-knot
		if here <= 0 {
			before = append(before, c)
		}
		if here >= 0 {
			behind = append(behind, c)
		}
		if here < 0 && there > 0 || here > 0 && there < 0 {
			n := strip{p.node(c.from, c.to, knot), c.from, c.to}
			before, behind = append(before, n), append(behind, n)
		}
	}
	return before, behind
}

// node returns the vertex in which an edge of the body meets a knot's plane.
func (p *imprinter) node(a, b, knot int32) int32 {
	lo, hi := min(a, b), max(a, b)
	n, found := p.nodes.find(halfedge.Key(lo, hi), knot, int32(len(p.vertices)))
	if found {
		return n
	}
	x := p.fold.knots[knot/2].X
	from, to := p.vertices[lo], p.vertices[hi]
	t := (x - p.along[lo]) / (p.along[hi] - p.along[lo])
	p.vertices = append(p.vertices, from.Add(to.Sub(from).Mul(t)))
	p.along = append(p.along, x)
	p.station = append(p.station, knot)
	return n
}

// fan3 appends a convex polygon as facets.
func fan3(out [][3]int32, polygon []strip) [][3]int32 {
	for i := 2; i < len(polygon); i++ {
		out = append(out, [3]int32{polygon[0].vertex, polygon[i-1].vertex, polygon[i].vertex})
	}
	return out
}
