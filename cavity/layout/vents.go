package layout

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// Vent is a shallow groove in the parting face from a tip to the edge of the block.
type Vent struct {
	Cavity int          `json:"cavity"` // from 1 on
	Tip    int          `json:"tip"`    // of the bait, from 1 on
	PathMM [][2]float64 `json:"path_mm"`
	WideMM float64      `json:"wide_mm"`
	DeepMM float64      `json:"deep_mm"`
}

// ventAngles are the ways that a vent tries, in degrees from straight out.
var ventAngles = [...]float64{0, 15, -15, 30, -30, 45, -45, 60, -60, 75, -75, 90, -90}

// ventRoom is where vents of one cavity may run, in the frame of the bait.
type ventRoom struct {
	lane        float64 // beside the bait's box
	out         float64 // the block's edge ahead
	left, right float64 // the block's edges to both sides; infinite with another cavity before
}

// ventWays returns ways out from a tip in the frame of the bait, the shortest first:
// straight past the bait's box and a lane beside it, then out along the gate's
// direction, or straight to a side of the block. Ways that cross the bait are left out.
func (b *Bait) ventWays(tip Tip, room ventRoom) [][]r2.Point {
	from := r2.Point{X: tip.AtMM[0], Y: tip.AtMM[1]}
	type way struct {
		points []r2.Point
		length float64
	}
	var ways []way
	add := func(points ...r2.Point) {
		length := 0.0
		for i, p := range points[1:] {
			if !b.clear(points[i], p) {
				return
			}
			length += p.Sub(points[i]).Norm()
		}
		ways = append(ways, way{points, length})
	}
	for _, degrees := range ventAngles {
		s, c := math.Sincos(degrees * math.Pi / 180)
		beside, edge := math.Inf(1), math.Inf(1)
		if s > 1e-9 {
			beside, edge = (b.RightMM+room.lane-from.X)/s, (room.right-from.X)/s
		} else if s < -1e-9 {
			beside, edge = (b.LeftMM+room.lane+from.X)/-s, (room.left+from.X)/-s
		}
		if edge*c < room.out-from.Y && !math.IsInf(edge, 1) {
			add(from, from.Add(r2.Point{X: s, Y: c}.Mul(edge)))
		}
		if degrees == 0 {
			add(from, r2.Point{X: from.X, Y: room.out})
			continue
		}
		if c > 1e-9 {
			beside = min(beside, max((b.LengthMM-from.Y)/c, 0))
		}
		turn := from.Add(r2.Point{X: s, Y: c}.Mul(beside))
		add(from, turn, r2.Point{X: turn.X, Y: room.out})
	}
	slices.SortStableFunc(ways, func(a, b way) int { return cmp.Compare(a.length, b.length) })
	var list [][]r2.Point
	for _, w := range ways {
		list = append(list, w.points)
	}
	return list
}

// roomOf is the room for vents of one cavity.
func (l *Plan) roomOf(i int, p Practice) ventRoom {
	c := l.Places[i]
	room := ventRoom{lane: p.SpacingMM / 2, out: l.BlockMM[1] - c.YMM, left: math.Inf(1), right: math.Inf(1)}
	if i < l.Rows {
		room.left = c.XMM
	}
	if i+l.Rows >= l.Cavities {
		room.right = l.BlockMM[0] - c.XMM
	}
	if c.Turned {
		room.out, room.left, room.right = c.YMM, room.right, room.left
	}
	return room
}

// clear tells whether a straight way does not touch the bait once it has left it.
func (b *Bait) clear(from, to r2.Point) bool {
	const leave = 0.05 // mm
	d := to.Sub(from)
	n := d.Norm()
	if n <= leave {
		return true
	}
	from = from.Add(d.Mul(leave / n))
	for _, loop := range b.loops {
		for i, p := range loop {
			q := loop[(i+1)%len(loop)]
			if side(from, to, p)*side(from, to, q) <= 0 && side(p, q, from)*side(p, q, to) <= 0 {
				return false
			}
		}
	}
	return !windsRound(b.loops, from)
}

func side(a, b, p r2.Point) float64 { return b.Sub(a).Cross(p.Sub(a)) }

// vents leads air away from the tips of every cavity, and returns the tips, those with
// a vent marked. The one farthest from the gate always gets one, others when they are
// thin.
func (l *Plan) vents(b *Bait, p Practice) {
	l.Tips = slices.Clone(b.tips)
	if len(l.Tips) == 0 { // a bait by its sizes only
		l.Tips = []Tip{{AtMM: [2]float64{b.TipMM, b.LengthMM}, RunMM: b.LengthMM}}
	}
	l.Vents = []Vent{}
	for k := range l.Tips {
		tip := &l.Tips[k]
		if k > 0 && tip.ThickMM >= p.ThinTipMM {
			continue
		}
		tip.Vented = true
		for i, c := range l.Places {
			path, ok := l.ventPath(c, b.ventWays(*tip, l.roomOf(i, p)), p)
			if !ok {
				tip.Vented = false
				continue // the others keep theirs
			}
			l.Vents = append(l.Vents, Vent{Cavity: i + 1, Tip: k + 1, PathMM: path, WideMM: p.VentWideMM, DeepMM: p.VentMM})
		}
	}
}

// ventPath takes the first way that keeps clear of pins and bolts.
func (l *Plan) ventPath(c Place, ways [][]r2.Point, p Practice) ([][2]float64, bool) {
	for _, way := range ways {
		var path [][2]float64
		free := true
		for i, at := range way {
			q := c.inBlock(at.X, at.Y)
			path = append(path, [2]float64{q.X, q.Y})
			if i > 0 {
				free = free && l.clearOfHoles(path[i-1], path[i], p.VentWideMM/2)
			}
		}
		if free {
			return path, true
		}
	}
	return nil, false
}

func (l *Plan) clearOfHoles(from, to [2]float64, half float64) bool {
	a, ab := r2.Point{X: from[0], Y: from[1]}, r2.Point{X: to[0] - from[0], Y: to[1] - from[1]}
	for _, h := range slices.Concat(l.Pins, l.Bolts) {
		at := r2.Point{X: h.XMM, Y: h.YMM}
		t := 0.0
		if n := ab.Dot(ab); n > 0 {
			t = min(max(at.Sub(a).Dot(ab)/n, 0), 1)
		}
		if a.Add(ab.Mul(t)).Sub(at).Norm() < h.DiameterMM/2+half {
			return false
		}
	}
	return true
}

// VentedTips is how many tips of each cavity have a vent.
func (l *Plan) VentedTips() int {
	n := 0
	for _, t := range l.Tips {
		if t.Vented {
			n++
		}
	}
	return n
}
