package mesh

import "bellyline/mesh/halfedge"

// WrongEdges returns edges, each as its two vertices, that are not run as often one
// way as the other, or that are used more than twice: boundary, misoriented and
// nonmanifold edges, to show where they are. The smaller vertex comes first, the
// edges are in rising order, and there are at most limit of them.
//
// The cost is that of Check.
func (m *Mesh) WrongEdges(limit int) [][2]int32 {
	table := m.survey().Table
	if table == nil { // every edge is in order
		return nil
	}
	var edges [][2]int32
	for from := 0; from < len(m.Vertices) && len(edges) < limit; from += halfedge.Block {
		table.EachEdge(from, min(from+halfedge.Block, len(m.Vertices)), func(v int32, uses []halfedge.Use) {
			if len(edges) < limit && (len(uses) > 2 || !halfedge.Balanced(uses)) {
				edges = append(edges, [2]int32{v, uses[0].Other()})
			}
		})
	}
	return edges
}
