package mesh

import (
	"cmp"
	"math"
	"slices"
)

// facingIn sorts oriented shells of negative volume into those that are inside
// out, by number, and voids: cavities of other shells, where the surface has to
// face inward.
//
// A void is smaller than what it is in, so only larger shells are asked. The cost
// is that of the facets of those whose box holds the void.
func (m *Mesh) facingIn(shells []Shell) (insideOut []int, voids int) {
	var bySize []int
	for i, s := range shells {
		if s.Oriented {
			bySize = append(bySize, i)
		}
	}
	slices.SortStableFunc(bySize, func(i, j int) int {
		return -cmp.Compare(math.Abs(shells[i].VolumeMM3), math.Abs(shells[j].VolumeMM3))
	})
	for rank, i := range bySize {
		switch {
		case shells[i].VolumeMM3 >= 0:
		case m.isWithin(shells, i, bySize[:rank]):
			voids++
		default:
			insideOut = append(insideOut, i)
		}
	}
	slices.Sort(insideOut)
	return insideOut, voids
}

// isWithin says whether shell i lies where the others together enclose something:
// where their winding number is 1 or more. It asks at facets spread over the shell
// until one is clear of the other surfaces.
func (m *Mesh) isWithin(shells []Shell, i int, others []int) bool {
	own := shells[i].Triangles
	tries := min(8, len(own))
	for k := range tries {
		a, b, c := m.Corners(int(own[len(own)*k/tries]))
		p := a.Add(b).Add(c).Mul(1.0 / 3)
		var w float64
		for _, j := range others {
			if shells[j].Box.Contains(p) {
				w += m.WindingNumber(shells[j].Triangles, p)
			}
		}
		if n := math.Round(w); math.Abs(w-n) < 1e-6 {
			return n >= 1
		}
	}
	return false
}
