package mesh

import (
	"slices"
	"sync"

	"bellyline/mesh/parallel"
)

// A half-edge is a side of a facet, run from its corner k to its corner k+1. It
// is named by four times the facet plus k, which fits into 32 bits for as many as
// 2^30 facets.
type halfEdge uint32

func (h halfEdge) facet() int32 { return int32(h >> 2) }
func (h halfEdge) corner() int  { return int(h & 3) }

// after is the next corner of a triangle.
var after = [4]uint8{1, 2, 0, 0}

// edgeTable finds the facets at each edge: half-edges sorted by the smaller of
// their two vertices. Facets with two equal corners are left out: their sides are
// one edge run both ways, which bounds nothing.
type edgeTable struct {
	m     *Mesh
	start []uint32   // half[start[v]:start[v+1]] are those with smaller vertex v
	half  []halfEdge // in the order of the facets within each vertex
}

// newEdgeTable sorts by counting, each worker its own run of facets, so the order
// within a vertex is that of the facets whatever the number of workers. It takes
// 12 bytes a facet and 4 (1 + workers) bytes a vertex.
func newEdgeTable(m *Mesh) *edgeTable {
	workers := edgeWorkers(m)
	counts := make([][]uint32, workers)
	run := func(f func(worker, from, to int)) {
		var wg sync.WaitGroup
		for w := range workers {
			wg.Go(func() { f(w, len(m.Triangles)*w/workers, len(m.Triangles)*(w+1)/workers) })
		}
		wg.Wait()
	}
	run(func(w, from, to int) {
		counts[w] = room[uint32](len(m.Vertices))
		countBySmaller(m.Triangles[from:to], counts[w])
	})
	t := &edgeTable{m: m, start: startsFromCounts(counts, len(m.Vertices))}
	t.half = room[halfEdge](int(t.start[len(m.Vertices)]))
	run(func(w, from, to int) { t.place(from, to, counts[w]) })
	return t
}

func isDegenerate(t [3]int32) bool { return t[0] == t[1] || t[1] == t[2] || t[2] == t[0] }

// countBySmaller counts half-edges by smaller vertex.
func countBySmaller(triangles [][3]int32, count []uint32) {
	for _, t := range triangles {
		if isDegenerate(t) {
			continue
		}
		count[min(t[0], t[1])]++
		count[min(t[1], t[2])]++
		count[min(t[2], t[0])]++
	}
}

// startsFromCounts turns each worker's counts into the places where its half-edges
// go, and returns where those of each vertex start.
func startsFromCounts(counts [][]uint32, vertices int) []uint32 {
	firsts := make([]uint32, parallel.Count(vertices, surveyBlock)+1) // by block of vertices
	parallel.Blocks(vertices, surveyBlock, func(b, from, to int) {
		all := uint32(0)
		for _, count := range counts {
			for _, n := range count[from:to] {
				all += n
			}
		}
		firsts[b+1] = all
	})
	for b := 1; b < len(firsts); b++ {
		firsts[b] += firsts[b-1]
	}
	start := room[uint32](vertices + 1)
	parallel.Blocks(vertices, surveyBlock, func(b, from, to int) {
		next := firsts[b]
		for v := from; v < to; v++ {
			start[v] = next
			for _, count := range counts {
				n := count[v]
				count[v] = next
				next += n
			}
		}
	})
	start[vertices] = firsts[len(firsts)-1]
	return start
}

func (t *edgeTable) place(from, to int, next []uint32) {
	for f := from; f < to; f++ {
		tri := t.m.Triangles[f]
		if isDegenerate(tri) {
			continue
		}
		for k := range 3 {
			v := min(tri[k], tri[after[k]])
			t.half[next[v]] = halfEdge(f<<2 | k)
			next[v]++
		}
	}
}

// use is one half-edge as seen from its smaller vertex: the larger vertex, then
// whether it is run from the larger to the smaller, then the half-edge. Sorted by
// value, those of an edge stand together.
type use uint64

func (u use) other() int32   { return int32(u >> 33) }
func (u use) backward() bool { return u>>32&1 != 0 }
func (u use) half() halfEdge { return halfEdge(u) }

// at returns the uses of all edges from v to a larger vertex, sorted, in the given
// scratch space, which it returns grown.
func (t *edgeTable) at(v int32, scratch []use) []use {
	scratch = scratch[:0]
	for _, h := range t.half[t.start[v]:t.start[v+1]] {
		tri := &t.m.Triangles[h.facet()]
		k := h.corner()
		a, b := tri[k], tri[after[k]]
		// One of them is v; the other is what is left of their sum.
		u := use(uint32(a+b-v))<<33 | use(h)
		if b == v {
			u |= 1 << 32
		}
		scratch = append(scratch, u)
	}
	if len(scratch) > 24 {
		slices.Sort(scratch)
		return scratch
	}
	for i := 1; i < len(scratch); i++ {
		u, j := scratch[i], i
		for ; j > 0 && scratch[j-1] > u; j-- {
			scratch[j] = scratch[j-1]
		}
		scratch[j] = u
	}
	return scratch
}

// sameEdge returns how many of the sorted uses belong to the edge of the first.
func sameEdge(uses []use) int {
	n := 1
	for n < len(uses) && uses[n].other() == uses[0].other() {
		n++
	}
	return n
}

// forward returns how many of the uses run from the smaller vertex to the larger.
func forward(uses []use) int {
	n := 0
	for _, u := range uses {
		if !u.backward() {
			n++
		}
	}
	return n
}
