package mesh

import "bellyline/mesh/parallel"

// Which facets reach a plane? Those whose lowest corner is not above it stand at
// the front of the sorted facets; of these, the ones with their highest corner
// not below it are found through a pyramid of maxima: highs[0][r] is the highest
// corner among run r of levelRun facets, highs[1][r] among levelRun such runs,
// and so on up to a single one. A run without a facet that reaches the plane is
// passed over whole, so the cost is a few steps for each facet found, in one
// place for most of them, whatever the shape.

// raiseHighs fills highs.
func (l *Levels) raiseHighs() {
	runs := make([]float64, parallel.Count(len(l.facets), levelRun))
	parallel.Blocks(len(l.facets), levelBlock, func(_, from, to int) {
		for r := from; r < to; r += levelRun {
			high := l.facets[r].high
			for k := r + 1; k < min(to, r+levelRun); k++ {
				high = max(high, l.facets[k].high)
			}
			runs[r/levelRun] = high
		}
	})
	l.highs = [][]float64{runs}
	for len(runs) > 1 {
		over := make([]float64, parallel.Count(len(runs), levelRun))
		for r := range over {
			high := runs[r*levelRun]
			for _, h := range runs[r*levelRun : min(len(runs), (r+1)*levelRun)] {
				high = max(high, h)
			}
			over[r] = high
		}
		l.highs = append(l.highs, over)
		runs = over
	}
}

// eachReaching calls use for every facet before place n whose highest corner is
// at x or above, in their order.
func (l *Levels) eachReaching(n int, x float64, use func(k int)) {
	top := len(l.highs) - 1
	l.descend(top, 0, n, x, use)
}

// descend looks through run r of the given storey.
func (l *Levels) descend(storey, r, n int, x float64, use func(k int)) {
	if l.highs[storey][r] < x {
		return
	}
	if storey > 0 {
		span := levelRun // facets in a run of the storey below
		for range storey - 1 {
			span *= levelRun
		}
		for s := r * levelRun; s < min((r+1)*levelRun, len(l.highs[storey-1])) && s*span < n; s++ {
			l.descend(storey-1, s, n, x, use)
		}
		return
	}
	for k := r * levelRun; k < min((r+1)*levelRun, n); k++ {
		if l.facets[k].high >= x {
			use(k)
		}
	}
}
