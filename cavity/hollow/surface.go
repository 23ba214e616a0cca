package hollow

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/exact"
	"bellyline/mesh/halfedge"
)

// none marks what is not there: a facet beyond a side, a flat, a basin.
const none = halfedge.None

// surface is the model as this package works on it: facets with their areas and
// neighbours.
type surface struct {
	mesh    *mesh.Mesh
	twins   []int32     // the side beyond each side, none at holes: see halfedge.Twins
	normals []r3.Vector // of length 1, zero for a facet without area
	areas   []float64   // in mm2
	total   float64     // of areas
	centre  r3.Vector   // of the box
	size    float64     // diagonal of the box, mm
	tol     float64     // how far corners may lie from a plane that they are on, mm
	blocks  []reach
	far     []r3.Vector // extreme corners: far apart first
}

// reach is the box of a run of corners that lie close together in the file.
type reach struct {
	box      mesh.Box
	from, to int
}

// planarSteps is how many steps of float32 corners may lie off a plane that they
// were drawn on. Rounding moves a corner by at most half a step along each axis,
// sqrt(3)/2 steps in all; the plane itself is fitted to such corners, and a model
// that was turned or shifted by another program has been rounded twice.
const planarSteps = 4

// ToleranceFor returns the distance in mm within which corners of a float32 model
// with that box are taken to lie on one plane.
func ToleranceFor(box mesh.Box) float64 {
	largest := 0.0
	for _, v := range []r3.Vector{box.Min, box.Max} {
		largest = max(largest, math.Abs(v.X), math.Abs(v.Y), math.Abs(v.Z))
	}
	const half = 0x1p-24 // half a step of float32, relative; a step is twice that
	return planarSteps * 2 * half * largest
}

func newSurface(m *mesh.Mesh, tol float64) *surface {
	box := m.Bounds()
	s := &surface{mesh: m, twins: halfedge.Twins(m.Triangles, len(m.Vertices)), centre: box.Centre(), size: box.Diagonal(), tol: tol}
	if s.tol == 0 {
		s.tol = ToleranceFor(box)
	}
	s.normals = make([]r3.Vector, len(m.Triangles))
	s.areas = make([]float64, len(m.Triangles))
	var total exact.Sum
	for t := range m.Triangles {
		a, b, c := m.Corners(t)
		cross := b.Sub(a).Cross(c.Sub(a))
		if twice := cross.Norm(); twice > 0 {
			s.normals[t], s.areas[t] = cross.Mul(1/twice), twice/2
			total = total.Plus(twice / 2)
		}
	}
	s.total = total.Value()
	s.collectBlocks()
	s.collectFar()
	return s
}

func (s *surface) collectBlocks() {
	const run = 256
	v := s.mesh.Vertices
	for from := 0; from < len(v); from += run {
		to := min(from+run, len(v))
		s.blocks = append(s.blocks, reach{mesh.BoxOf(v[from:to]...), from, to})
	}
}

// support is the largest height of a box along a direction.
func support(b mesh.Box, d r3.Vector) float64 {
	pick := func(lo, hi, d float64) float64 {
		if d > 0 {
			return hi * d
		}
		return lo * d
	}
	return pick(b.Min.X, b.Max.X, d.X) + pick(b.Min.Y, b.Max.Y, d.Y) + pick(b.Min.Z, b.Max.Z, d.Z)
}

// collectFar finds the extreme corners along the 26 directions of a cube's
// corners, edges and faces and 98 between them. Nearly every plane that cuts the
// body has one of them in front.
func (s *surface) collectFar() {
	var seen []int
	for x := -2.0; x <= 2; x++ {
		for y := -2.0; y <= 2; y++ {
			for z := -2.0; z <= 2; z++ {
				if d := (r3.Vector{X: x, Y: y, Z: z}); max(math.Abs(x), math.Abs(y), math.Abs(z)) == 2 {
					if v := s.extreme(d); v >= 0 && !slices.Contains(seen, v) {
						seen = append(seen, v)
						s.far = append(s.far, s.mesh.Vertices[v])
					}
				}
			}
		}
	}
}

// extreme returns the corner furthest along a direction, -1 of no corners.
func (s *surface) extreme(d r3.Vector) int {
	best, at := math.Inf(-1), -1
	for _, b := range s.blocks {
		if support(b.box, d) <= best {
			continue
		}
		for i := b.from; i < b.to; i++ {
			if h := s.mesh.Vertices[i].Dot(d); h > best {
				best, at = h, i
			}
		}
	}
	return at
}

// inFront says whether any corner lies above the plane by more than slack.
func (s *surface) inFront(normal r3.Vector, height, slack float64) bool {
	for _, p := range s.far {
		if p.Dot(normal)-height > slack {
			return true
		}
	}
	for _, b := range s.blocks {
		if support(b.box, normal)-height <= slack {
			continue
		}
		for i := b.from; i < b.to; i++ {
			if s.mesh.Vertices[i].Dot(normal)-height > slack {
				return true
			}
		}
	}
	return false
}

// heightsOf returns the lowest and the highest corner of a facet along a direction.
func (s *surface) heightsOf(t int, d r3.Vector) (lo, hi float64) {
	a, b, c := s.mesh.Corners(t)
	x, y, z := a.Dot(d), b.Dot(d), c.Dot(d)
	return min(x, y, z), max(x, y, z)
}
