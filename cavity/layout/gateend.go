package layout

import (
	"math"

	"github.com/golang/geo/r2"

	"bellyline/mesh"
)

// gateEnd is what one end of a bait offers a gate.
type gateEnd struct {
	across  float64 // where the gate goes
	thickMM float64
	mouthMM float64 // how far in it meets the bait
}

// endRows are the shares of a bait's length at which an end is looked at.
var endRows = [...]float64{0.03, 0.06, 0.1}

// endOf looks at the low end of a bait that is laid: at a few distances from it, what
// lies in the parting face between two points of the outline is as thick as it is wide
// there, or as it is high along the pull, whichever is less. The thickest place is
// where the gate goes, straight along the bait: claws beside a body do not get it.
func (b *Bait) endOf() gateEnd {
	var best gateEnd
	tree := mesh.NewTree(b.Mesh)
	for _, row := range endRows {
		y := row * b.LengthMM
		for _, span := range spans(b.loops, y) {
			thick := 0.0
			const looks = 8
			for i := range looks {
				x := span[0] + (span[1]-span[0])*(float64(i)+0.5)/looks
				thick = max(thick, thickAt(tree, r2.Point{X: x, Y: y}, b))
			}
			middle := (span[0] + span[1]) / 2
			thick = min(thick, span[1]-span[0])
			mouth := b.mouth(middle, y)
			const rather = 1.1 // farther in it has to be clearly thicker
			if thick > rather*best.thickMM {
				best = gateEnd{across: middle, thickMM: thick, mouthMM: mouth}
			}
		}
	}
	return best
}

// spans are the pieces of a level line that loops wind round.
func spans(loops [][]r2.Point, y float64) [][2]float64 {
	var list [][2]float64
	winding, from := 0, 0.0
	for _, c := range crossings(loops, y) {
		was := winding
		winding += c.turn
		switch {
		case was == 0:
			from = c.x
		case winding == 0 && c.x > from:
			list = append(list, [2]float64{from, c.x})
		}
	}
	return list
}

// mouth is where a gate that comes along the bait at x meets the piece that is there at
// y: the last place before it at which it enters the outline.
func (b *Bait) mouth(x, y float64) float64 {
	turned := make([][]r2.Point, len(b.loops))
	for i, loop := range b.loops {
		for _, p := range loop {
			turned[i] = append(turned[i], r2.Point{X: p.Y, Y: p.X})
		}
	}
	for _, span := range spans(turned, x) {
		if span[0] <= y && y <= span[1] {
			return math.Max(span[0], 0)
		}
	}
	return 0
}
