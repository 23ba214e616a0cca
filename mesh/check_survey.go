package mesh

import "bellyline/mesh/parallel"

// edgeCounts says how many edges and facets are out of the ordinary.
type edgeCounts struct {
	boundary    int // edges used an odd number of times
	misoriented int // edges used an even number of times, but not as often each way
	nonmanifold int // edges used more than twice
	duplicate   int // facets with the same three corners as an earlier one
}

func (c *edgeCounts) add(o edgeCounts) {
	c.boundary += o.boundary
	c.misoriented += o.misoriented
	c.nonmanifold += o.nonmanifold
	c.duplicate += o.duplicate
}

// survey is what one walk over all edges finds.
type survey struct {
	m          *Mesh
	sets       facetSets // facets connected by edges; degenerate facets alone
	degenerate int
	table      *edgeTable // nil if all edges are in order
	edgeCounts
}

// surveyBlock is how many vertices are walked before counts are kept.
const surveyBlock = 4096

// newSurvey pairs the half-edges of a mesh and joins the facets at each edge.
func newSurvey(m *Mesh) *survey {
	s := &survey{m: m, sets: newFacetSets(len(m.Triangles))}
	var inOrder bool
	if s.degenerate, inOrder = pairEdges(m, s.sets); inOrder {
		return s
	}
	// What has been joined so far does share an edge, and is left as it is.
	s.table = newEdgeTable(m)
	counts := make([]edgeCounts, parallel.Count(len(m.Vertices), surveyBlock))
	parallel.Blocks(len(m.Vertices), surveyBlock, func(b, from, to int) {
		var c edgeCounts
		s.table.eachEdge(from, to, func(_ int32, uses []use) {
			if len(uses) == 2 && uses[0].backward() != uses[1].backward() {
				s.sets.join(uses[0].half().facet(), uses[1].half().facet())
				c.duplicate += s.table.repeats(uses)
				return
			}
			c.add(s.table.oddEdge(uses))
			for _, u := range uses[1:] {
				s.sets.join(uses[0].half().facet(), u.half().facet())
			}
		})
		counts[b] = c
	})
	for _, c := range counts {
		s.add(c)
	}
	return s
}

// eachEdge calls f for every edge whose smaller vertex v is in from..to-1, in the
// order of the vertices, with its uses in the order of forward, then backward.
func (t *edgeTable) eachEdge(from, to int, f func(v int32, uses []use)) {
	var scratch []use
	for v := from; v < to; v++ {
		scratch = t.at(int32(v), scratch)
		for rest := scratch; len(rest) > 0; {
			n := sameEdge(rest)
			f(int32(v), rest[:n])
			rest = rest[n:]
		}
	}
}

// oddEdge counts what is wrong at an edge that is not simply used once each way.
func (t *edgeTable) oddEdge(uses []use) edgeCounts {
	c := edgeCounts{duplicate: t.repeats(uses)}
	if len(uses)%2 != 0 {
		c.boundary = 1
	} else if 2*forward(uses) != len(uses) {
		c.misoriented = 1
	}
	if len(uses) > 2 {
		c.nonmanifold = 1
	}
	return c
}

// balanced says whether an edge is run as often one way as the other.
func balanced(uses []use) bool { return 2*forward(uses) == len(uses) }

// opposite returns the corner of a use's facet that is not on its edge.
func (t *edgeTable) opposite(u use) int32 {
	h := u.half()
	return t.m.Triangles[h.facet()][after[after[h.corner()]]]
}

// repeats returns how many facets at an edge have the same three corners as an
// earlier one.
func (t *edgeTable) repeats(uses []use) int {
	n := 0
	t.eachRepeat(uses, func(_, _ use) { n++ })
	return n
}

// eachRepeat calls f for each use whose facet has the same three corners as that of
// an earlier one, which it is given too. Each facet is looked at from one of its
// edges only: that of its two smallest corners.
func (t *edgeTable) eachRepeat(uses []use, f func(earlier, later use)) {
	if len(uses) == 2 {
		if tip := t.opposite(uses[1]); tip == t.opposite(uses[0]) && tip > uses[0].other() {
			f(uses[0], uses[1])
		}
		return
	}
	first := make(map[int32]use, len(uses))
	for _, u := range uses {
		tip := t.opposite(u)
		if tip < u.other() {
			continue
		}
		if e, found := first[tip]; found {
			f(e, u)
		} else {
			first[tip] = u
		}
	}
}
