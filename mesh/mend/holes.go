package mend

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"bellyline/mesh"
	"bellyline/mesh/halfedge"
	"bellyline/mesh/internal/earclip"
	"bellyline/mesh/vector"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// rim is the edge of a hole.
type rim struct {
	vertices []int32   // in the way that the facets beside run, once round
	facets   []int32   // the facet at the edge that leaves each vertex
	centre   r3.Vector // mean of the vertices
	vector   r3.Vector // area vector of a cap: its flat area, pointing outward
	spread   float64   // largest distance of a vertex from the mean plane
	across   float64   // diagonal of the box
	box      mesh.Box  // of the vertices
}

// closeHoles caps holes. The surface is consistently oriented by now, so open
// edges run in closed chains, and a cap runs each of them the other way.
func (d *mender) closeHoles() error {
	rims := d.findRims(d.survey())
	if len(rims) == 0 {
		return nil
	}
	mend := Mend{Kind: Hole, Count: len(rims), MayChangeVolume: true}
	var flat []*rim
	var caps [][3]int32
	for i, r := range rims {
		if i%64 == 0 && d.ctx.Err() != nil {
			return d.ctx.Err()
		}
		if r.spread <= d.tolerance {
			flat = append(flat, r)
			mend.VolumeMM3 += d.flatHoleBound(r)
			continue
		}
		if r.across > d.hole {
			return fmt.Errorf("%w: %s is neither flat within %.2g mm nor at most %.3g mm wide, so there is no telling what is missing",
				ErrBeyond, d.rimText(r), d.tolerance, d.hole)
		}
		facets, err := d.capOver(r)
		if err != nil {
			return err
		}
		caps = append(caps, facets...)
		mend.VolumeMM3 += d.smallHoleBound(r, facets)
	}
	for _, r := range rims[:min(len(rims), mesh.MaxPlaces)] {
		mend.Places = append(mend.Places, mesh.Place{Facet: int(d.file[r.facets[0]]), At: d.m.Vertices[r.vertices[0]], Text: d.rimText(r)})
	}
	for _, group := range coplanar(d.m, flat, d.tolerance) {
		caps = append(caps, d.flatCap(group)...)
	}
	d.note(mend)
	d.addFacets(caps)
	return nil
}

// addFacets appends facets that are in no file.
func (d *mender) addFacets(facets [][3]int32) {
	d.m = &mesh.Mesh{Vertices: d.m.Vertices, Triangles: slices.Concat(d.m.Triangles, facets)}
	for range facets {
		d.file = append(d.file, -1)
	}
	d.turned = append(d.turned, make([]bool, len(facets))...)
}

// rimText describes a hole for people.
func (d *mender) rimText(r *rim) string {
	kind := "not flat"
	if r.spread <= d.tolerance {
		kind = "flat"
	}
	return fmt.Sprintf("a hole of %d edges, %s, %.3g mm across, at %s", len(r.vertices), kind, r.across, mesh.PlaceText(d.m.Vertices[r.vertices[0]]))
}

// findRims chains the open edges. Where holes touch at a vertex each gets its own.
func (d *mender) findRims(s *halfedge.Survey) []*rim {
	if s.Boundary == 0 {
		return nil
	}
	edges := s.BoundaryEdges()
	for i, e := range edges {
		edges[i].Facet = d.facetRunning(s, e)
	}
	var rims []*rim
	for _, loop := range halfedge.ChainLoops(edges) {
		r := &rim{}
		for _, step := range loop {
			r.vertices = append(r.vertices, step.Vertex)
			r.facets = append(r.facets, edges[step.Edge].Facet)
		}
		r.measure(d.m)
		rims = append(rims, r)
	}
	return rims
}

// facetRunning returns a facet that runs an edge the way its hole does.
func (d *mender) facetRunning(s *halfedge.Survey, e halfedge.Boundary) int32 {
	t := d.m.Triangles[e.Facet]
	for k := range 3 {
		if t[k] == e.From && t[halfedge.After(k)] == e.To {
			return e.Facet
		}
	}
	for _, u := range s.Table.At(min(e.From, e.To), nil) {
		h := u.Half()
		if u.Other() == max(e.From, e.To) && d.m.Triangles[h.Facet()][h.Corner()] == e.From {
			return h.Facet()
		}
	}
	return e.Facet
}

