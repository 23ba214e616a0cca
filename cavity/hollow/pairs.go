package hollow

import (
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"bellyline/mesh/exact"
)

// Mold is two halves laid on each other.
type Mold struct {
	*Half
	Other      *Half  `json:"other"`
	How        string `json:"laid_on_each_other"` // how the halves were placed
	Pairs      []Pair `json:"pairs"`
	Alone      []int  `json:"alone"`       // cavities and runners of the half without a partner
	AloneOther []int  `json:"alone_other"` // of the other half
	lay        turnOver
}

// Pair is one hollow in both halves.
type Pair struct {
	Half       int        `json:"half"`
	Other      int        `json:"other"`
	Kind       Kind       `json:"kind"`
	VolumeMM3  float64    `json:"volume_mm3"`  // of both together
	OffsetMM   [2]float64 `json:"offset_mm"`   // from the half's hollow to the other's, in the half's frame
	MismatchMM float64    `json:"mismatch_mm"` // the furthest that their outlines miss each other
	File       string     `json:"file"`        // where it was saved, or nothing
}

// Pairing matches the hollows of the other half, turned over, against those of the
// half.
func Pairing(ctx context.Context, half, other *Half) (*Mold, error) {
	at := register(half, other)
	m := &Mold{Half: half, Other: other, How: at.how, Pairs: []Pair{}, Alone: []int{}, AloneOther: []int{}, lay: at.turnOver}
	taken := map[int]bool{}
	for i, o := range half.Hollows {
		k, miss := at.partner(half, other, i)
		if k < 0 || taken[k] {
			if o.Kind != Hole {
				m.Alone = append(m.Alone, o.ID)
			}
			continue
		}
		taken[k] = true
		q := other.Hollows[k]
		centre := at.plan(r2.Point{X: q.CentreMM[0], Y: q.CentreMM[1]})
		m.Pairs = append(m.Pairs, Pair{Half: o.ID, Other: q.ID, Kind: o.Kind, VolumeMM3: o.VolumeMM3 + q.VolumeMM3,
			OffsetMM: [2]float64{centre.X - o.CentreMM[0], centre.Y - o.CentreMM[1]}, MismatchMM: miss})
	}
	for k, q := range other.Hollows {
		if !taken[k] && q.Kind != Hole {
			m.AloneOther = append(m.AloneOther, q.ID)
		}
	}
	m.warnOfPairs()
	return m, ctx.Err()
}

// visibleMM is a mismatch that can be felt on a bait: a tenth of a millimetre.
const visibleMM = 0.1

// farApartMM is past what a shift of the halves or a bait with unlike sides makes of
// the best pair of cavities: ten times what a worn pin lets through. A guess.
const farApartMM = 5

// warnOfStrangers says, before all else, that no cavity meets one of the other half.
func (m *Mold) warnOfStrangers() {
	paired := m.of(Cavity)
	near := func(p Pair) bool { return p.MismatchMM <= farApartMM }
	if m.Half.count(Cavity) == 0 || m.Other.count(Cavity) == 0 || slices.ContainsFunc(paired, near) {
		return
	}
	text := fmt.Sprintf("these do not look like two halves of one mold: no cavity lies within %d mm of one in the other half", farApartMM)
	m.Half.Warnings = slices.Insert(m.Half.Warnings, 0, text)
}

// count is how many hollows of a kind a half has.
func (h *Half) count(kind Kind) int {
	n := 0
	for _, o := range h.Hollows {
		if o.Kind == kind {
			n++
		}
	}
	return n
}

