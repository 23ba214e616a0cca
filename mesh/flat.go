package mesh

// flatFacets returns the facets that are thinner than half a float32 step, and on
// the way the signed volume, exact enough for its sign.
//
// Rounding moves a corner by up to half a step along each axis, so a facet with
// less than that between its longest side and its third corner cannot be told
// from one with its corners on a line.
func (m *Mesh) flatFacets() (flat []int32, volume float64) {
	if len(m.Triangles) == 0 {
		return nil, 0
	}
	box := m.Bounds()
	origin, thin := box.Centre(), float32Step(box)/2
	blocks := blockCount(len(m.Triangles), momentBlock)
	sums := make([]sum, blocks)
	lists := make([][]int32, blocks)
	inBlocks(len(m.Triangles), momentBlock, func(block, from, to int) {
		var s sum
		for t := from; t < to; t++ {
			a, b, c := m.Corners(t)
			e, f := b.Sub(a), c.Sub(a)
			n := e.Cross(f)
			s = s.plus(a.Sub(origin).Dot(n))
			longest := max(e.Norm2(), f.Norm2(), c.Sub(b).Norm2())
			if n.Norm2() <= thin*thin*longest && !isDegenerate(m.Triangles[t]) {
				lists[block] = append(lists[block], int32(t))
			}
		}
		sums[block] = s
	})
	var total sum
	for i, s := range sums {
		total = total.merge(s)
		flat = append(flat, lists[i]...)
	}
	return flat, total.value() / 6
}

// heightOf returns the distance between the longest side of a facet and the corner
// across from it.
func (m *Mesh) heightOf(t int) float64 {
	a, b, c := m.Corners(t)
	longest := max(a.Distance(b), b.Distance(c), c.Distance(a))
	return b.Sub(a).Cross(c.Sub(a)).Norm() / longest
}
