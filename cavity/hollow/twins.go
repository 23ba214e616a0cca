package hollow

import (
	"cmp"
	"slices"

	"bellyline/mesh"
)

// none marks a side of a facet without a facet beyond it.
const none = int32(-1)

// A side of a facet is named by 3*facet+corner: it runs from that corner to the
// next one.

// twinsOf returns for each side of each facet the side of the facet beyond it,
// which runs the other way, or none. Where more than two facets share an edge,
// sides are paired in the order of the facets. Degenerate facets have no twins.
func twinsOf(m *mesh.Mesh) []int32 {
	type run struct {
		key  uint64 // smaller corner, larger corner
		side int32
		back bool
	}
	runs := make([]run, 0, 3*len(m.Triangles))
	for t, f := range m.Triangles {
		if f[0] == f[1] || f[1] == f[2] || f[2] == f[0] {
			continue
		}
		for i := range f {
			a, b := f[i], f[(i+1)%3]
			runs = append(runs, run{uint64(min(a, b))<<32 | uint64(max(a, b)), int32(3*t + i), a > b})
		}
	}
	buckets := spread(runs, len(m.Vertices), func(r run) int { return int(r.key >> 32) })
	twins := make([]int32, 3*len(m.Triangles))
	for i := range twins {
		twins[i] = none
	}
	for v := 0; v+1 < len(buckets.from); v++ {
		same := buckets.items[buckets.from[v]:buckets.from[v+1]]
		slices.SortFunc(same, func(a, b run) int { return cmp.Or(cmp.Compare(a.key, b.key), cmp.Compare(a.side, b.side)) })
		for len(same) > 0 {
			n := 1
			for n < len(same) && same[n].key == same[0].key {
				n++
			}
			pairUp(same[:n], twins, func(r run) (int32, bool) { return r.side, r.back })
			same = same[n:]
		}
	}
	return twins
}

// pairUp gives each forward side the next backward one that is still alone.
func pairUp[T any](edge []T, twins []int32, of func(T) (side int32, back bool)) {
	for i := range edge {
		side, back := of(edge[i])
		if twins[side] != none {
			continue
		}
		for k := i + 1; k < len(edge); k++ {
			other, way := of(edge[k])
			if way != back && twins[other] == none {
				twins[side], twins[other] = other, side
				break
			}
		}
	}
}

// bucketed holds items sorted by a small number, stable: those of number v are
// items[from[v]:from[v+1]].
type bucketed[T any] struct {
	items []T
	from  []int32
}

func spread[T any](items []T, numbers int, of func(T) int) bucketed[T] {
	b := bucketed[T]{items: make([]T, len(items)), from: make([]int32, numbers+1)}
	for _, it := range items {
		b.from[of(it)+1]++
	}
	for v := range numbers {
		b.from[v+1] += b.from[v]
	}
	next := slices.Clone(b.from[:numbers])
	for _, it := range items {
		v := of(it)
		b.items[next[v]] = it
		next[v]++
	}
	return b
}
