package mesh

import (
	"math"
	"slices"

	"bellyline/mesh/exact"
	"bellyline/mesh/parallel"

	"github.com/golang/geo/r3"
)

// levelBlock is how many facets or vertices one goroutine takes at a time.
const levelBlock = 1 << 13

// build fills l from its mesh and direction.
func (l *Levels) build() {
	l.placeOrigin()
	heights := l.heights()
	l.findRange(heights)
	l.layLayers()
	l.sortFacets(heights)
	l.sumRuns()
	l.raiseHighs()
	l.findEnds()
}

// placeOrigin puts the local origin near the middle of the body. A float32
// coordinate less a float32 origin of like size is exact in float64.
func (l *Levels) placeOrigin() {
	box := l.mesh.VertexBox()
	c := box.Centre()
	l.origin = r3.Vector{X: float64(float32(c.X)), Y: float64(float32(c.Y)), Z: float64(float32(c.Z))}
	l.base = dotExactly(l.dir, l.origin)
	// The origin may lie off the centre by a float32 step; a whole diagonal
	// instead of a half one covers that.
	l.doubt = levelDoubt * box.Diagonal()
}

// dotExactly returns a·b to twice the working precision.
func dotExactly(a, b r3.Vector) exact.Double {
	return exact.MultiplyExactly(a.X, b.X).Plus(exact.MultiplyExactly(a.Y, b.Y)).Plus(exact.MultiplyExactly(a.Z, b.Z))
}

// heights returns the local height of every vertex.
func (l *Levels) heights() []float64 {
	vertices := l.mesh.Vertices
	heights := make([]float64, len(vertices))
	parallel.Blocks(len(vertices), levelBlock, func(_, from, to int) {
		for v := from; v < to; v++ {
			heights[v] = dotExactly(l.dir, vertices[v].Sub(l.origin)).Value()
		}
	})
	return heights
}

// findRange finds the lowest and the highest vertex: the range of the layers.
func (l *Levels) findRange(heights []float64) {
	lows := make([]float64, parallel.Count(len(heights), levelBlock))
	highs := make([]float64, len(lows))
	parallel.Blocks(len(heights), levelBlock, func(block, from, to int) {
		low, high := heights[from], heights[from]
		for _, h := range heights[from+1 : to] {
			if h < low {
				low = h
			}
			if h > high {
				high = h
			}
		}
		lows[block], highs[block] = low, high
	})
	l.low, l.high = slices.Min(lows), slices.Max(highs)
	l.floor = l.low
}

// measureFacet fills in how level planes meet the facet t, whose heights are in f.
//
// With N = ab×ac, twice its area vector, the shadow is N·dir/2. The part of N
// along the plane, |N×dir|/2, is the area of the facet's shadow on an upright
// wall through its section line: a triangle of the same widest section, and of
// the height of the facet.
func (l *Levels) measureFacet(t *[3]int32, f *levelFacet) {
	a, b, c := &l.mesh.Vertices[t[0]], &l.mesh.Vertices[t[1]], &l.mesh.Vertices[t[2]]
	n := b.Sub(*a).Cross(c.Sub(*a))
	f.shadow = n.Dot(l.dir) / 2
	if tall := f.high - f.low; tall > 0 {
		f.width = n.Cross(l.dir).Norm() / tall
	}
}

// inOrder returns three numbers in rising order.
func inOrder(a, b, c float64) (low, mid, high float64) {
	if a > b {
		a, b = b, a
	}
	if b > c {
		b, c = c, b
	}
	if a > b {
		a, b = b, a
	}
	return a, b, c
}

// sumRuns fills sums and whole. Each block is summed by itself, then the blocks
// in their order, so the additions are the same whatever the number of threads.
func (l *Levels) sumRuns() {
	l.sums = make([]levelSum, parallel.Count(len(l.facets), levelRun)+1)
	blocks := make([]levelSum, parallel.Count(len(l.facets), levelBlock))
	parallel.Blocks(len(l.facets), levelBlock, func(block, from, to int) {
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
	parallel.Blocks(len(l.facets), levelBlock, func(block, from, _ int) {
		for r := from / levelRun; r < min(len(l.sums)-1, (from+levelBlock)/levelRun); r++ {
			l.sums[r] = l.sums[r].plus(blocks[block])
		}
	})
}

// findEnds finds the heights of the lowest and the highest corner of a facet.
// They are reckoned from the vertex itself, so that along an axis they are its
// coordinate to the last bit.
func (l *Levels) findEnds() {
	lowest, highest := 0, 0
	for k := range l.facets[:l.layers[l.layerOf(l.facets[0].low)+1]] {
		if l.facets[k].low < l.facets[lowest].low {
			lowest = k
		}
	}
	for r, high := range l.highs[0] {
		if high > l.facets[highest].high {
			highest = r * levelRun
			for ; l.facets[highest].high < high; highest++ {
			}
		}
	}
	l.low, l.high = l.facets[lowest].low, l.facets[highest].high
	l.ends[0], l.ends[1] = math.Inf(1), math.Inf(-1)
	for _, v := range l.mesh.Triangles[l.facets[lowest].number] {
		l.ends[0] = min(l.ends[0], dotExactly(l.dir, l.mesh.Vertices[v]).Value())
	}
	for _, v := range l.mesh.Triangles[l.facets[highest].number] {
		l.ends[1] = max(l.ends[1], dotExactly(l.dir, l.mesh.Vertices[v]).Value())
	}
}

// local returns the local height of a plane at height h.
func (l *Levels) local(h float64) float64 {
	return exact.AddExactly(h, -l.base.Hi).PlusFloat(-l.base.Lo).Value()
}

// isOrdinary says whether h is a number that a plane can stand at.
func isOrdinary(h float64) bool { return !math.IsNaN(h) && !math.IsInf(h, 0) }
