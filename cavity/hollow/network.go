package hollow

import "math"

// network is what the basins of one hollow are for.
type network struct {
	*basins
	runner []bool // of each basin; the rest are cavities
}

// rolesOf tells runners from cavities.
//
// Where plastic comes in is the runner. Behind its first necks lie the cavities,
// with all necks of their own: a thin tail is none of the runner's business. A
// basin that itself leads to two or more alike ones, each with more plastic than
// it has, is a runner that goes on. Where plastic comes in nowhere, the way in is
// in the other half, or there is none; then a basin between alike ones is the
// runner, and if there is none all is one cavity.
func (b *basins) rolesOf() network {
	n := network{basins: b, runner: make([]bool, len(b.list))}
	var list []int
	for i, k := range b.list {
		if k.way {
			list = append(list, i)
		}
	}
	if len(list) == 0 {
		if hub := b.hub(); hub >= 0 {
			list = []int{hub}
		}
	}
	for _, i := range list {
		n.runner[i] = true
	}
	for len(list) > 0 {
		from := list[0]
		list = list[1:]
		for _, to := range b.next(from) {
			if !n.runner[to] && b.leadsOn(to, n.runner) {
				n.runner[to] = true
				list = append(list, to)
			}
		}
	}
	return n
}

// next returns the basins that share a neck with one.
func (b *basins) next(i int) []int {
	var list []int
	for _, k := range b.necks {
		switch i {
		case k.a:
			list = append(list, k.b)
		case k.b:
			list = append(list, k.a)
		}
	}
	return list
}

// behind returns the volume of all that is reached from one basin without going
// through those that are taken.
func (b *basins) behind(i int, taken []bool) float64 {
	seen := append([]bool(nil), taken...)
	seen[i] = true
	total := 0.0
	for list := []int{i}; len(list) > 0; {
		at := list[len(list)-1]
		list = list[:len(list)-1]
		total += b.list[at].volume
		for _, to := range b.next(at) {
			if !seen[to] {
				seen[to] = true
				list = append(list, to)
			}
		}
	}
	return total
}

// alike is by how much the volumes of two cavities may differ, on a grid, to be
// taken for the same bait.
const alike = 0.1

// leadsOn says whether a basin has two or more alike ones behind it, each larger
// than itself.
func (b *basins) leadsOn(i int, taken []bool) bool {
	around := append([]bool(nil), taken...)
	around[i] = true
	var larger []float64
	for _, to := range b.next(i) {
		if !around[to] {
			if v := b.behind(to, around); v > b.list[i].volume {
				larger = append(larger, v)
			}
		}
	}
	for k, v := range larger {
		for _, w := range larger[:k] {
			if math.Abs(v-w) < alike*max(v, w) {
				return true
			}
		}
	}
	return false
}

// hub returns the basin between alike ones, of several the one with most necks, -1
// if there is none.
func (b *basins) hub() int {
	best, most := -1, 0
	for i := range b.list {
		if n := len(b.next(i)); n > most && b.leadsOn(i, make([]bool, len(b.list))) {
			best, most = i, n
		}
	}
	return best
}

// gates returns the necks between runner and cavity, the cavity second.
func (n network) gates() []neck {
	var list []neck
	for _, k := range n.necks {
		if n.runner[k.a] == n.runner[k.b] {
			continue
		}
		if n.runner[k.b] {
			k.a, k.b = k.b, k.a
		}
		list = append(list, k)
	}
	return list
}
