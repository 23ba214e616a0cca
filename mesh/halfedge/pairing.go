package halfedge

import (
	"cmp"
	"runtime"
	"slices"
	"sync"

	"bellyline/mesh/internal/hugepages"
)

// pairing matches the half-edges of a surface that is in order: every edge used
// twice, once each way, by facets that are not the same. Nearly all files are like
// that, and for them this is all that an edge check takes. It gives up at the
// first thing out of order; then the survey says what is what.
type pairing struct {
	triangles [][3]int32
	vertices  int
	sets      Sets
	workers   int
	// start[v] is the first of the half-edges that run from v to a larger vertex.
	start      []uint32
	degenerate int // facets with two equal corners: they have no edge that counts
	// Each is that larger vertex, then the facet, with the top bit set once its
	// partner has been found.
	half []uint64
}

const paired = 1 << 63

// pairEdges joins the facets at each edge and reports whether all is in order, and
// how many facets it left out as degenerate. It takes 12 bytes a facet and up to
// 4 (1 + workers) bytes a vertex while it runs.
func pairEdges(triangles [][3]int32, vertices int, sets Sets) (degenerate int, inOrder bool) {
	p := &pairing{triangles: triangles, vertices: vertices, sets: sets, workers: edgeWorkers(len(triangles))}
	p.collect()
	return p.degenerate, p.match()
}

// edgeWorkers is how many goroutines sort half-edges. More than four would cost
// more counters than they save time.
func edgeWorkers(facets int) int {
	return min(runtime.GOMAXPROCS(0), 4, 1+facets/4096)
}

// parallel runs f once a worker.
func (p *pairing) parallel(f func(worker int)) {
	var wait sync.WaitGroup
	for w := range p.workers {
		wait.Go(func() { f(w) })
	}
	wait.Wait()
}

// share returns a worker's run of facets.
func (p *pairing) share(w int) (from, to int) {
	return len(p.triangles) * w / p.workers, len(p.triangles) * (w + 1) / p.workers
}

// collect sorts the half-edges that run to a larger vertex by their smaller one,
// counting.
func (p *pairing) collect() {
	counts := make([][]uint32, p.workers)
	degenerate := make([]int, p.workers)
	p.parallel(func(w int) {
		counts[w] = hugepages.Make[uint32](p.vertices)
		from, to := p.share(w)
		degenerate[w] = countForward(p.triangles[from:to], counts[w])
	})
	for _, n := range degenerate {
		p.degenerate += n
	}
	p.start = startsFromCounts(counts, p.vertices)
	p.half = hugepages.Make[uint64](int(p.start[p.vertices]))
	p.parallel(func(w int) {
		from, to := p.share(w)
		p.place(from, to, counts[w])
	})
}

func countForward(triangles [][3]int32, count []uint32) (degenerate int) {
	for _, t := range triangles {
		if IsDegenerate(t) {
			degenerate++
			continue
		}
		a, b, c := t[0], t[1], t[2]
		if a < b {
			count[a]++
		}
		if b < c {
			count[b]++
		}
		if c < a {
			count[c]++
		}
	}
	return degenerate
}

func (p *pairing) place(from, to int, next []uint32) {
	half := p.half
	for f := from; f < to; f++ {
		t := p.triangles[f]
		if IsDegenerate(t) {
			continue
		}
		a, b, c := t[0], t[1], t[2]
		if a < b {
			half[next[a]] = uint64(b)<<32 | uint64(f)
			next[a]++
		}
		if b < c {
			half[next[b]] = uint64(c)<<32 | uint64(f)
			next[b]++
		}
		if c < a {
			half[next[c]] = uint64(a)<<32 | uint64(f)
			next[c]++
		}
	}
}

// match finds for each half-edge that runs to a smaller vertex its partner among
// the collected ones. Workers share the vertices out, not the facets, so that no
// two of them write to the same half-edge.
func (p *pairing) match() bool {
	// As many run down as up, or else one is left over.
	if 2*len(p.half) != 3*(len(p.triangles)-p.degenerate) {
		return false
	}
	matched := make([]bool, p.workers)
	p.parallel(func(w int) {
		from, to := p.vertexAt(len(p.half)*w/p.workers), p.vertexAt(len(p.half)*(w+1)/p.workers)
		matched[w] = p.matchAt(from, to)
	})
	return !slices.Contains(matched, false)
}

// vertexAt returns the first vertex whose half-edges start at or after a place.
func (p *pairing) vertexAt(place int) int32 {
	lo, hi := 0, p.vertices
	for lo < hi {
		mid := (lo + hi) / 2
		if int(p.start[mid]) < place {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return int32(lo)
}

// matchAt matches those whose smaller vertex is in from..to-1.
func (p *pairing) matchAt(from, to int32) bool {
	p.sortLong(from, to)
	span := uint32(to - from)
	for f, t := range p.triangles {
		if IsDegenerate(t) {
			continue
		}
		a, b, c := t[0], t[1], t[2]
		if uint32(b-from) < span && a > b && !p.matchOne(b, a, c, int32(f)) ||
			uint32(c-from) < span && b > c && !p.matchOne(c, b, a, int32(f)) ||
			uint32(a-from) < span && c > a && !p.matchOne(a, c, b, int32(f)) {
			return false
		}
	}
	return true
}

// long is from how many half-edges at a vertex it pays to sort them. Otherwise the
// time would go with the square of the facets at the tip of a cone.
const long = 32

func (p *pairing) sortLong(from, to int32) {
	for v := from; v < to; v++ {
		if at := p.half[p.start[v]:p.start[v+1]]; len(at) >= long {
			slices.Sort(at)
		}
	}
}

// larger returns the larger vertex of a collected half-edge.
func larger(h uint64) int32 { return int32(h &^ paired >> 32) }

// matchOne matches the half-edge of facet f that runs from hi to lo; tip is the
// facet's third corner.
func (p *pairing) matchOne(lo, hi, tip, f int32) bool {
	at := p.half[p.start[lo]:p.start[lo+1]]
	i := 0
	if len(at) >= long {
		i, _ = slices.BinarySearchFunc(at, hi, func(h uint64, hi int32) int { return cmp.Compare(larger(h), hi) })
	}
	for i < len(at) && larger(at[i]) != hi {
		i++
	}
	if i == len(at) {
		return false
	}
	g := int32(uint32(at[i]))
	// Taken: the edge is used more than once this way. The same tip: the facets have
	// the same corners (it is enough to see that at one of their edges).
	if at[i]&paired != 0 || tip > hi && p.sameTip(g, lo, hi, tip) {
		return false
	}
	at[i] |= paired
	p.sets.Join(f, g)
	return true
}

// sameTip says whether the third corner of facet g, beside lo and hi, is tip.
func (p *pairing) sameTip(g, lo, hi, tip int32) bool {
	t := &p.triangles[g]
	return t[0]^t[1]^t[2] == lo^hi^tip
}
