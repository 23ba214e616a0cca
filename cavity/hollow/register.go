package hollow

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// turnOver lays the other half on this one: a point of its frame at x, y, z comes
// to lie at from the plan's mirror image, turned and moved, and at -z.
type turnOver struct {
	turn float64
	to   r2.Point
}

// plan maps a place of the other half's plan.
func (t turnOver) plan(p r2.Point) r2.Point {
	c, s := math.Cos(t.turn), math.Sin(t.turn)
	return r2.Point{X: t.to.X - p.X*c - p.Y*s, Y: t.to.Y - p.X*s + p.Y*c}
}

// point maps a point of the other half's frame: turning over is a rotation in
// space, so facets keep their way round.
func (t turnOver) point(p r3.Vector) r3.Vector {
	q := t.plan(r2.Point{X: p.X, Y: p.Y})
	return r3.Vector{X: q.X, Y: q.Y, Z: -p.Z}
}

// through returns the turnOver that brings one place of the other half to one of
// this half.
func through(turn float64, from, to r2.Point) turnOver {
	t := turnOver{turn: turn}
	at := t.plan(from)
	t.to = to.Sub(at)
	return t
}

// registered is a way to lay the halves on each other, and how well they fit.
type registered struct {
	turnOver
	how   string
	score float64
}

// register finds how the other half lies on this one: as drawn, when the two face
// each other in the drawing; by their pin and bolt holes; by their outlines; by
// the cavities themselves. What comes first is taken unless a later way fits more
// hollows: holes and outlines place real halves, so that a shift of the cavities
// shows.
func register(half, other *Half) registered {
	best := registered{score: -1}
	const clearly = 0.5 // of one hollow
	for _, way := range []struct {
		how  string
		list []turnOver
	}{
		{"as they are drawn", asDrawn(half, other)},
		{"by their holes", byHollows(half, other, Hole)},
		{"by their outlines", byOutlines(half, other)},
		{"by their cavities", byHollows(half, other, Cavity)},
	} {
		at := registered{score: -1, how: way.how}
		for _, t := range way.list {
			if s := t.score(half, other); s > at.score {
				at.turnOver, at.score = t, s
			}
		}
		if at.score > best.score+clearly {
			best = at
		}
	}
	return best
}

// asDrawn takes halves whose drawing has them face to face.
func asDrawn(half, other *Half) []turnOver {
	const opposite = -0.9999
	if half.Frame.Pull.Dot(other.Frame.Pull) > opposite {
		return nil
	}
	place := func(p r2.Point) r2.Point {
		q := half.Frame.To(other.Frame.From(r3.Vector{X: p.X, Y: p.Y}))
		return r2.Point{X: q.X, Y: q.Y}
	}
	zero := place(r2.Point{})
	x := place(r2.Point{X: 1}).Sub(zero)
	return []turnOver{{turn: math.Atan2(-x.Y, -x.X), to: zero}}
}

// byOutlines lays rectangle on rectangle, in four ways.
func byOutlines(half, other *Half) []turnOver {
	var list []turnOver
	for k := range 4 {
		list = append(list, through(float64(k)*math.Pi/2, middleOf(other.Outline), middleOf(half.Outline)))
	}
	return list
}

func middleOf(outline []r2.Point) r2.Point { return r2.RectFromPoints(outline...).Center() }

// mostPaired bounds the pairs of hollows that are tried.
const mostPaired = 8

// byHollows lays two hollows of a kind on two others that lie as far apart.
func byHollows(half, other *Half, kind Kind) []turnOver {
	a, b := half.centres(kind), other.centres(kind)
	var list []turnOver
	for i, p := range a {
		for j, q := range a {
			for k, u := range b {
				for l, w := range b {
					if j <= i || k == l {
						continue
					}
					d, e := q.Sub(p), w.Sub(u)
					e.X = -e.X // turned over
					if math.Abs(d.Norm()-e.Norm()) > 0.01*d.Norm()+0.2 {
						continue
					}
					turn := math.Atan2(d.Y, d.X) - math.Atan2(e.Y, e.X)
					list = append(list, through(turn, u.Add(w).Mul(0.5), p.Add(q).Mul(0.5)))
				}
			}
		}
	}
	return list
}

