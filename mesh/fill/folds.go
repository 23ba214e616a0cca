package fill

import "bellyline/mesh"

// withoutFolds returns the mesh without pairs of facets that lie back to back on the
// same three corners, and the numbers of the facets that are left. Such a pair encloses
// nothing, but where it goes through another facet its two sides cross that in one
// place whatever the lattice, and the order along the edges cannot be told.
func withoutFolds(m *mesh.Mesh) (bare *mesh.Mesh, kept []int32) {
	waiting := map[[3]int32][]int32{} // facets not paired so far, by their corners as facetKey has them
	paired := make([]bool, len(m.Triangles))
	for i, t := range m.Triangles {
		over := turnedKey(t)
		if list := waiting[over]; len(list) > 0 {
			paired[i], paired[list[len(list)-1]] = true, true
			waiting[over] = list[:len(list)-1]
			continue
		}
		key := facetKey(t)
		waiting[key] = append(waiting[key], int32(i))
	}
	bare = &mesh.Mesh{Vertices: m.Vertices}
	for i, t := range m.Triangles {
		if !paired[i] {
			bare.Triangles = append(bare.Triangles, t)
			kept = append(kept, int32(i))
		}
	}
	return bare, kept
}

// facetKey turns a facet so that its smallest corner comes first: facets with the
// same corners in the same sense have the same key.
func facetKey(t [3]int32) [3]int32 {
	for t[0] > t[1] || t[0] > t[2] {
		t = [3]int32{t[1], t[2], t[0]}
	}
	return t
}

// turnedKey is the key of the facet turned over.
func turnedKey(t [3]int32) [3]int32 { return facetKey([3]int32{t[0], t[2], t[1]}) }
