package mesh

import (
	"cmp"
	"slices"
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

// layersAGroup returns how many layers a group has.
func (l *Levels) layersAGroup() int { return blocksOf(len(l.layers)-1, layerGroups) }

// sortFacets fills facets and layers.
func (l *Levels) sortFacets(heights []float64) {
	groups := l.sortIntoGroups(heights)
	wide := l.layersAGroup()
	inBlocks(len(l.layers)-1, wide, func(group, from, to int) {
		begins := l.sortGroup(groups[group], groups[group+1], from, to)
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
	wide := l.layersAGroup()
	stretches := splitEvenly(len(triangles), processors())
	places := make([][layerGroups]int32, len(stretches)) // counts, then where the next facet goes
	each(stretches, func(w, from, to int) {
		for i := from; i < to; i++ {
			t := &triangles[i]
			places[w][l.layerOf(min(heights[t[0]], heights[t[1]], heights[t[2]]))/wide]++
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
	each(stretches, func(w, from, to int) {
		for i := from; i < to; i++ {
			f := l.measureFacet(i, heights)
			place := &places[w][l.layerOf(f.low)/wide]
			l.facets[*place] = f
			*place++
		}
	})
	return begins
}

// sortGroup puts the facets of one group, which stand from place first to end-1,
// in the order of its layers from..to-1, and returns where each of these begins,
// and the end.
func (l *Levels) sortGroup(first, end int32, from, to int) (begins []int32) {
	next := make([]int32, to-from)
	for k := first; k < end; k++ {
		next[l.layerOf(l.facets[k].low)-from]++
	}
	begins = make([]int32, to-from+1)
	begins[0] = first
	for i, count := range next {
		begins[i+1], next[i] = begins[i]+count, begins[i]
	}
	facets := slices.Clone(l.facets[first:end])
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
