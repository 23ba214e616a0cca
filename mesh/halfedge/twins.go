package halfedge

import "bellyline/mesh/parallel"

// None marks a side of a facet with no facet beyond it.
const None = int32(-1)

// Twins returns for each side of each facet the side beyond it, which runs the other
// way, or None. A side is named by three times its facet plus the corner that it runs
// from. Where more than two facets share an edge, the first that runs it forward is
// paired with the first that runs it back, and so on. Degenerate facets have no twins.
// It takes the time of a table and its memory while it runs, and the same on all
// processors.
func Twins(triangles [][3]int32, vertices int) []int32 {
	twins := make([]int32, 3*len(triangles))
	for i := range twins {
		twins[i] = None
	}
	table := NewTable(triangles, vertices)
	parallel.Blocks(vertices, Block, func(_, from, to int) {
		table.EachEdge(from, to, func(_ int32, uses []Use) {
			there := Forward(uses)
			back := uses[there:]
			for i, u := range uses[:min(there, len(back))] {
				a, b := u.Half().side(), back[i].Half().side()
				twins[a], twins[b] = b, a
			}
		})
	})
	return twins
}

// side returns the half-edge's place among the sides of all facets, three a facet.
func (h Edge) side() int32 { return 3*h.Facet() + int32(h.Corner()) }
