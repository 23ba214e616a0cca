package fill

import "bellyline/mesh/halfedge"

func sharedCorners(a, b [3]int32) int {
	n := 0
	for _, id := range a {
		if halfedge.HasCorner(b, id) {
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
