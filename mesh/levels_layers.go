package mesh

import (
	"cmp"
	"math/bits"
	"runtime"
	"slices"
	"sync"

	"bellyline/mesh/parallel"
	"bellyline/mesh/radix"
)

// Facets are sorted by their lowest corner, but only into layers of equal height,
// some levelRun facets in each were they spread evenly. Within a layer they keep
// the order of the mesh, except in the few layers with more than crowdedLayer,
// which are sorted through.
//
// Sorting is by groups of layers first, then by layers within each group: to
// write to 60,000 layers at once would touch a memory page a facet, which costs
// several times as much as all the arithmetic.
const (
	crowdedLayer = 8 * levelRun
	mostLayers   = 1 << 22
	layerGroups  = 256
)

// layLayers fixes how many layers there are.
func (l *Levels) layLayers() {
	layers := min(max(len(l.mesh.Triangles)/levelRun, 1), mostLayers)
	l.layers = make([]int32, layers+1)
	if l.high > l.low {
		l.layerScale = float64(layers) / (l.high - l.low)
	}
}

// layerOf returns the layer of a local height. It never falls while x rises.
func (l *Levels) layerOf(x float64) int {
	return int(min(max((x-l.floor)*l.layerScale, 0), float64(len(l.layers)-2)))
}

// groupShift returns how far to shift the number of a layer for that of its group.
func (l *Levels) groupShift() int {
	return max(0, bits.Len(uint(len(l.layers)-2))-bits.Len(layerGroups-1))
}

// sortFacets fills facets and layers.
func (l *Levels) sortFacets(heights []float64) {
	groups := l.sortIntoGroups(heights)
	var room sync.Pool // of []levelFacet, kept from group to group
	parallel.Blocks(len(l.layers)-1, 1<<l.groupShift(), func(group, from, to int) {
		scratch, _ := room.Get().(*[]levelFacet)
		if scratch == nil {
			scratch = new([]levelFacet)
		}
		*scratch = append((*scratch)[:0], l.facets[groups[group]:groups[group+1]]...)
		begins := l.sortGroup(*scratch, groups[group], from, to)
		room.Put(scratch)
		copy(l.layers[from:], begins[:to-from])
		for i := range to - from {
			first, end := int(begins[i]), int(begins[i+1])
			if end-first > crowdedLayer {
				sortByLow(l.facets[first:end])
			}
			l.cancelFolds(first, end)
		}
	})
	l.layers[len(l.layers)-1] = int32(len(l.facets))
}

// sortIntoGroups measures all facets, puts them in the order of their groups and
// returns where each group begins, and the end. One pass counts, one measures;
// every processor takes a stretch of facets, and within a group the stretches
// follow each other.
func (l *Levels) sortIntoGroups(heights []float64) []int32 {
	triangles := l.mesh.Triangles
	shift := l.groupShift()
	stretches := radix.SplitEvenly(len(triangles), runtime.GOMAXPROCS(0))
	places := make([][layerGroups]int32, len(stretches)) // counts, then where the next facet goes
	radix.Each(stretches, func(w, from, to int) {
		for i := from; i < to; i++ {
			t := &triangles[i]
			places[w][l.layerOf(min(heights[t[0]], heights[t[1]], heights[t[2]]))>>shift]++
		}
	})
	begins := make([]int32, layerGroups+1)
	next := int32(0)
	for group := range layerGroups {
		begins[group] = next
		for w := range places {
			places[w][group], next = next, next+places[w][group]
		}
	}
	begins[layerGroups] = next
	l.facets = make([]levelFacet, next)
	radix.Each(stretches, func(w, from, to int) {
		for i := from; i < to; i++ {
			t := &triangles[i]
			low, mid, high := inOrder(heights[t[0]], heights[t[1]], heights[t[2]])
			place := &places[w][l.layerOf(low)>>shift]
			f := &l.facets[*place]
			f.low, f.mid, f.high, f.number = low, mid, high, int32(i)
			l.measureFacet(t, f)
			*place++
		}
	})
	return begins
}

// sortGroup puts the facets of one group in the order of its layers from..to-1,
// beginning at place first, and returns where each of these begins, and the end.
func (l *Levels) sortGroup(facets []levelFacet, first int32, from, to int) (begins []int32) {
	next := make([]int32, to-from)
	for k := range facets {
		next[l.layerOf(facets[k].low)-from]++
	}
	begins = make([]int32, to-from+1)
	begins[0] = first
	for i, count := range next {
		begins[i+1], next[i] = begins[i]+count, begins[i]
	}
	for k := range facets {
		place := &next[l.layerOf(facets[k].low)-from]
		l.facets[*place] = facets[k]
		*place++
	}
	return begins
}

// sortByLow sorts facets by their lowest corner, and those at one height by their
// numbers, as they stand already.
func sortByLow(facets []levelFacet) {
	slices.SortStableFunc(facets, func(a, b levelFacet) int { return cmp.Compare(a.low, b.low) })
}
