package mend

import (
	"cmp"
	"fmt"
	"slices"

	"bellyline/mesh"
	"bellyline/mesh/halfedge"
)

// splitTJoints puts corners that lie on an open edge, within the tolerance, into
// that edge, where that leaves fewer edges open. Edges that were split on one side
// may then fit the other side's parts, so it goes round until nothing is gained,
// which takes two or three rounds, and no more than splitRounds.
func (d *mender) splitTJoints() error {
	for range splitRounds {
		s := d.survey()
		if s.Boundary == 0 {
			return nil
		}
		splits := d.findSplits(s)
		if len(splits) == 0 {
			return nil
		}
		if err := d.ctx.Err(); err != nil {
			return err
		}
		d.applySplits(splits)
	}
	return nil
}

const splitRounds = 8

// sideCorners is the corners to be put into the sides of a facet, in the order in which
// the sides run.
type sideCorners [3][]int32

func (s *sideCorners) has(v int32) bool {
	return slices.Contains(s[0], v) || slices.Contains(s[1], v) || slices.Contains(s[2], v)
}

// openRuns is the open edges by their ends, in the way that their facets run them.
type openRuns map[[2]int32]bool

// findSplits chooses the splits of one round. Each is judged by the edges that
// are open after those chosen before it, so every round leaves fewer open.
func (d *mender) findSplits(s *halfedge.Survey) map[int32]*sideCorners {
	open := make(openRuns, s.Boundary)
	var corners []int32
	for _, e := range s.BoundaryEdges() {
		open[[2]int32{e.From, e.To}] = true
		corners = append(corners, e.From, e.To)
	}
	slices.Sort(corners)
	tree := newPointTree(d.m.Vertices, slices.Compact(corners))
	splits := map[int32]*sideCorners{}
	for _, h := range loneEdges(s) {
		f, k := h.Facet(), h.Corner()
		t := d.m.Triangles[f]
		a, b, c := t[k], t[halfedge.After(k)], t[halfedge.After(halfedge.After(k))]
		points := open.onWay(a, b, d.cornersOn(tree, a, b, c))
		if open.gain(a, b, points) <= 0 || splits[f] != nil && slices.ContainsFunc(points, splits[f].has) {
			continue
		}
		if splits[f] == nil {
			splits[f] = &sideCorners{}
		}
		splits[f][k] = points
		open.split(a, b, points)
	}
	return splits
}

// loneEdges returns the half-edges that no other facet shares, in the order of
// the vertices.
func loneEdges(s *halfedge.Survey) []halfedge.Edge {
	var lone []halfedge.Edge
	s.Table.EachEdge(0, s.Vertices, func(_ int32, uses []halfedge.Use) {
		if len(uses) == 1 {
			lone = append(lone, uses[0].Half())
		}
	})
	return lone
}

// cornersOn returns the vertices of the tree that lie between a and b within the
// tolerance of the straight line, in order. A vertex that near to a or b is
// another matter, and so is the corner c across.
func (d *mender) cornersOn(tree *pointTree, a, b, c int32) []int32 {
	type hit struct {
		along float64
		v     int32
	}
	from, to := d.m.Vertices[a], d.m.Vertices[b]
	way := to.Sub(from)
	length := way.Norm()
	if length <= 2*d.tolerance {
		return nil
	}
	var hits []hit
	tree.near(from, to, d.tolerance, func(v int32) {
		if v == a || v == b || v == c {
			return
		}
		p := d.m.Vertices[v].Sub(from)
		x := p.Dot(way) / length
		if x > d.tolerance && x < length-d.tolerance && p.Cross(way).Norm()/length <= d.tolerance {
			hits = append(hits, hit{x, v})
		}
	})
	slices.SortFunc(hits, func(p, q hit) int { return cmp.Or(cmp.Compare(p.along, q.along), cmp.Compare(p.v, q.v)) })
	points := make([]int32, len(hits))
	for i, h := range hits {
		points[i] = h.v
	}
	return points
}

