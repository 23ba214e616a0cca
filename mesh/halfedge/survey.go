package halfedge

import "bellyline/mesh/parallel"

// Counts says how many edges and facets are out of the ordinary.
type Counts struct {
	Boundary    int // edges used an odd number of times
	Misoriented int // edges used an even number of times, but not as often each way
	Nonmanifold int // edges used more than twice
	Duplicate   int // facets with the same three corners as an earlier one
}

func (c *Counts) add(o Counts) {
	c.Boundary += o.Boundary
	c.Misoriented += o.Misoriented
	c.Nonmanifold += o.Nonmanifold
	c.Duplicate += o.Duplicate
}

// Survey is what one walk over all edges finds.
type Survey struct {
	Triangles  [][3]int32
	Vertices   int    // how many there are
	sets       Sets   // facets connected by edges; degenerate facets alone
	Degenerate int    // facets with two equal corners
	Table      *Table // nil if all edges are in order
	Counts
}

// Block is how many vertices are walked before counts are kept.
const Block = 4096

// NewSurvey pairs the half-edges of triangles, whose vertices are numbered below
// the given count, and joins the facets at each edge.
func NewSurvey(triangles [][3]int32, vertices int) *Survey {
	s := &Survey{Triangles: triangles, Vertices: vertices, sets: NewSets(len(triangles))}
	var inOrder bool
	if s.Degenerate, inOrder = pairEdges(triangles, vertices, s.sets); inOrder {
		return s
	}
	// What has been joined so far does share an edge, and is left as it is.
	s.Table = NewTable(triangles, vertices)
	counts := make([]Counts, parallel.Count(vertices, Block))
	parallel.Blocks(vertices, Block, func(b, from, to int) {
		var c Counts
		s.Table.EachEdge(from, to, func(_ int32, uses []Use) {
			if len(uses) == 2 && uses[0].Backward() != uses[1].Backward() {
				s.sets.Join(uses[0].Half().Facet(), uses[1].Half().Facet())
				c.Duplicate += s.Table.repeats(uses)
				return
			}
			c.add(s.Table.oddEdge(uses))
			for _, u := range uses[1:] {
				s.sets.Join(uses[0].Half().Facet(), u.Half().Facet())
			}
		})
		counts[b] = c
	})
	for _, c := range counts {
		s.add(c)
	}
	return s
}

// EachEdge calls f for every edge whose smaller vertex v is in from..to-1, in the
// order of the vertices, with its uses in the order of forward, then backward.
func (t *Table) EachEdge(from, to int, f func(v int32, uses []Use)) {
	var scratch []Use
	for v := from; v < to; v++ {
		scratch = t.At(int32(v), scratch)
		for rest := scratch; len(rest) > 0; {
			n := SameEdge(rest)
			f(int32(v), rest[:n])
			rest = rest[n:]
		}
	}
}

// oddEdge counts what is wrong at an edge that is not simply used once each way.
func (t *Table) oddEdge(uses []Use) Counts {
	c := Counts{Duplicate: t.repeats(uses)}
	if len(uses)%2 != 0 {
		c.Boundary = 1
	} else if 2*Forward(uses) != len(uses) {
		c.Misoriented = 1
	}
	if len(uses) > 2 {
		c.Nonmanifold = 1
	}
	return c
}

// Balanced says whether an edge is run as often one way as the other.
func Balanced(uses []Use) bool { return 2*Forward(uses) == len(uses) }

// Opposite returns the corner of a use's facet that is not on its edge.
func (t *Table) Opposite(u Use) int32 {
	h := u.Half()
	return t.triangles[h.Facet()][After(After(h.Corner()))]
}

// repeats returns how many facets at an edge have the same three corners as an
// earlier one.
func (t *Table) repeats(uses []Use) int {
	n := 0
	t.EachRepeat(uses, func(_, _ Use) { n++ })
	return n
}

// EachRepeat calls f for each use whose facet has the same three corners as that of
// an earlier one, which it is given too. Each facet is looked at from one of its
// edges only: that of its two smallest corners.
func (t *Table) EachRepeat(uses []Use, f func(earlier, later Use)) {
	if len(uses) == 2 {
		if tip := t.Opposite(uses[1]); tip == t.Opposite(uses[0]) && tip > uses[0].Other() {
			f(uses[0], uses[1])
		}
		return
	}
	first := make(map[int32]Use, len(uses))
	for _, u := range uses {
		tip := t.Opposite(u)
		if tip < u.Other() {
			continue
		}
		if e, found := first[tip]; found {
			f(e, u)
		} else {
			first[tip] = u
		}
	}
}
