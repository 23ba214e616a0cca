package bench

import (
	"encoding/binary"
	"math"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
)

// mostDrawn is how many facets the page draws; a larger model is thinned for it, and
// only for it.
const mostDrawn = 100_000

// mostWrong is how many broken edges are lit, and how many facets.
const mostWrong = 20_000

// shape is a model to draw: corners with normals, facets, and edges to light up. Its
// corners are relative to centre, so that float32 holds them.
type shape struct {
	centre r3.Vector
	corner []r3.Vector
	normal []r3.Vector
	facets [][3]int32
	wrong  [][2]r3.Vector
	faulty [][3]r3.Vector // facets that are broken, repeated or turned over
}

// newShape thins a model until it has at most mostDrawn facets.
func newShape(m *mesh.Mesh) *shape {
	s := &shape{corner: m.Vertices, facets: m.Triangles}
	box := m.Bounds()
	s.centre = box.Centre()
	// Facets that lie in cells of side a, each thinned to some two, are 2 area/a^2.
	for cells := math.Sqrt(mostDrawn); len(s.facets) > mostDrawn && cells > 1; cells *= 0.8 {
		s.corner, s.facets = thinned(m, box, box.Diagonal()/cells)
	}
	s.normals()
	return s
}

// thinned joins all corners within one cell of a grid into their mean (Rossignac and
// Borrel, 1993, from memory); facets that lose a corner go.
func thinned(m *mesh.Mesh, box mesh.Box, cell float64) ([]r3.Vector, [][3]int32) {
	type key [3]int32
	places := map[key]int32{}
	var corners []r3.Vector
	var count []float64
	moved := make([]int32, len(m.Vertices))
	for i, p := range m.Vertices {
		d := p.Sub(box.Min).Mul(1 / cell)
		k := key{int32(d.X), int32(d.Y), int32(d.Z)}
		n, ok := places[k]
		if !ok {
			n = int32(len(corners))
			places[k] = n
			corners, count = append(corners, r3.Vector{}), append(count, 0)
		}
		corners[n] = corners[n].Add(p)
		count[n]++
		moved[i] = n
	}
	for i := range corners {
		corners[i] = corners[i].Mul(1 / count[i])
	}
	var facets [][3]int32
	seen := map[[3]int32]bool{}
	for _, t := range m.Triangles {
		a, b, c := moved[t[0]], moved[t[1]], moved[t[2]]
		for a > b || a > c { // the lowest first, the turn kept
			a, b, c = b, c, a
		}
		f := [3]int32{a, b, c}
		if a == b || b == c || c == a || seen[f] {
			continue
		}
		seen[f] = true
		facets = append(facets, f)
	}
	return corners, facets
}

// normals are those of the corners, each facet counted by its area.
func (s *shape) normals() {
	s.normal = make([]r3.Vector, len(s.corner))
	for _, t := range s.facets {
		a, b, c := s.corner[t[0]], s.corner[t[1]], s.corner[t[2]]
		n := b.Sub(a).Cross(c.Sub(a))
		for _, v := range t {
			s.normal[v] = s.normal[v].Add(n)
		}
	}
	for i, n := range s.normal {
		if l := n.Norm(); l > 0 {
			s.normal[i] = n.Mul(1 / l)
		}
	}
}

// encode writes little-endian numbers: how many corners, facets, lit edges and lit
// facets; the corners and their normals as float32; the facets as int32; the edges'
// ends and the lit facets' corners as float32. The page reads it with typed arrays.
func (s *shape) encode() []byte {
	out := make([]byte, 0, 16+24*len(s.corner)+12*len(s.facets)+24*len(s.wrong)+36*len(s.faulty))
	put := binary.LittleEndian.AppendUint32
	for _, n := range []int{len(s.corner), len(s.facets), len(s.wrong), len(s.faulty)} {
		out = put(out, uint32(n))
	}
	point := func(p r3.Vector) {
		for _, x := range []float64{p.X, p.Y, p.Z} {
			out = put(out, math.Float32bits(float32(x)))
		}
	}
	for _, p := range s.corner {
		point(p.Sub(s.centre))
	}
	for _, n := range s.normal {
		point(n)
	}
	for _, t := range s.facets {
		for _, v := range t {
			out = put(out, uint32(v))
		}
	}
	for _, e := range s.wrong {
		point(e[0].Sub(s.centre))
		point(e[1].Sub(s.centre))
	}
	for _, f := range s.faulty {
		for _, p := range f {
			point(p.Sub(s.centre))
		}
	}
	return out
}

// light adds what is wrong with a model as it was read.
func (s *shape) light(m *mesh.Mesh) {
	for _, e := range m.WrongEdges(mostWrong) {
		s.wrong = append(s.wrong, [2]r3.Vector{m.Vertices[e[0]], m.Vertices[e[1]]})
	}
	for _, w := range m.WrongFacets(mostWrong) {
		a, b, c := m.Corners(int(w.Facet))
		s.faulty = append(s.faulty, [3]r3.Vector{a, b, c})
	}
}
