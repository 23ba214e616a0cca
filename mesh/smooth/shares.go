package smooth

import (
	"iter"
	"runtime"

	"bellyline/mesh/parallel"
	"bellyline/mesh/radix"
)

// vertexRange is the least and the greatest vertex of some facets.
type vertexRange struct{ least, greatest int32 }

// findRanges finds the range of every block of facets.
func (b *bending) findRanges() {
	b.ranges = make([]vertexRange, parallel.Count(len(b.mesh.Triangles), bendBlock))
	parallel.Blocks(len(b.mesh.Triangles), bendBlock, func(block, from, to int) {
		first := b.mesh.Triangles[from][0]
		r := vertexRange{first, first}
		for _, t := range b.mesh.Triangles[from:to] {
			r.least = min(r.least, t[0], t[1], t[2])
			r.greatest = max(r.greatest, t[0], t[1], t[2])
		}
		b.ranges[block] = r
	})
}

// sharesEach is into how many shares the vertices are cut for each processor, so that
// none waits long for another.
const sharesEach = 4

// eachShare calls work for stretches of vertices, on all processors, and work looks
// through all facets that may have some of them. So every vertex gets its terms in
// the order of the facets, whatever the number of threads, and none is locked.
func (b *bending) eachShare(work func(from, to int32)) {
	shares := radix.SplitEvenly(len(b.vertices), sharesEach*runtime.GOMAXPROCS(0))
	parallel.Blocks(len(shares), 1, func(_, i, _ int) { work(int32(shares[i][0]), int32(shares[i][1])) })
}

// facetsNear gives the blocks of facets, as the first and the one behind the last,
// that may have vertices of a share. In most files these are few.
func (b *bending) facetsNear(from, to int32) iter.Seq2[int, int] {
	return func(yield func(first, end int) bool) {
		for i, r := range b.ranges {
			if r.least < to && r.greatest >= from && !yield(i*bendBlock, min(i*bendBlock+bendBlock, len(b.mesh.Triangles))) {
				return
			}
		}
	}
}