// centres returns where the largest hollows of a kind are.
func (h *Half) centres(kind Kind) []r2.Point {
	var list []r2.Point
	for _, o := range h.Hollows {
		if o.Kind == kind && len(list) < mostPaired {
			list = append(list, r2.Point{X: o.CentreMM[0], Y: o.CentreMM[1]})
		}
	}
	return list
}

// score adds up how well each hollow of the half is met by one of the other: 1 for
// outlines that agree, 0 for those that miss each other by their size.
func (t turnOver) score(half, other *Half) float64 {
	total := 0.0
	for i := range half.Hollows {
		if k, miss := t.partner(half, other, i); k >= 0 {
			total += 1 - min(1, miss/math.Sqrt(half.Hollows[i].OpeningMM2))
		}
	}
	return total
}

// partner returns the hollow of the other half that lies on one of this half, -1
// for none, and by how much their outlines miss each other.
func (t turnOver) partner(half, other *Half, i int) (partner int, missMM float64) {
	o := half.Hollows[i]
	partner, missMM = -1, math.Inf(1)
	for k, q := range other.Hollows {
		at := t.plan(r2.Point{X: q.CentreMM[0], Y: q.CentreMM[1]})
		away := at.Sub(r2.Point{X: o.CentreMM[0], Y: o.CentreMM[1]}).Norm()
		small, large := min(o.OpeningMM2, q.OpeningMM2), max(o.OpeningMM2, q.OpeningMM2)
		if q.Kind != o.Kind || away > 0.5*math.Sqrt(large) || small < 0.3*large {
			continue
		}
		if miss := t.mismatch(o, q); miss < missMM {
			partner, missMM = k, miss
		}
	}
	return partner, missMM
}

// mismatch is the largest distance between the outlines of two hollows, from the
// corners of either to the other (Hausdorff's distance, but for its being taken
// at corners), in mm. Corners beside a gate are left out: where the halves were cut
// apart there says nothing of how they fit.
func (t turnOver) mismatch(half, other Hollow) float64 {
	moved := make([][]r2.Point, len(other.Outlines))
	for i, l := range other.Outlines {
		for _, p := range l {
			moved[i] = append(moved[i], t.plan(p))
		}
	}
	same := func(p r2.Point) r2.Point { return p }
	return max(furthest(half.Outlines, moved, half.besideGates(same)), furthest(moved, half.Outlines, other.besideGates(t.plan)))
}

// besideGates tells of a place of a plan whether it is no further from a gate of the
// hollow than the gate is wide.
func (o Hollow) besideGates(place func(r2.Point) r2.Point) func(r2.Point) bool {
	return func(p r2.Point) bool {
		for _, g := range o.Gates {
			a, b := g.EndsMM[0], g.EndsMM[1]
			middle := place(r2.Point{X: (a[0] + b[0]) / 2, Y: (a[1] + b[1]) / 2})
			if p.Sub(middle).Norm() <= g.WidthMM {
				return true
			}
		}
		return false
	}
}

func furthest(from, to [][]r2.Point, leftOut func(r2.Point) bool) float64 {
	worst := 0.0
	const most = 150 // corners of an outline that are looked at
	for _, l := range from {
		for k := 0; k < len(l); k += max(1, len(l)/most) {
			if !leftOut(l[k]) {
				worst = max(worst, awayFrom(to, l[k], worst))
			}
		}
	}
	return worst
}

// awayFrom is how far a point lies from outlines; it gives up below least.
func awayFrom(outlines [][]r2.Point, p r2.Point, least float64) float64 {
	best := math.Inf(1)
	for _, l := range outlines {
		for i, a := range l {
			d := l[(i+1)%len(l)].Sub(a)
			q := p.Sub(a)
			x := 0.0
			if n := d.Dot(d); n > 0 {
				x = min(1, max(0, q.Dot(d)/n))
			}
			if best = min(best, q.Sub(d.Mul(x)).Norm()); best <= least {
				return best
			}
		}
	}
	return best
}
