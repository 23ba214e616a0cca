package shells

import (
	"math"

	"github.com/golang/geo/r3"
)

// Shell is one closed surface: three corners a facet, in mm, counter-clockwise seen
// from outside.
type Shell []r3.Vector

// section is one cut through a loft: an ellipse of two half widths in mm about a
// centre.
type section struct {
	centre r3.Vector
	a, b   float64
}

// frame is the two unit directions in which the half widths a and b of sections lie.
// The path of a loft runs along a cross b.
type frame struct{ a, b r3.Vector }

// alongX has a to the left and b upwards, for paths towards +x.
var alongX = frame{r3.Vector{Y: 1}, r3.Vector{Z: 1}}

// loft closes a skin round sections, the first and the last of which are points. It
// has 2*around*(sections-2) facets.
func (f frame) loft(sections []section, around int) Shell {
	last := len(sections) - 1
	rings := make([][]r3.Vector, last)
	for i := 1; i < last; i++ {
		rings[i] = f.ring(sections[i], around)
	}
	tail, nose := onGrid(sections[0].centre), onGrid(sections[last].centre)
	s := make(Shell, 0, 6*around*(last-1))
	for k := range around {
		next := (k + 1) % around
		s = append(s, tail, rings[1][next], rings[1][k])
		for i := 1; i < last-1; i++ {
			p, q, r, t := rings[i][k], rings[i][next], rings[i+1][next], rings[i+1][k]
			s = append(s, p, q, r, p, r, t)
		}
		s = append(s, nose, rings[last-1][k], rings[last-1][next])
	}
	return s
}

// ring returns the corners of a section, counter-clockwise for an eye that looks back
// along the path.
func (f frame) ring(s section, around int) []r3.Vector {
	points := make([]r3.Vector, around)
	for k := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(around))
		points[k] = onGrid(s.centre.Add(f.a.Mul(s.a * cos)).Add(f.b.Mul(s.b * sin)))
	}
	return points
}

// profile returns count sections from u = 0 to u = 1, close together at the ends,
// where a body is round.
func profile(count int, at func(u float64) section) []section {
	list := make([]section, count)
	for i := range list {
		list[i] = at((1 - math.Cos(math.Pi*float64(i)/float64(count-1))) / 2)
	}
	return list
}

// round is how wide an ellipse of half width 1 is at the part u (0 to 1) of its
// length.
func round(u float64) float64 { return 2 * math.Sqrt(max(0, u*(1-u))) }

// step is that of the grid on which all corners lie, in mm.
const step = 1.0 / (1 << 16)

// onGrid returns p on the grid; minus zero becomes zero.
func onGrid(p r3.Vector) r3.Vector {
	on := func(c float64) float64 { return math.Round(c/step)*step + 0 }
	return r3.Vector{X: on(p.X), Y: on(p.Y), Z: on(p.Z)}
}
