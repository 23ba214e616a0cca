package cavity

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// Silhouette is what water meets of a bait.
type Silhouette struct {
	LengthMM   float64 // from tail to nose
	LevelMM2   float64 // shadow along the back: when it falls level
	UprightMM2 float64 // shadow along the nose: when it falls nose first
}

// Silhouette measures the cavity's shadows, the first time that it is asked.
func (c *Cavity) Silhouette() Silhouette { return c.silhouette() }

func (c *Cavity) measureSilhouette() Silhouette {
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range c.Mesh.Vertices {
		x := c.frame.Nose.Dot(v)
		low, high = min(low, x), max(high, x)
	}
	return Silhouette{LengthMM: high - low, LevelMM2: c.ShadowMM2(c.frame.Back), UprightMM2: c.ShadowMM2(c.frame.Nose)}
}

// shadowCells is how many cells the longer side of a shadow has. Their centres are
// counted, so an area is off by about a cell for every hundred that the outline runs
// through: 0.1 % for a bait.
const shadowCells = 1000

// ShadowMM2 returns the area of the cavity's shadow along a direction of any length
// but zero: what water meets when the bait falls that way. Each facet is filled into
// a grid; the cost grows with the facets and the cells that they cover.
func (c *Cavity) ShadowMM2(direction r3.Vector) float64 {
	m := c.Mesh
	east := direction.Normalize().Ortho()
	north := direction.Normalize().Cross(east)
	flat := make([]r2.Point, len(m.Vertices))
	frame := r2.EmptyRect()
	for i, v := range m.Vertices {
		flat[i] = r2.Point{X: east.Dot(v), Y: north.Dot(v)}
		frame = frame.AddPoint(flat[i])
	}
	cell := max(frame.Size().X, frame.Size().Y) / shadowCells
	if !(cell > 0) {
		return 0
	}
	s := shadow{wide: int(frame.Size().X/cell) + 1, tall: int(frame.Size().Y/cell) + 1}
	s.dark = make([]bool, s.wide*s.tall)
	for i := range flat { // from here on in cells, centres on whole numbers
		flat[i] = flat[i].Sub(frame.Lo()).Mul(1 / cell).Sub(r2.Point{X: 0.5, Y: 0.5})
	}
	for _, t := range m.Triangles {
		s.fill([3]r2.Point{flat[t[0]], flat[t[1]], flat[t[2]]})
	}
	return float64(s.count) * cell * cell
}

// shadow is a grid of cells, dark where something stands before the light.
type shadow struct {
	wide, tall int
	dark       []bool
	count      int
}

// fill darkens the cells with their centre in a triangle.
func (s *shadow) fill(t [3]r2.Point) {
	low := min(t[0].Y, t[1].Y, t[2].Y)
	high := max(t[0].Y, t[1].Y, t[2].Y)
	for row := max(0, int(math.Ceil(low))); row < s.tall && float64(row) <= high; row++ {
		from, to := spanAt(t, float64(row))
		for col := max(0, int(math.Ceil(from))); col < s.wide && float64(col) <= to; col++ {
			if at := row*s.wide + col; !s.dark[at] {
				s.dark[at] = true
				s.count++
			}
		}
	}
}

// spanAt returns where a triangle begins and ends at a height, from > to if it is not
// there.
func spanAt(t [3]r2.Point, y float64) (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	for i, a := range t {
		b := t[(i+1)%3]
		if min(a.Y, b.Y) > y || max(a.Y, b.Y) < y {
			continue
		}
		x := a.X
		if a.Y != b.Y {
			x += (b.X - a.X) * ((y - a.Y) / (b.Y - a.Y))
		}
		from, to = min(from, x), max(to, x)
	}
	return from, to
}
