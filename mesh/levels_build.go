package mesh

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"
)

// levelBlock is how many facets or vertices one goroutine takes at a time.
const levelBlock = 1 << 13

// build fills l from its mesh and direction.
func (l *Levels) build() {
	l.placeOrigin()
	heights := l.heights()
	l.findEnds(heights)
	order := l.sortByLowest(heights)
	l.gatherFacets(order, heights)
	l.cancelFolds()
	l.sumRuns()
	l.raiseHighs()
}

// placeOrigin puts the local origin near the middle of the body. A float32
// coordinate less a float32 origin of like size is exact in float64.
func (l *Levels) placeOrigin() {
	box := l.mesh.Bounds()
	c := box.Centre()
	l.origin = r3.Vector{X: float64(float32(c.X)), Y: float64(float32(c.Y)), Z: float64(float32(c.Z))}
	l.base = dotExactly(l.dir, l.origin)
	// The origin may lie off the centre by a float32 step; a whole diagonal
	// instead of a half one covers that.
	l.doubt = levelDoubt * box.Diagonal()
}

// dotExactly returns a·b to twice the working precision.
func dotExactly(a, b r3.Vector) doubleDouble {
	return exactProduct(a.X, b.X).plus(exactProduct(a.Y, b.Y)).plus(exactProduct(a.Z, b.Z))
}

// heights returns the local height of every vertex.
func (l *Levels) heights() []float64 {
	vertices := l.mesh.Vertices
	heights := make([]float64, len(vertices))
	inBlocks(len(vertices), levelBlock, func(_, from, to int) {
		for v := from; v < to; v++ {
			heights[v] = dotExactly(l.dir, vertices[v].Sub(l.origin)).value()
		}
	})
	return heights
}

// findEnds finds the lowest and the highest corner in use.
func (l *Levels) findEnds(heights []float64) {
	triangles := l.mesh.Triangles
	type ends struct{ low, high int32 }
	found := make([]ends, blocksOf(len(triangles), levelBlock))
	further := func(e ends, v int32) ends {
		if heights[v] < heights[e.low] {
			e.low = v
		}
		if heights[v] > heights[e.high] {
			e.high = v
		}
		return e
	}
	inBlocks(len(triangles), levelBlock, func(block, from, to int) {
		e := ends{triangles[from][0], triangles[from][0]}
		for _, t := range triangles[from:to] {
			e = further(further(further(e, t[0]), t[1]), t[2])
		}
		found[block] = e
	})
	e := found[0]
	for _, f := range found[1:] {
		e = further(further(e, f.low), f.high)
	}
	l.low, l.high = heights[e.low], heights[e.high]
	if l.high > l.low {
		l.keyScale = keyLimit / (l.high - l.low)
	}
	for i, v := range []int32{e.low, e.high} {
		l.ends[i] = dotExactly(l.dir, l.mesh.Vertices[v]).value()
	}
}

// keyLimit is the largest sort key. Keys need not tell all heights apart, they
// must only never fall while heights rise.
const keyLimit = 1<<keyBits - 1

// key returns the sort key of a local height.
func (l *Levels) key(x float64) uint32 {
	return uint32(min(max((x-l.low)*l.keyScale, 0), keyLimit))
}

// sortByLowest returns the facets by the key of their lowest corner, equal ones
// in the order of the mesh.
func (l *Levels) sortByLowest(heights []float64) []uint64 {
	triangles := l.mesh.Triangles
	order := make([]uint64, len(triangles))
	inBlocks(len(triangles), levelBlock, func(_, from, to int) {
		for i := from; i < to; i++ {
			t := triangles[i]
			order[i] = keyed(l.key(min(heights[t[0]], heights[t[1]], heights[t[2]])), i)
		}
	})
	return radixSort(order)
}

// gatherFacets fills facets and number in the given order.
func (l *Levels) gatherFacets(order []uint64, heights []float64) {
	l.facets = make([]levelFacet, len(order))
	l.number = make([]int32, len(order))
	inBlocks(len(order), levelBlock, func(_, from, to int) {
		for k := from; k < to; k++ {
			i := item(order[k])
			l.number[k] = i
			l.facets[k] = l.measureFacet(i, heights)
		}
	})
}

// measureFacet returns facet i as level planes meet it.
//
// With N = ab×ac, twice its area vector, the shadow is N·dir/2. The part of N
// along the plane, |N×dir|/2, is the area of the facet's shadow on an upright
// wall through its section line: a triangle of the same widest section, and of
// the height of the facet.
func (l *Levels) measureFacet(i int32, heights []float64) levelFacet {
	t := l.mesh.Triangles[i]
	a, b, c := l.mesh.Vertices[t[0]], l.mesh.Vertices[t[1]], l.mesh.Vertices[t[2]]
	n := b.Sub(a).Cross(c.Sub(a))
	z := [3]float64{heights[t[0]], heights[t[1]], heights[t[2]]}
	slices.Sort(z[:])
	f := levelFacet{low: z[0], mid: z[1], high: z[2], shadow: n.Dot(l.dir) / 2}
	if tall := f.high - f.low; tall > 0 {
		f.width = n.Cross(l.dir).Norm() / tall
	}
	return f
}

// sumRuns fills sums and whole. Each block is summed by itself, then the blocks
// in their order, so the additions are the same whatever the number of threads.
func (l *Levels) sumRuns() {
	l.sums = make([]levelSum, blocksOf(len(l.facets), levelRun)+1)
	blocks := make([]levelSum, blocksOf(len(l.facets), levelBlock))
	inBlocks(len(l.facets), levelBlock, func(block, from, to int) {
		var s levelSum
		for k := from; k < to; k++ {
			if k%levelRun == 0 {
				l.sums[k/levelRun] = s
			}
			s.add(&l.facets[k])
		}
		blocks[block] = s
	})
	var before levelSum
	for b := range blocks {
		before, blocks[b] = before.plus(blocks[b]), before
	}
	l.whole = before
	l.sums[len(l.sums)-1] = before
	inBlocks(len(l.facets), levelBlock, func(block, from, _ int) {
		for r := from / levelRun; r < min(len(l.sums)-1, (from+levelBlock)/levelRun); r++ {
			l.sums[r] = l.sums[r].plus(blocks[block])
		}
	})
}

// local returns the local height of a plane at height h.
func (l *Levels) local(h float64) float64 {
	return exactSum(h, -l.base.hi).plusFloat(-l.base.lo).value()
}

// height returns the height of a local one.
func (l *Levels) height(x float64) float64 { return l.base.plusFloat(x).value() }

// isOrdinary says whether h is a number that a plane can stand at.
func isOrdinary(h float64) bool { return !math.IsNaN(h) && !math.IsInf(h, 0) }
