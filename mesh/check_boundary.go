package mesh

import (
	"bellyline/mesh/exact"
	"bellyline/mesh/halfedge"
)

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
	edges := m.survey().BoundaryEdges()
	loops := halfedge.ChainLoops(edges)
	out := make([][]int32, len(loops))
	for i, loop := range loops {
		for _, step := range loop {
			out[i] = append(out[i], step.Vertex)
		}
	}
	return out
}

// LoopLengthMM returns the length of a closed chain of vertices in millimetres.
func (m *Mesh) LoopLengthMM(loop []int32) float64 {
	var s exact.Sum
	for i, v := range loop {
		s = s.Plus(m.Vertices[v].Distance(m.Vertices[loop[(i+1)%len(loop)]]))
	}
	return s.Value()
}