func (m *Mold) warnOfPairs() {
	m.warnOfStrangers()
	for _, p := range m.Pairs {
		if p.Kind != Hole && p.MismatchMM > visibleMM {
			m.warn("%s %d misses its other side by up to %.2f mm (its middle by %.2f, %.2f): the bait gets a step along its seam", p.Kind, p.Half, p.MismatchMM, p.OffsetMM[0], p.OffsetMM[1])
		}
	}
	for _, side := range []struct {
		ids   []int
		half  *Half
		where string
	}{{m.Alone, m.Half, "this half"}, {m.AloneOther, m.Other, "the other half"}} {
		for _, id := range side.ids {
			switch side.half.Hollows[id-1].Kind {
			case Cavity:
				m.warn("cavity %d of %s has no partner: its bait is flat on one side", id, side.where)
			case Runner:
				m.warn("runner %d is cut into %s only: in a two-colour mold both colours then come in on one side of the parting plane, and their stack is upset", id, side.where)
			}
		}
	}
	m.warnOfGates()
	m.warnOfSwaps()
}

// warnOfGates tells of cavities that are gated in one half only.
func (m *Mold) warnOfGates() {
	for _, p := range m.Pairs {
		a, b := len(m.Half.Hollows[p.Half-1].Gates), len(m.Other.Hollows[p.Other-1].Gates)
		if p.Kind == Cavity && a != b {
			m.warn("cavity %d has %d %s in this half and %d in the other: in a two-colour mold a gate cut into one half only upsets the stack", p.Half, a, plural(a, "gate"), b)
		}
	}
}

// warnOfSwaps tells of baits that lie in the mold the other way up: their one side
// is cut into this half for some and into the other half for the rest.
func (m *Mold) warnOfSwaps() {
	a, b := m.Half.cavityShapes(), m.Other.cavityShapes()
	for i, p := range m.Pairs {
		for _, q := range m.Pairs[:i] {
			if p.Kind != Cavity || q.Kind != Cavity {
				continue
			}
			one, two := a[q.Half-1], a[p.Half-1]
			if same(one, two) || !same(one, b[p.Other-1]) || !same(two, b[q.Other-1]) {
				continue
			}
			m.warn("cavities %d and %d are the same bait, but lie the other way up: each colour stays with its half, so their colours come out swapped", q.Half, p.Half)
		}
	}
}

func plural(n int, word string) string {
	if n == 1 {
		return word
	}
	return word + "s"
}

// OneHalf is a mold of which only one half is cut, or known.
func OneHalf(half *Half) *Mold {
	return &Mold{Half: half, Pairs: []Pair{}, Alone: []int{}, AloneOther: []int{}}
}

// Baits returns what makes a bait, in the half's order: pairs, and of one half
// alone its cavities, which have no Other.
func (m *Mold) Baits() []Pair {
	list := m.of(Cavity)
	if m.Other == nil {
		for _, o := range m.Half.Hollows {
			if o.Kind == Cavity {
				list = append(list, Pair{Half: o.ID, Kind: Cavity, VolumeMM3: o.VolumeMM3})
			}
		}
	}
	return list
}

func (m *Mold) of(kind Kind) []Pair {
	var list []Pair
	for _, p := range m.Pairs {
		if p.Kind == kind {
			list = append(list, p)
		}
	}
	return list
}

// RunnerMM3 returns what runners and sprues hold in both halves.
func (m *Mold) RunnerMM3() float64 {
	var total exact.Sum
	for _, h := range []*Half{m.Half, m.Other} {
		if h == nil {
			continue
		}
		for _, o := range h.Hollows {
			if o.Kind == Runner {
				total = total.Plus(o.VolumeMM3)
			}
		}
	}
	return total.Value()
}

// AllWarnings returns those of both halves.
func (m *Mold) AllWarnings() []string {
	if m.Other == nil {
		return m.Half.Warnings
	}
	return append(slices.Clone(m.Half.Warnings), m.Other.Warnings...)
}

// SameBait says whether all cavities of the mold hold the same, and if not, which
// two differ.
func (m *Mold) SameBait() (same bool, text string) {
	list := m.Baits()
	for _, p := range list[min(1, len(list)):] {
		first := list[0]
		if math.Abs(p.VolumeMM3-first.VolumeMM3) > sameVolume*max(p.VolumeMM3, first.VolumeMM3) {
			return false, fmt.Sprintf("cavity %d holds %.0f mm3, cavity %d holds %.0f", first.Half, first.VolumeMM3, p.Half, p.VolumeMM3)
		}
	}
	return true, ""
}
