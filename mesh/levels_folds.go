package mesh

import (
	"cmp"
	"slices"
)

// A fold is a facet and its like turned over, on the same three vertices. Such
// pairs enclose nothing, and their lines in a section cancel: Cut drops them, so
// one width is set to zero with each that runs the other way. Facets of one fold
// have the same lowest corner, so they stand in one stretch of equal keys.

// cancelFolds looks through the sorted facets for folds.
func (l *Levels) cancelFolds() {
	same := func(k int) bool { return k > 0 && l.key(l.facets[k-1].low) == l.key(l.facets[k].low) }
	inBlocks(len(l.facets), levelBlock, func(_, from, to int) {
		k := from
		for k < to && same(k) { // these belong to a stretch of the block before
			k++
		}
		for k < to {
			end := l.endOfKey(k)
			l.cancelFoldsIn(k, end)
			k = end
		}
	})
}

// endOfKey returns the place after the last facet with the key of facet k.
func (l *Levels) endOfKey(k int) int {
	key := l.key(l.facets[k].low)
	for k++; k < len(l.facets) && l.key(l.facets[k].low) == key; k++ {
	}
	return k
}

// cancelFoldsIn looks through one stretch of equal keys. Most are a handful of
// facets around one vertex, of which no two have the same heights.
func (l *Levels) cancelFoldsIn(from, end int) {
	if end-from > 24 {
		l.cancelSorted(from, end)
		return
	}
	for i := from; i < end; i++ {
		for j := from; j < i; j++ {
			if l.facets[i].mid == l.facets[j].mid && l.facets[i].high == l.facets[j].high {
				l.cancelSorted(from, end)
				return
			}
		}
	}
}

// cancelSorted sorts the facets of a stretch by their vertices, and cancels
// those that are alike.
func (l *Levels) cancelSorted(from, end int) {
	type facet struct {
		corners [3]int32 // in rising order
		turned  int      // 1 when the facet runs them as they rise, else -1
		place   int
	}
	var facets []facet
	for k := from; k < end; k++ {
		if l.facets[k].width > 0 {
			t := l.mesh.Triangles[l.number[k]]
			turned := 1
			if (t[0] < t[1]) != (t[1] < t[2]) == (t[0] < t[2]) {
				turned = -1
			}
			slices.Sort(t[:])
			facets = append(facets, facet{t, turned, k})
		}
	}
	slices.SortFunc(facets, func(a, b facet) int {
		return cmp.Or(slices.Compare(a.corners[:], b.corners[:]), cmp.Compare(a.place, b.place))
	})
	for i := 0; i < len(facets); {
		j, net := i, 0
		for ; j < len(facets) && facets[j].corners == facets[i].corners; j++ {
			net += facets[j].turned
		}
		for _, f := range facets[i:j] {
			if net*f.turned > 0 {
				net -= f.turned
			} else {
				l.facets[f.place].width = 0
			}
		}
		i = j
	}
}
