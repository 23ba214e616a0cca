package hollow

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/tree"
)

// shape is a hollow's surface by itself, for comparing: in the half's frame, its
// heights from its own rim.
type shape struct {
	mesh   *mesh.Mesh
	tree   *tree.Tree
	volume float64
	size   float64  // diagonal of its box seen from above, mm
	centre r2.Point // of its volume, seen from above
	axis   float64  // angle of the axis along which it is longest
	round  bool     // no axis is longer than another
	sample []r3.Vector
}

// samples is how many corners of a hollow are compared.
const samples = 200

// shapeOf copies the facets of a part.
func (h *Half) shapeOf(i int) *shape {
	v, p := h.view, h.parts[i]
	s := &shape{mesh: &mesh.Mesh{}, volume: p.volume}
	number := map[int32]int32{}
	rim := p.rimMM - v.parting()
	for _, t := range p.facets {
		var f [3]int32
		for k, c := range v.mesh.Triangles[t] {
			n, known := number[c]
			if !known {
				n = int32(len(s.mesh.Vertices))
				number[c] = n
				q := v.frame.To(v.mesh.Vertices[c])
				s.mesh.Vertices = append(s.mesh.Vertices, r3.Vector{X: q.X, Y: q.Y, Z: q.Z - rim})
			}
			f[k] = n
		}
		s.mesh.Triangles = append(s.mesh.Triangles, f)
	}
	s.tree = tree.New(s.mesh)
	box := s.mesh.Bounds()
	s.size = math.Hypot(box.Size().X, box.Size().Y)
	for k := 0; k < len(s.mesh.Vertices); k += max(1, len(s.mesh.Vertices)/samples) {
		s.sample = append(s.sample, s.mesh.Vertices[k])
	}
	s.lieOn(box.Centre())
	return s
}

// lieOn finds the centre and the long axis by the moments of the depths: each
// facet's shadow times its depth, taken at the middles of its sides (exact for
// polynomials of the second degree).
func (s *shape) lieOn(near r3.Vector) {
	var m, mx, my, mxx, myy, mxy float64
	for t := range s.mesh.Triangles {
		a, b, c := s.mesh.Corners(t)
		a, b, c = a.Sub(near), b.Sub(near), c.Sub(near)
		shadow := b.Sub(a).Cross(c.Sub(a)).Z / 2 / 3
		for _, p := range [3]r3.Vector{a.Add(b).Mul(0.5), b.Add(c).Mul(0.5), c.Add(a).Mul(0.5)} {
			w := -(p.Z + near.Z) * shadow
			m, mx, my = m+w, mx+w*p.X, my+w*p.Y
			mxx, myy, mxy = mxx+w*p.X*p.X, myy+w*p.Y*p.Y, mxy+w*p.X*p.Y
		}
	}
	if !(m > 0) {
		s.round = true
		return
	}
	cx, cy := mx/m, my/m
	s.centre = r2.Point{X: near.X + cx, Y: near.Y + cy}
	xx, yy, xy := mxx/m-cx*cx, myy/m-cy*cy, mxy/m-cx*cy
	s.axis = math.Atan2(2*xy, xx-yy) / 2
	spread := math.Hypot(xx-yy, 2*xy)
	const isRound = 0.03 // of the sum: then the axis is not known to a degree
	s.round = spread < isRound*(xx+yy)
}

// placing lays one shape on another: mirrored across its long axis or not, then
// turned, then moved.
type placing struct {
	turn     float64
	mirrored bool
	from, to r2.Point
}

func (p placing) apply(q r3.Vector) r3.Vector {
	x, y := q.X-p.from.X, q.Y-p.from.Y
	if p.mirrored {
		y = -y
	}
	c, s := math.Cos(p.turn), math.Sin(p.turn)
	return r3.Vector{X: p.to.X + x*c - y*s, Y: p.to.Y + x*s + y*c, Z: q.Z}
}

// off is how far the samples of a placed shape lie from another one: the root of
// the mean square.
func (p placing) off(a, b *shape) float64 {
	total := 0.0
	for _, q := range a.sample {
		_, _, d := b.tree.Nearest(p.apply(q))
		total += d * d
	}
	return math.Sqrt(total / float64(len(a.sample)))
}

// fit lays a on b, mirrored or not, as well as it goes, and returns how far off it
// is. It is content well within near, and gives up far beyond.
func fit(a, b *shape, mirrored bool, near float64) (placing, float64) {
	axis := a.axis
	if mirrored {
		axis = -axis
	}
	turns := []float64{b.axis - axis, b.axis - axis + math.Pi}
	if a.round || b.round {
		turns = nil
		for k := range 72 {
			turns = append(turns, float64(k)*math.Pi/36)
		}
	}
	best, least := placing{}, math.Inf(1)
	for _, turn := range turns {
		p := placing{turn: turn, mirrored: mirrored, from: a.centre, to: b.centre}
		if off := p.off(a, b); off < least {
			best, least = p, off
		}
	}
	const content, hopeless = 0.25, 20
	if least < content*near || least > hopeless*near {
		return best, least
	}
	for step := 0.02; step > 1e-4; step /= 2 { // the axis is known to a degree or so
		for _, turn := range [2]float64{best.turn - step, best.turn + step} {
			p := best
			p.turn = turn
			if off := p.off(a, b); off < least {
				best, least = p, off
			}
		}
	}
	return best, least
}
