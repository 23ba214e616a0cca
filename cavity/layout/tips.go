package layout

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"bellyline/mesh/tree"
)

// Tip is an end of a bait, where plastic arrives and air has nowhere to go.
//
// The rule: in the parting face, measure how far plastic has to run from the gate to
// each place inside the outline. An end is a place from which every way on leads
// back: on the way to anywhere farther the run falls by more than a trifle. That finds
// the ends of claws and legs that curl back as well as straight ones.
type Tip struct {
	AtMM    [2]float64 `json:"at_mm"`    // across about the gate, along from the gate
	RunMM   float64    `json:"run_mm"`   // from the gate, within the bait
	ThickMM float64    `json:"thick_mm"` // along the pull, the most within tipReach of it
	Vented  bool       `json:"vented"`
}

const (
	tipReach = 3.0 // mm round an end in which its thickness is taken
	// leastTip is how far a tip stands out, in share of the bait's length and in mm.
	leastTipShare, leastTipMM = 0.04, 2.5
	// runCells is how many cells the length of a bait is divided into.
	runCells = 220
)

// findTips finds the ends of a bait that is laid, the farthest first; the loops are its
// outline in the parting face.
func (b *Bait) findTips(loops [][]r2.Point) []Tip {
	g := newRunGrid(loops, b.LengthMM/runCells)
	if g == nil {
		return nil
	}
	g.flood(r2.Point{})
	tree := tree.New(b.Mesh)
	var tips []Tip
	for _, cell := range g.ends(max(leastTipShare*b.LengthMM, leastTipMM)) {
		tip := Tip{RunMM: g.run[cell]}
		at := nearestOn(loops, g.centre(cell))
		tip.AtMM = [2]float64{at.X, at.Y}
		for _, near := range g.within(cell, tipReach) {
			tip.ThickMM = max(tip.ThickMM, thickAt(tree, g.centre(near), b))
		}
		tips = append(tips, tip)
	}
	slices.SortStableFunc(tips, func(s, t Tip) int { return cmp.Compare(t.RunMM, s.RunMM) })
	return tips
}

// thickAt is how thick the bait is along the pull at a place of the parting face.
func thickAt(tree *tree.Tree, at r2.Point, b *Bait) float64 {
	hits := tree.Ray(r3.Vector{X: at.X, Y: at.Y, Z: -b.BelowMM - 1}, r3.Vector{Z: 1})
	thick, from, depth := 0.0, 0.0, 0
	for _, h := range hits {
		if h.Inward {
			if depth == 0 {
				from = h.DistanceMM
			}
			depth++
		} else if depth--; depth == 0 {
			thick += h.DistanceMM - from
		}
	}
	return thick
}

// nearestOn returns the point of loops that is nearest to another.
func nearestOn(loops [][]r2.Point, p r2.Point) r2.Point {
	best, away := p, math.Inf(1)
	for _, loop := range loops {
		for i, a := range loop {
			ab := loop[(i+1)%len(loop)].Sub(a)
			t := 0.0
			if n := ab.Dot(ab); n > 0 {
				t = min(max(p.Sub(a).Dot(ab)/n, 0), 1)
			}
			if q := a.Add(ab.Mul(t)); q.Sub(p).Norm() < away {
				best, away = q, q.Sub(p).Norm()
			}
		}
	}
	return best
}
