package mesh

import (
	"cmp"
	"slices"

	"bellyline/mesh/internal/earclip"

	"github.com/golang/geo/r2"
)

// trace follows segments into closed loops of nodes.
//
// Where several loops meet in a node, each keeps to the piece of section on its
// left: what comes in leaves by the next way out, clockwise. So pieces that
// touch in a point become loops of their own, and a hole that touches the rim
// of its piece becomes part of that rim; no two loops cross where the surface
// does not cross itself.
func (c *cutter) trace(s *section, segments []segment) [][]int32 {
	next := c.successors(s, segments)
	var loops [][]int32
	seen := make([]bool, len(segments))
	for first := range segments {
		if seen[first] {
			continue
		}
		var loop []int32
		for e := first; !seen[e]; e = int(next[e]) {
			seen[e] = true
			loop = append(loop, segments[e].from)
		}
		loops = append(loops, loop)
	}
	return loops
}

// successors returns for each segment the one that follows it.
func (c *cutter) successors(s *section, segments []segment) []int32 {
	// The segments by the node they start from, as runs of one array.
	byStart := make([]int32, len(segments))
	for i := range byStart {
		byStart[i] = int32(i)
	}
	slices.SortFunc(byStart, func(a, b int32) int {
		return cmp.Or(cmp.Compare(segments[a].from, segments[b].from), cmp.Compare(a, b))
	})
	first := make(map[int32]int32, len(segments)) // node -> start of its run
	for i := len(byStart) - 1; i >= 0; i-- {
		first[segments[byStart[i]].from] = int32(i)
	}
	next := make([]int32, len(segments))
	busy := make(map[int32][]int32) // nodes with several ways out: ways in
	for i, e := range segments {
		k := first[e.to]
		if int(k)+1 < len(byStart) && segments[byStart[k+1]].from == e.to {
			busy[e.to] = append(busy[e.to], int32(i))
			continue
		}
		next[i] = byStart[k]
	}
	for node, in := range busy {
		k := first[node]
		c.pair(s, segments, node, in, byStart[k:int(k)+len(in)], next)
	}
	return next
}

// spoke is a segment seen from the node where it begins or ends.
type spoke struct {
	end     r2.Point
	segment int32
	out     bool
}

// pair joins the segments that come into a node to those that leave it.
//
// Counter-clockwise round the node, a way out opens a piece of section and the
// next way in closes it. Where surfaces cross, ways do not alternate; then they
// nest like brackets, so that the joined paths still do not cross each other.
func (c *cutter) pair(s *section, segments []segment, node int32, in, out, next []int32) {
	centre := c.flat(s, node)
	spokes := make([]spoke, 0, len(in)+len(out))
	for _, e := range in {
		spokes = append(spokes, spoke{c.flat(s, segments[e].from), e, false})
	}
	for _, e := range out {
		spokes = append(spokes, spoke{c.flat(s, segments[e].to), e, true})
	}
	slices.SortStableFunc(spokes, func(a, b spoke) int { return compareAngle(centre, a.end, b.end) })
	var open []int32
	for range 2 { // the second round closes what the first left open
		for i, sp := range spokes {
			switch {
			case sp.segment < 0:
			case sp.out:
				open = append(open, sp.segment)
				spokes[i].segment = -1
			case len(open) > 0:
				next[sp.segment] = open[len(open)-1]
				open = open[:len(open)-1]
				spokes[i].segment = -1
			}
		}
	}
}

// flat returns a node in the frame of the plane.
func (c *cutter) flat(s *section, node int32) r2.Point { return c.frame.Point(s.local[node]) }

// compareAngle orders two points by their angle round a centre, from the
// positive x axis on; exact, and 0 for points on one ray.
func compareAngle(centre, a, b r2.Point) int {
	if ha, hb := lowerHalf(centre, a), lowerHalf(centre, b); ha != hb {
		if ha {
			return 1
		}
		return -1
	}
	return -earclip.Orient2D(centre, a, b)
}

// lowerHalf reports whether a lies at an angle of pi or more.
func lowerHalf(centre, a r2.Point) bool {
	return a.Y < centre.Y || a.Y == centre.Y && a.X < centre.X
}
