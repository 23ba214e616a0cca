package fill

import (
	"context"
	"sync/atomic"

	"bellyline/mesh"
	"bellyline/mesh/halfedge"
	"bellyline/mesh/internal/bvh"
	"bellyline/mesh/internal/lattice"
	"bellyline/mesh/parallel"
)

// placement says where the corners of facets are on the lattice, and which corners
// are the same one: those with the same id. It must be safe for many goroutines.
type placement interface {
	facet(f int32) (ids [3]int32, at lattice.Corners)
}

// welded places corners by their vertices.
type welded struct {
	m *mesh.Mesh
	lattice.Lattice
}

func (w *welded) facet(f int32) (ids [3]int32, at lattice.Corners) {
	ids = w.m.Triangles[f]
	for k, v := range ids {
		at[k] = w.Corner(v, w.m.Vertices[v])
	}
	return ids, at
}

// hit says that a side of a facet goes through another facet.
type hit struct {
	edge  halfedge.Edge
	facet int32
	sign  int8 // +1 inward, along the half-edge
}

// crossings is what a search found.
type crossings struct {
	hits []hit // twice for each edge: once from each of its facets
	// folded says that two facets share an edge and run it the same way, so it is
	// used more than twice.
	folded bool
	err    error
}

func (c *crossings) add(d crossings) {
	c.hits = append(c.hits, d.hits...)
	c.folded = c.folded || d.folded
	if c.err == nil {
		c.err = d.err
	}
}

// doubtful is what may touch something.
type doubtful struct {
	// flags says of each box of the tree whether it holds a leaf that may touch
	// another: a slice a level.
	flags  [][]bool
	frame  []int32 // of each leaf, its place in frames
	frames []leafFrame
}

// doubtfulTree returns the tree of a mesh on a lattice, and what of it is left to be
// looked at facet by facet. The surface has to be balanced. It fails if ctx ends.
func doubtfulTree(ctx context.Context, m *mesh.Mesh, l lattice.Lattice, box mesh.Box) (*bvh.Tree, doubtful, error) {
	t, cones := bvh.Build(ctx, m, box, thinnest*l.Clearance())
	if err := ctx.Err(); err != nil {
		return nil, doubtful{}, err
	}
	isClear := findClear(ctx, t, cones, l.Clearance())
	d := doubtAbout(t, func(leaf int) bool { return !isClear[leaf].Load() }, true)
	return t, d, ctx.Err()
}

// doubtAbout returns doubt about some leaves of a surface that is balanced or not.
func doubtAbout(t *bvh.Tree, some func(leaf int) bool, balanced bool) doubtful {
	d := doubtful{flags: make([][]bool, len(t.Levels)), frame: make([]int32, len(t.Levels[0]))}
	var list []int
	for level := range t.Levels {
		d.flags[level] = make([]bool, len(t.Levels[level]))
		for i := range d.flags[level] {
			if level == 0 && some(i) {
				d.flags[0][i], d.frame[i] = true, int32(len(list))
				list = append(list, i)
			}
		}
		if level > 0 {
			for i, flag := range d.flags[level-1] {
				d.flags[level][i/bvh.Fan] = d.flags[level][i/bvh.Fan] || flag
			}
		}
	}
	l := lattice.New(t.Box, 0)
	hubs := make([]int32, len(list))
	for i := range hubs {
		hubs[i] = -1
	}
	if balanced {
		hubs = hubsOf(t, list, l.Clearance())
	}
	d.frames = make([]leafFrame, len(list))
	parallel.Blocks(len(list), bvh.Block/bvh.Fan, func(_, from, to int) {
		for i := from; i < to; i++ {
			d.frames[i] = frameOf(t, t.Leaf(list[i]), l.StepMM*lattice.LongestMove)
			d.frames[i].hub = hubs[i]
		}
	})
	return d
}

// crossSearch holds what one worker needs to find facets that cross.
type crossSearch struct {
	t      *bvh.Tree
	doubt  doubtful
	place  placement
	slack  float32
	stack  []bvh.Node
	a, b   leafFacets
	result crossings
}

// leafFacets is a leaf with its corners looked up.
type leafFacets struct {
	n      int
	facets [bvh.Fan]int32
	ids    [bvh.Fan][3]int32
	at     [bvh.Fan]lattice.Corners
	box    [bvh.Fan]mesh.Box
}

// findCrossings looks for facets that cross among the doubtful leaves. It
// stops early, with an error, when ctx ends.
func findCrossings(ctx context.Context, t *bvh.Tree, doubt doubtful, place placement) (crossings, error) {
	return lookForCrossings(ctx, t, doubt, place, false)
}

// anyCrossing says whether there is any crossing, or an edge used more than twice, or
// a doubt about that. It stops when it knows, or when ctx ends.
func anyCrossing(ctx context.Context, t *bvh.Tree, doubt doubtful, place placement) (bool, error) {
	found, err := lookForCrossings(ctx, t, doubt, place, true)
	if ctx.Err() != nil {
		return false, ctx.Err()
	}
	return err != nil || found.folded || len(found.hits) > 0, nil //nolint:nilerr // a doubt is an answer here
}