// measure finds the plane and the size of a rim. The area vector of a closed
// chain is half the sum of its cross products, whatever spans it.
func (r *rim) measure(m *mesh.Mesh) {
	first := m.Vertices[r.vertices[0]]
	r.box = mesh.EmptyBox()
	var sum r3.Vector
	for _, v := range r.vertices {
		p := m.Vertices[v]
		sum = sum.Add(p.Sub(first))
		r.box = r.box.With(p)
	}
	r.across = r.box.Diagonal()
	r.centre = first.Add(sum.Mul(1 / float64(len(r.vertices))))
	for i, v := range r.vertices {
		w := r.vertices[(i+1)%len(r.vertices)]
		// The cap runs from w to v.
		r.vector = r.vector.Add(m.Vertices[w].Sub(r.centre).Cross(m.Vertices[v].Sub(r.centre)).Mul(0.5))
	}
	n, ok := vector.Unit(r.vector)
	if !ok {
		r.spread = r.across
		return
	}
	for _, v := range r.vertices {
		r.spread = max(r.spread, math.Abs(m.Vertices[v].Sub(r.centre).Dot(n)))
	}
}

// coplanar groups flat rims that lie in one plane, one within the box of another,
// such as those of a face with a bore: each may be outline or island of one cap.
// Rims left apart get caps of their own, which enclose the same.
func coplanar(m *mesh.Mesh, rims []*rim, tolerance float64) [][]*rim {
	order := make([]int32, len(rims))
	for i := range order {
		order[i] = int32(i)
	}
	axis := narrowAxis(rims)
	slices.SortFunc(order, func(i, j int32) int {
		return cmp.Or(cmp.Compare(coordinate(rims[i].box.Min, axis), coordinate(rims[j].box.Min, axis)), cmp.Compare(i, j))
	})
	sets := halfedge.NewSets(len(rims))
	var open []int32 // rims whose box may still reach the next one
	for _, j := range order {
		r := rims[j]
		from := coordinate(r.box.Min, axis)
		open = slices.DeleteFunc(open, func(i int32) bool { return coordinate(rims[i].box.Max, axis) < from })
		for _, i := range open {
			if outer := rims[i]; outer.holds(r) && outer.inPlane(m, r, tolerance) || r.holds(outer) && r.inPlane(m, outer, tolerance) {
				sets.Join(i, j)
			}
		}
		open = append(open, j)
	}
	groups := map[int32][]*rim{}
	var out [][]*rim
	for i, r := range rims {
		root := sets.Root(int32(i))
		groups[root] = append(groups[root], r)
	}
	for i := range rims {
		if g := groups[int32(i)]; g != nil {
			out = append(out, g)
		}
	}
	return out
}

// narrowAxis returns the axis along which rims are the narrowest for the room they
// are spread over, so that few of them overlap.
func narrowAxis(rims []*rim) int {
	var width, room [3]float64
	if len(rims) == 0 {
		return 0
	}
	all := rims[0].box
	for _, r := range rims {
		all = all.With(r.box.Min).With(r.box.Max)
	}
	best := 0
	for axis := range 3 {
		for _, r := range rims {
			width[axis] += coordinate(r.box.Size(), axis)
		}
		room[axis] = coordinate(all.Size(), axis)
		if width[axis]*room[best] < width[best]*room[axis] {
			best = axis
		}
	}
	return best
}

// holds says whether another rim is within the box of this one.
func (r *rim) holds(o *rim) bool { return r.box.Contains(o.box.Min) && r.box.Contains(o.box.Max) }

// inPlane says whether another rim lies in the plane of this one.
func (r *rim) inPlane(m *mesh.Mesh, o *rim, tolerance float64) bool {
	n, ok := vector.Unit(r.vector)
	if !ok {
		return false
	}
	for _, v := range o.vertices {
		if math.Abs(m.Vertices[v].Sub(r.centre).Dot(n)) > 2*tolerance {
			return false
		}
	}
	return true
}

// flatCap spans rims of one plane.
func (d *mender) flatCap(group []*rim) [][3]int32 {
	largest := group[0]
	for _, r := range group {
		if r.vector.Norm2() > largest.vector.Norm2() {
			largest = r
		}
	}
	frame := earclip.NewDropAxis(largest.vector)
	rings := make([]earclip.Ring, len(group))
	for i, r := range group {
		rings[i] = d.ringOf(r, frame)
	}
	return earclip.CapRings(rings)
}

// ringOf is the outline of a rim's cap, seen along an axis.
func (d *mender) ringOf(r *rim, frame earclip.DropAxis) earclip.Ring {
	nodes := slices.Clone(r.vertices)
	slices.Reverse(nodes)
	points := make([]r2.Point, len(nodes))
	for i, v := range nodes {
		points[i] = frame.Point(d.m.Vertices[v])
	}
	return earclip.NewRing(nodes, points)
}
