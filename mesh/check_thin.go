package mesh

import "bellyline/mesh/halfedge"

// isThin says whether a facet of three different corners is at most halfStep
// across.
//
// Rounding to float32 moves a corner by up to half a step along each axis, so such
// a facet cannot be told from one with its corners on a line.
func (m *Mesh) isThin(t int32, halfStep float64) bool {
	return !halfedge.IsDegenerate(m.Triangles[t]) && m.HeightOf(t) <= halfStep
}

// HeightOf returns the distance between the longest side of a facet and the corner
// across from it.
func (m *Mesh) HeightOf(t int32) float64 {
	a, b, c := m.Corners(int(t))
	longest := max(a.Distance(b), b.Distance(c), c.Distance(a))
	return b.Sub(a).Cross(c.Sub(a)).Norm() / longest
}

// AreaOf returns the area of a facet in mm^2.
func (m *Mesh) AreaOf(t int) float64 {
	a, b, c := m.Corners(t)
	return b.Sub(a).Cross(c.Sub(a)).Norm() / 2
}
