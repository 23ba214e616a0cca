package mesh

// boundaryEdge is an edge used an odd number of times, in the direction in which
// its facets run it (most of them, if there are three or more).
type boundaryEdge struct {
	from, to int32
	facet    int32
}

// boundaryEdges lists them by smaller, then larger vertex.
func (s *survey) boundaryEdges() []boundaryEdge {
	if s.boundary == 0 {
		return nil
	}
	edges := make([]boundaryEdge, 0, s.boundary)
	s.table.eachEdge(0, len(s.m.Vertices), func(v int32, uses []use) {
		if len(uses)%2 == 0 {
			return
		}
		e := boundaryEdge{from: v, to: uses[0].other(), facet: uses[0].half().facet()}
		if 2*forward(uses) < len(uses) {
			e.from, e.to = e.to, e.from
		}
		edges = append(edges, e)
	})
	return edges
}

// BoundaryLoops returns the closed chains of edges along which the surface is
// open, each as the vertices on its way without repeating the first. A loop
// visits no vertex twice: where two holes touch they come as two loops. A loop
// runs as its facets do, so a cap has to run it the other way; where neighbouring
// facets disagree, so do parts of the loop.
//
// Every edge that Check counts as a boundary_edge is in exactly one loop: an odd
// number of uses comes to an even number of such edges at each vertex. The cost
// is that of Check plus the length of the loops.
func (m *Mesh) BoundaryLoops() [][]int32 {
	edges := newSurvey(m).boundaryEdges()
	loops := chainLoops(edges)
	out := make([][]int32, len(loops))
	for i, loop := range loops {
		for _, step := range loop {
			out[i] = append(out[i], step.vertex)
		}
	}
	return out
}

// LoopLengthMM returns the length of a closed chain of vertices in millimetres.
func (m *Mesh) LoopLengthMM(loop []int32) float64 {
	var s sum
	for i, v := range loop {
		s = s.plus(m.Vertices[v].Distance(m.Vertices[loop[(i+1)%len(loop)]]))
	}
	return s.value()
}

// loopStep is a vertex of a loop and the edge (by number) that leaves it.
type loopStep struct {
	vertex int32
	edge   int
}

// chainLoops walks the edges and cuts a loop off the walk whenever it comes back
// to a vertex that is on it.
func chainLoops(edges []boundaryEdge) [][]loopStep {
	leaving := map[int32][]int{}
	entering := map[int32][]int{}
	for i, e := range edges {
		leaving[e.from] = append(leaving[e.from], i)
		entering[e.to] = append(entering[e.to], i)
	}
	used := make([]bool, len(edges))
	var loops [][]loopStep
	for i := 0; i < len(edges); {
		if used[i] {
			i++
			continue
		}
		var walk []loopStep
		place := map[int32]int{}
		at := edges[i].from
		for {
			if k, seen := place[at]; seen {
				loop := append([]loopStep(nil), walk[k:]...)
				for _, step := range loop {
					delete(place, step.vertex)
				}
				loops, walk = append(loops, loop), walk[:k]
				if k == 0 {
					break
				}
			}
			// Along the facets if possible, else against them. One of the two is left
			// as long as the walk is not back at its start.
			next, ok := takeUnused(leaving, at, used)
			to := int32(0)
			if ok {
				to = edges[next].to
			} else {
				next, _ = takeUnused(entering, at, used)
				to = edges[next].from
			}
			place[at] = len(walk)
			walk = append(walk, loopStep{vertex: at, edge: next})
			at = to
		}
	}
	return loops
}

// takeUnused returns the first edge of a vertex's list that no walk has used, and
// marks it.
func takeUnused(list map[int32][]int, at int32, used []bool) (int, bool) {
	rest := list[at]
	for len(rest) > 0 && used[rest[0]] {
		rest = rest[1:]
	}
	list[at] = rest
	if len(rest) == 0 {
		return 0, false
	}
	used[rest[0]] = true
	return rest[0], true
}
