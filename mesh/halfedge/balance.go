package halfedge

import "bellyline/mesh/parallel"

// balanceBlock is how many facets are summed at a time.
const balanceBlock = 1 << 14

// AllBalanced reports whether every edge is run as often one way as the other.
//
// Edges are not paired one by one (a survey does that, and says which are wrong).
// Each edge has a scattered 128-bit value, added when it is run from its lower
// to its higher vertex and subtracted the other way. The sum is zero when all
// edges balance; when they do not, it is zero by chance once in 2^128.
// One pass, no memory.
func AllBalanced(triangles [][3]int32) bool {
	sums := make([][2]uint64, parallel.Count(len(triangles), balanceBlock))
	parallel.Blocks(len(triangles), balanceBlock, func(block, from, to int) {
		var s [2]uint64
		for _, t := range triangles[from:to] {
			addEdge(&s, t[0], t[1])
			addEdge(&s, t[1], t[2])
			addEdge(&s, t[2], t[0])
		}
		sums[block] = s
	})
	var all [2]uint64
	for _, s := range sums {
		all[0] += s[0]
		all[1] += s[1]
	}
	return all == [2]uint64{}
}

func addEdge(s *[2]uint64, from, to int32) {
	switch {
	case from < to:
		a, b := Scatter(Key(from, to))
		s[0] += a
		s[1] += b
	case from > to:
		a, b := Scatter(Key(to, from))
		s[0] -= a
		s[1] -= b
	}
}

// Key names the edge between two vertices, the lower index first.
func Key(lo, hi int32) uint64 { return uint64(uint32(lo))<<32 | uint64(uint32(hi)) }

// Scatter mixes a key into two words by the finalizer of SplitMix64 (Steele,
// Lea and Flood 2014, Fast Splittable Pseudorandom Number Generators; from
// memory), run from two starting points.
func Scatter(key uint64) (a, b uint64) {
	return Mix(key + 0x9e3779b97f4a7c15), Mix(key ^ 0xd1b54a32d192ed03)
}

// Mix scatters a word: each bit of it changes about half of the bits of the result.
func Mix(z uint64) uint64 {
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}
