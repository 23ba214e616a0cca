package mesh

import "github.com/golang/geo/r3"

// New welds corners, three a facet in millimetres, that agree exactly (minus
// zero is zero). Vertices come in the order in which they are first used. It is
// for models drawn by a program and for tests; the corners must be finite and
// at most 2^31-1, and their number a multiple of three.
func New(corners []r3.Vector) *Mesh {
	m := &Mesh{Triangles: make([][3]int32, len(corners)/3)}
	seen := make(map[r3.Vector]int32, len(corners)/6)
	for i, c := range corners {
		c = r3.Vector{X: c.X + 0, Y: c.Y + 0, Z: c.Z + 0} // -0 + 0 is 0
		n, ok := seen[c]
		if !ok {
			n = int32(len(m.Vertices))
			seen[c] = n
			m.Vertices = append(m.Vertices, c)
		}
		m.Triangles[i/3][i%3] = n
	}
	return m
}
