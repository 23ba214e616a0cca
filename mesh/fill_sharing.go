package mesh

import "bellyline/mesh/internal/halfedge"

func isCorner(ids [3]int32, id int32) bool { return ids[0] == id || ids[1] == id || ids[2] == id }

func sharedCorners(a, b [3]int32) int {
	n := 0
	for _, id := range a {
		if isCorner(b, id) {
			n++
		}
	}
	return n
}

// sameWay says whether two facets have a side in common that both run the same way.
func sameWay(a, b [3]int32) bool {
	for i := range 3 {
		for j := range 3 {
			if a[i] == b[j] && a[halfedge.After(i)] == b[halfedge.After(j)] {
				return true
			}
		}
	}
	return false
}
