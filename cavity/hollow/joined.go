package hollow

import (
	"errors"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"bellyline/mesh"
)

// skin is the surface of one hollow turned into that of what fills it: facets the
// other way round, in the half's frame, gates capped, open at the parting face.
type skin struct {
	corners []r3.Vector
	facets  [][3]int32
	rims    [][]int32 // the open loops, counter-clockwise seen against the pull
	level   float64   // the height of the rim
}

// skinOf makes the skin of a part. Corners on the rim that are off its plane by no
// more than the file's steps are put onto it.
func (h *Half) skinOf(i int) *skin {
	v, p := h.view, h.parts[i]
	s := &skin{level: p.rimMM - v.parting()}
	if math.Abs(s.level) <= 4*v.tol {
		s.level = 0
	}
	number := map[int32]int32{}
	corner := func(c int32) int32 {
		n, known := number[c]
		if !known {
			n = int32(len(s.corners))
			number[c] = n
			s.corners = append(s.corners, v.frame.To(v.mesh.Vertices[c]))
		}
		return n
	}
	for _, t := range p.facets {
		f := v.mesh.Triangles[t]
		s.facets = append(s.facets, [3]int32{corner(f[0]), corner(f[2]), corner(f[1])})
	}
	for _, l := range p.loops {
		rim := s.capGates(v, l, corner)
		for _, c := range rim {
			if math.Abs(s.corners[c].Z-s.level) <= 4*v.tol {
				s.corners[c].Z = s.level
			}
		}
		s.rims = append(s.rims, rim)
	}
	return s
}

// capGates closes each gate on a loop by a fan in its upright plane, and returns
// what is left of the loop.
func (s *skin) capGates(v *view, l loop, corner func(int32) int32) []int32 {
	isGate := func(i int) bool {
		what, _ := v.beyond(l[(i+len(l))%len(l)])
		return what == gate
	}
	var rim []int32
	for i := range l {
		a, b := v.side(l[i])
		if !isGate(i) {
			rim = append(rim, corner(a))
			continue
		}
		if isGate(i - 1) { // the fan's first corner is the gate's
			first := i
			for isGate(first-1) && first > i-len(l) {
				first--
			}
			start, _ := v.side(l[(first+len(l))%len(l)])
			s.facets = append(s.facets, [3]int32{corner(start), corner(a), corner(b)})
			continue
		}
		rim = append(rim, corner(a))
	}
	return rim
}

// turned returns the skin of the other half laid on this one. Its rims then run
// clockwise.
func (s *skin) turned(lay turnOver) *skin {
	t := &skin{facets: s.facets, rims: s.rims}
	for _, p := range s.corners {
		t.corners = append(t.corners, lay.point(p))
	}
	return t
}

// reflected returns the mirror image across the plane of the rim. Its rims then run
// clockwise.
func (s *skin) reflected() *skin {
	t := &skin{level: s.level}
	for _, p := range s.corners {
		t.corners = append(t.corners, r3.Vector{X: p.X, Y: p.Y, Z: 2*s.level - p.Z})
	}
	for _, f := range s.facets {
		t.facets = append(t.facets, [3]int32{f[0], f[2], f[1]})
	}
	for _, r := range s.rims {
		r = slices.Clone(r)
		slices.Reverse(r)
		t.rims = append(t.rims, r)
	}
	return t
}

// closed returns a skin closed by a flat lid in the plane of its rim: one side of
// it and its mirror image, cut in two there.
func (s *skin) closed() (*mesh.Mesh, error) {
	both, ok := join(s, s.reflected())
	if !ok {
		return nil, errNotClosed
	}
	below, _, err := both.CutSolids(mesh.Plane{Normal: r3.Vector{Z: 1}, HeightMM: s.level})
	return below, err
}

var errNotClosed = errors.New("rims do not pair up")

// joinMM is how far apart corners of two rims may be to be taken for one: far below
// what is cut, far above the steps of a file.
const joinMM = 1e-3

// join sews two skins together along their rims into one closed mesh. Where the
// rims miss each other they are joined by a strip in the parting plane, which
// encloses nothing. ok is false when they have not the same number of rims.
func join(a, b *skin) (m *mesh.Mesh, ok bool) {
	if len(a.rims) != len(b.rims) {
		return nil, false
	}
	m = &mesh.Mesh{Vertices: append(append([]r3.Vector{}, a.corners...), b.corners...), Triangles: append([][3]int32{}, a.facets...)}
	shift := int32(len(a.corners))
	for _, f := range b.facets {
		m.Triangles = append(m.Triangles, [3]int32{f[0] + shift, f[1] + shift, f[2] + shift})
	}
	into := make([]int32, len(m.Vertices)) // corners that became one with another
	for i := range into {
		into[i] = int32(i)
	}
	used := make([]bool, len(b.rims))
	for _, rim := range a.rims {
		k := nearestRim(a, b, rim, used)
		used[k] = true
		other := make([]int32, len(b.rims[k]))
		for i, c := range b.rims[k] { // run the same way as this rim
			other[len(other)-1-i] = c + shift
		}
		sew(m, into, rim, other)
	}
	return welded(m, into), true
}

func nearestRim(a, b *skin, rim []int32, used []bool) int {
	best, away := -1, math.Inf(1)
	at := centreOf(a, rim)
	for k, other := range b.rims {
		if d := centreOf(b, other).Sub(at).Norm(); !used[k] && d < away {
			best, away = k, d
		}
	}
	return best
}

func centreOf(s *skin, rim []int32) r2.Point {
	var c r2.Point
	for _, i := range rim {
		c = c.Add(r2.Point{X: s.corners[i].X, Y: s.corners[i].Y})
	}
	return c.Mul(1 / float64(len(rim)))
}

// sew joins two rims that run the same way round by a strip. Each step takes the
// shorter of the two possible diagonals.
func sew(m *mesh.Mesh, into []int32, a, b []int32) {
	at := func(c int32) r3.Vector { return m.Vertices[c] }
	start := 0
	for k, c := range b {
		if at(c).Sub(at(a[0])).Norm2() < at(b[start]).Sub(at(a[0])).Norm2() {
			start = k
		}
	}
	n, k := len(a), len(b)
	for i, j := 0, 0; i < n || j < k; {
		p, q := a[i%n], b[(start+j)%k]
		if into[q] == q && at(p).Sub(at(q)).Norm() <= joinMM {
			into[q] = p
		}
		nextA, nextB := a[(i+1)%n], b[(start+j+1)%k]
		if j >= k || i < n && at(nextA).Sub(at(q)).Norm2() <= at(p).Sub(at(nextB)).Norm2() {
			m.Triangles = append(m.Triangles, [3]int32{p, nextA, q})
			i++
		} else {
			m.Triangles = append(m.Triangles, [3]int32{p, nextB, q})
			j++
		}
	}
}

// welded applies what corners became and drops facets that have lost their area
// by it.
func welded(m *mesh.Mesh, into []int32) *mesh.Mesh {
	out := &mesh.Mesh{}
	number := make([]int32, len(into))
	for i := range number {
		number[i] = none
	}
	for _, f := range m.Triangles {
		for k, c := range f {
			f[k] = into[c]
		}
		if f[0] == f[1] || f[1] == f[2] || f[2] == f[0] {
			continue
		}
		for k, c := range f {
			if number[c] == none {
				number[c] = int32(len(out.Vertices))
				out.Vertices = append(out.Vertices, m.Vertices[c])
			}
			f[k] = number[c]
		}
		out.Triangles = append(out.Triangles, f)
	}
	return out
}
