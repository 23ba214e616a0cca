package halfedge

import (
	"slices"
	"sync"

	"bellyline/mesh/internal/hugepages"
	"bellyline/mesh/parallel"
)

// Edge is a half-edge: a side of a facet, run from its corner k to its corner k+1. It
// is named by four times the facet plus k, which fits into 32 bits for as many as
// 2^30 facets.
type Edge uint32

// Facet returns the half-edge's facet.
func (h Edge) Facet() int32 { return int32(h >> 2) }

// Corner returns at which corner of its facet the half-edge starts, 0 to 2.
func (h Edge) Corner() int { return int(h & 3) }

// After returns the corner of a triangle after corner k, counter-clockwise.
func After(k int) int { return int(afterEach[k]) }

var afterEach = [4]uint8{1, 2, 0, 0}

// Table finds the facets at each edge: half-edges sorted by the smaller of
// their two vertices. Facets with two equal corners are left out: their sides are
// one edge run both ways, which bounds nothing.
type Table struct {
	triangles [][3]int32
	start     []uint32 // half[start[v]:start[v+1]] are those with smaller vertex v
	half      []Edge   // in the order of the facets within each vertex
}

// NewTable sorts by counting, each worker its own run of facets, so the order
// within a vertex is that of the facets whatever the number of workers. It takes
// 12 bytes a facet and 4 (1 + workers) bytes a vertex.
func NewTable(triangles [][3]int32, vertices int) *Table {
	workers := edgeWorkers(len(triangles))
	counts := make([][]uint32, workers)
	run := func(f func(worker, from, to int)) {
		var wg sync.WaitGroup
		for w := range workers {
			wg.Go(func() { f(w, len(triangles)*w/workers, len(triangles)*(w+1)/workers) })
		}
		wg.Wait()
	}
	run(func(w, from, to int) {
		counts[w] = hugepages.Make[uint32](vertices)
		countBySmaller(triangles[from:to], counts[w])
	})
	t := &Table{triangles: triangles, start: startsFromCounts(counts, vertices)}
	t.half = hugepages.Make[Edge](int(t.start[vertices]))
	run(func(w, from, to int) { t.place(from, to, counts[w]) })
	return t
}

// IsDegenerate says whether a facet has two equal corners.
func IsDegenerate(t [3]int32) bool { return t[0] == t[1] || t[1] == t[2] || t[2] == t[0] }

// HasCorner says whether a facet has a vertex.
func HasCorner(t [3]int32, v int32) bool { return t[0] == v || t[1] == v || t[2] == v }

// countBySmaller counts half-edges by smaller vertex.
func countBySmaller(triangles [][3]int32, count []uint32) {
	for _, t := range triangles {
		if IsDegenerate(t) {
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
	firsts := make([]uint32, parallel.Count(vertices, Block)+1) // by block of vertices
	parallel.Blocks(vertices, Block, func(b, from, to int) {
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
	start := hugepages.Make[uint32](vertices + 1)
	parallel.Blocks(vertices, Block, func(b, from, to int) {
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

func (t *Table) place(from, to int, next []uint32) {
	for f := from; f < to; f++ {
		tri := t.triangles[f]
		if IsDegenerate(tri) {
			continue
		}
		for k := range 3 {
			v := min(tri[k], tri[After(k)])
			t.half[next[v]] = Edge(f<<2 | k)
			next[v]++
		}
	}
}

// Use is one half-edge as seen from its smaller vertex: the larger vertex, then
// whether it is run from the larger to the smaller, then the half-edge. Sorted by
// value, those of an edge stand together.
type Use uint64

// Other returns the larger vertex of the edge.
func (u Use) Other() int32 { return int32(u >> 33) }

// Backward says whether the edge is run from its larger vertex to its smaller one.
func (u Use) Backward() bool { return u>>32&1 != 0 }

// Half returns the half-edge.
func (u Use) Half() Edge { return Edge(u) }

// At returns the uses of all edges from v to a larger vertex, sorted, in the given
// scratch space, which it returns grown.
func (t *Table) At(v int32, scratch []Use) []Use {
	scratch = scratch[:0]
	for _, h := range t.half[t.start[v]:t.start[v+1]] {
		tri := &t.triangles[h.Facet()]
		k := h.Corner()
		a, b := tri[k], tri[After(k)]
		// One of them is v; the other is what is left of their sum.
		u := Use(uint32(a+b-v))<<33 | Use(h)
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

// SameEdge returns how many of the sorted uses belong to the edge of the first.
func SameEdge(uses []Use) int {
	n := 1
	for n < len(uses) && uses[n].Other() == uses[0].Other() {
		n++
	}
	return n
}

// Forward returns how many of the uses run from the smaller vertex to the larger.
func Forward(uses []Use) int {
	n := 0
	for _, u := range uses {
		if !u.Backward() {
			n++
		}
	}
	return n
}