// onWay leaves out points from which no open edge leads back to the point before
// on the way from a to b, and to which none leads from the next.
func (open openRuns) onWay(a, b int32, points []int32) []int32 {
	kept := make([]int32, 0, len(points))
	before := a
	for i, v := range points {
		next := b
		if i+1 < len(points) {
			next = points[i+1]
		}
		if open[[2]int32{v, before}] || open[[2]int32{next, v}] {
			kept = append(kept, v)
			before = v
		}
	}
	return kept
}

// gain returns how many edges fewer are open when the one from a to b is split.
func (open openRuns) gain(a, b int32, points []int32) int {
	if len(points) == 0 {
		return 0
	}
	n := 1 // the edge itself goes
	eachPart(a, b, points, func(from, to int32) {
		if open[[2]int32{to, from}] {
			n++
		} else {
			n--
		}
	})
	return n
}

// split replaces an edge by its parts. A part that is run the other way closes.
func (open openRuns) split(a, b int32, points []int32) {
	delete(open, [2]int32{a, b})
	eachPart(a, b, points, func(from, to int32) {
		if back := [2]int32{to, from}; open[back] {
			delete(open, back)
		} else {
			open[[2]int32{from, to}] = true
		}
	})
}

// eachPart calls f for the parts of an edge.
func eachPart(a, b int32, points []int32, f func(from, to int32)) {
	for _, v := range points {
		f(a, v)
		a = v
	}
	f(a, b)
}

// applySplits cuts the facets. A facet bends by no more than the distance h of the
// corner from its edge, so this moves no more volume than h times its area.
func (d *mender) applySplits(splits map[int32]*sideCorners) {
	mend := Mend{Kind: TJoint, WithinMM: d.foundMM}
	triangles := make([][3]int32, 0, len(d.m.Triangles)+2*len(splits))
	file, turned := make([]int32, 0, cap(triangles)), make([]bool, 0, cap(triangles))
	for f, t := range d.m.Triangles {
		sp := splits[int32(f)]
		if sp == nil {
			triangles, file, turned = append(triangles, t), append(file, d.file[f]), append(turned, d.turned[f])
			continue
		}
		off := 0.0
		for k, points := range sp {
			a, b := d.m.Vertices[t[k]], d.m.Vertices[t[halfedge.After(k)]]
			for _, v := range points {
				p := d.m.Vertices[v]
				off = max(off, p.Sub(a).Cross(b.Sub(a)).Norm()/b.Distance(a))
				mend.Count++
				if len(mend.Places) < mesh.MaxPlaces {
					mend.Places = append(mend.Places, mesh.Place{Facet: int(d.file[f]), At: p,
						Text: fmt.Sprintf("corner %s on the edge from %s to %s", mesh.PlaceText(p), mesh.PlaceText(a), mesh.PlaceText(b))})
				}
			}
		}
		mend.VolumeMM3 += off * d.m.AreaOf(f)
		triangles = cutFacet(triangles, t, *sp)
		for len(file) < len(triangles) {
			file, turned = append(file, d.file[f]), append(turned, d.turned[f])
		}
	}
	mend.MayChangeVolume = mend.VolumeMM3 > d.harmless
	d.note(mend)
	d.m, d.file, d.turned = &mesh.Mesh{Vertices: d.m.Vertices, Triangles: triangles}, file, turned
}

// cutFacet appends the parts of a facet with points on its sides: a fan over one
// side from the corner across, its outer facets cut again at the other sides.
func cutFacet(out [][3]int32, t [3]int32, sp sideCorners) [][3]int32 {
	k := slices.IndexFunc(sp[:], func(points []int32) bool { return len(points) > 0 })
	if k < 0 {
		return append(out, t)
	}
	a, b, c := t[k], t[halfedge.After(k)], t[halfedge.After(halfedge.After(k))]
	points := sp[k]
	last := len(points) - 1
	out = cutFacet(out, [3]int32{a, points[0], c}, sideCorners{nil, nil, sp[halfedge.After(halfedge.After(k))]})
	for i := range last {
		out = append(out, [3]int32{points[i], points[i+1], c})
	}
	return cutFacet(out, [3]int32{points[last], b, c}, sideCorners{nil, sp[halfedge.After(k)], nil})
}
