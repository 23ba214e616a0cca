package halfedge

// Boundary is an edge used an odd number of times, in the direction in which
// its facets run it (most of them, if there are three or more).
type Boundary struct {
	From, To int32
	Facet    int32
}

// BoundaryEdges lists them by smaller, then larger vertex.
func (s *Survey) BoundaryEdges() []Boundary {
	if s.Boundary == 0 {
		return nil
	}
	edges := make([]Boundary, 0, s.Boundary)
	s.Table.EachEdge(0, s.Vertices, func(v int32, uses []Use) {
		if len(uses)%2 == 0 {
			return
		}
		e := Boundary{From: v, To: uses[0].Other(), Facet: uses[0].Half().Facet()}
		if 2*Forward(uses) < len(uses) {
			e.From, e.To = e.To, e.From
		}
		edges = append(edges, e)
	})
	return edges
}

// LoopStep is a vertex of a loop and the edge (by number) that leaves it.
type LoopStep struct {
	Vertex int32
	Edge   int
}

// ChainLoops walks the edges and cuts a loop off the walk whenever it comes back
// to a vertex that is on it.
func ChainLoops(edges []Boundary) [][]LoopStep {
	leaving := map[int32][]int{}
	entering := map[int32][]int{}
	for i, e := range edges {
		leaving[e.From] = append(leaving[e.From], i)
		entering[e.To] = append(entering[e.To], i)
	}
	used := make([]bool, len(edges))
	var loops [][]LoopStep
	for i := 0; i < len(edges); {
		if used[i] {
			i++
			continue
		}
		var walk []LoopStep
		place := map[int32]int{}
		at := edges[i].From
		for {
			if k, seen := place[at]; seen {
				loop := append([]LoopStep(nil), walk[k:]...)
				for _, step := range loop {
					delete(place, step.Vertex)
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
				to = edges[next].To
			} else {
				next, _ = takeUnused(entering, at, used)
				to = edges[next].From
			}
			place[at] = len(walk)
			walk = append(walk, LoopStep{Vertex: at, Edge: next})
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
