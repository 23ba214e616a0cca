package mesh

import (
	"cmp"
	"slices"
)

// A fold is a facet and its like turned over, on the same three vertices. Such
// pairs enclose nothing, and their lines in a section cancel: Cut drops them, so
// one width is set to zero with each that runs the other way. Facets of one fold
// have the same lowest corner, so they stand in one layer.

// cancelFolds looks through the facets of one layer, from place first to end-1.
func (l *Levels) cancelFolds(first, end int) {
	if end-first <= crowdedLayer {
		l.cancelFoldsIn(first, end)
		return
	}
	// A crowded layer is sorted: facets that begin at one height follow each
	// other.
	for k := first; k < end; {
		next := k + 1
		for next < end && l.facets[next].low == l.facets[k].low {
			next++
		}
		l.cancelFoldsIn(k, next)
		k = next
	}
}

// cancelFoldsIn looks through some facets in which all of a fold stand. Few of
// them have even their lowest corners at one height.
func (l *Levels) cancelFoldsIn(from, end int) {
	if end-from > crowdedLayer {
		l.cancelSorted(from, end)
		return
	}
	for i := from; i < end; i++ {
		f := &l.facets[i]
		for j := from; j < i; j++ {
			if g := &l.facets[j]; g.low == f.low && g.mid == f.mid && g.high == f.high {
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
			t := l.mesh.Triangles[l.facets[k].number]
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
