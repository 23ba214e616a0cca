package layout

import (
	"bellyline/mesh/tree"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// gateEnd is what one end of a bait offers a gate.
type gateEnd struct {
	across  float64 // where the gate goes
	thickMM float64
	mouthMM float64 // how far in it meets the bait
}

// endRows are the shares of a bait's length at which an end is looked at.
var endRows = [...]float64{0.03, 0.06, 0.1, 0.15, 0.2}

// endOf looks at the low end of a bait that is laid: at a few distances from it, how
// large a ball fits in the middle of what lies in the parting face between two points
// of the outline. The thickest place is where the gate goes, straight along the bait:
// neither claws beside a body get it nor a paddle across a tail.
func (b *Bait) endOf() gateEnd {
	var best gateEnd
	tree := tree.New(b.Mesh)
	for _, share := range endRows {
		y := share * b.LengthMM
		row := spans(b.loops, y)
		all := 0.0
		for _, span := range row {
			all += span[1] - span[0]
		}
		for _, span := range row {
			middle, ball := (span[0]+span[1])/2, 0.0
			const looks = 9
			for i := range looks {
				x := span[0] + (span[1]-span[0])*(float64(i)+0.5)/looks
				low, top := reachAt(tree, r2.Point{X: x, Y: y}, b)
				if _, _, away := tree.Nearest(r3.Vector{X: x, Y: y, Z: (low + top) / 2}); top > low {
					ball = max(ball, 2*away)
				}
			}
			wide := span[1] - span[0]
			thick := math.Sqrt(ball*min(wide, 2*ball)) * wide / all
			const rather = 1.1 // farther in it has to be clearly thicker
			if thick > rather*best.thickMM {
				best = gateEnd{across: middle, thickMM: thick, mouthMM: b.mouth(middle, y)}
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