// lookForCrossings is findCrossings, or if one is enough, stops at the first.
func lookForCrossings(ctx context.Context, t *bvh.Tree, doubt doubtful, place placement, one bool) (crossings, error) {
	var enough atomic.Bool
	const block = 64
	leaves := len(t.Levels[0])
	results := make([]crossings, parallel.Count(leaves, block))
	slack := bvh.Above32(lattice.New(t.Box, 0).StepMM * lattice.LongestMove)
	parallel.Blocks(leaves, block, func(b, from, to int) {
		s := crossSearch{t: t, doubt: doubt, place: place, slack: slack}
		for i := from; i < to && ctx.Err() == nil && !enough.Load(); i++ {
			if !doubt.flags[0][i] {
				continue
			}
			s.leaf(int32(i))
			if one && (len(s.result.hits) > 0 || s.result.folded || s.result.err != nil) {
				enough.Store(true)
			}
		}
		results[b] = s.result
	})
	if err := ctx.Err(); err != nil {
		return crossings{}, err
	}
	var all crossings
	for _, r := range results {
		all.add(r)
	}
	return all, all.err
}

// leaf compares the facets of a leaf with each other and with those of later ones.
func (s *crossSearch) leaf(i int32) {
	s.a.load(s.t.Leaf(int(i)), s.place)
	frame := &s.doubt.frames[s.doubt.frame[i]]
	for p := range s.a.n {
		for q := range p {
			if frame.hub < 0 {
				s.pair(&s.a, p, &s.a, q)
			}
		}
	}
	near := s.t.Levels[0][i]
	for k := range 3 {
		near.Min[k] -= s.slack
		near.Max[k] += s.slack
	}
	root, _ := s.t.Root()
	if root.Level == 0 {
		return // there is no other leaf
	}
	s.stack = append(s.stack[:0], root)
	last := i // the last leaf of each level's box that holds leaf i
	for len(s.stack) > 0 {
		n := s.stack[len(s.stack)-1]
		s.stack = s.stack[:len(s.stack)-1]
		if n.Level == 0 {
			if frame.apart(&s.doubt.frames[s.doubt.frame[n.Index]]) {
				continue
			}
			s.b.load(s.t.Leaf(int(n.Index)), s.place)
			for p := range s.a.n {
				for q := range s.b.n {
					s.pair(&s.a, p, &s.b, q)
				}
			}
			continue
		}
		// Boxes of this level before the one that holds leaf i hold earlier leaves only.
		below := n.Level - 1
		own := last
		for range below {
			own /= bvh.Fan
		}
		from, to := s.t.Children(n)
		for c := max(from, own); c < to; c++ {
			if s.doubt.flags[below][c] && (below > 0 || c > i) && s.t.Levels[below][c].Meets(&near) {
				s.stack = append(s.stack, bvh.Node{Level: below, Index: c})
			}
		}
	}
}

func (l *leafFacets) load(facets []int32, place placement) {
	l.n = 0
	for _, f := range facets {
		ids, at := place.facet(f)
		if halfedge.IsDegenerate(ids) {
			continue // without area whatever its corners do: two sides that are one
		}
		l.facets[l.n], l.ids[l.n], l.at[l.n], l.box[l.n] = f, ids, at, at.Box()
		l.n++
	}
}

// pair compares two facets.
func (s *crossSearch) pair(a *leafFacets, p int, b *leafFacets, q int) {
	if !a.box[p].Meets(&b.box[q]) {
		return
	}
	switch shared := sharedCorners(a.ids[p], b.ids[q]); {
	case shared >= 2:
		// Off one plane, facets with a common edge meet nowhere else.
		s.result.folded = s.result.folded || sameWay(a.ids[p], b.ids[q])
	default:
		s.sides(a, p, b, q)
		s.sides(b, q, a, p)
	}
}

// sides finds where sides of one facet go through another.
func (s *crossSearch) sides(a *leafFacets, p int, b *leafFacets, q int) {
	edges, facet := &a.at[p], &b.at[q]
	var side [3]int
	for k := range 3 {
		if !halfedge.HasCorner(b.ids[q], a.ids[p][k]) {
			side[k] = facet.Side(edges[k])
		}
	}
	for k := range 3 {
		j := halfedge.After(k)
		if halfedge.HasCorner(b.ids[q], a.ids[p][k]) || halfedge.HasCorner(b.ids[q], a.ids[p][j]) {
			continue
		}
		if side[k] == side[j] && side[k] != 0 {
			continue
		}
		sign, err := facet.PierceFrom(edges[k], edges[j], side[k], side[j])
		if err != nil {
			s.result.err = err
			return
		}
		if sign != 0 {
			s.result.hits = append(s.result.hits, hit{
				edge: halfedge.Edge(a.facets[p]<<2 | int32(k)), facet: b.facets[q], sign: int8(sign),
			})
		}
	}
}
