package mesh

import "github.com/golang/geo/r3"

// weldExact makes a mesh of corners, three a facet, equal ones shared.
func weldExact(corners []r3.Vector) *Mesh {
	m := &Mesh{}
	index := map[r3.Vector]int32{}
	for i, p := range corners {
		v, found := index[p]
		if !found {
			v = int32(len(m.Vertices))
			index[p] = v
			m.Vertices = append(m.Vertices, p)
		}
		if i%3 == 0 {
			m.Triangles = append(m.Triangles, [3]int32{})
		}
		m.Triangles[i/3][i%3] = v
	}
	return m
}
