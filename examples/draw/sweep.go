package main

import (
	"math"

	"github.com/golang/geo/r3"
)

// sweep draws the closed shell through the control rows, from one pole to the
// other, with the given number of corners (a multiple of four) in a section.
// It has 2*around*(stations-2) facets.
func sweep(rows []row, around int) *skin {
	drawn := stations(rows)
	inner := drawn[1 : len(drawn)-1]
	s := &skin{}
	for _, cut := range inner {
		s.corners = append(s.corners, outline(cut, around)...)
	}
	corner := func(ring, k int) int32 { return int32(ring*around + k%around) }
	for ring := range len(inner) - 1 {
		for k := range around {
			s.cells = append(s.cells, [4]int32{corner(ring, k), corner(ring, k+1), corner(ring+1, k+1), corner(ring+1, k)})
		}
	}
	end := len(inner) - 1
	tail, nose := s.pole(drawn[0]), s.pole(drawn[len(drawn)-1])
	for k := range around {
		s.tips = append(s.tips, [3]int32{corner(0, k+1), corner(0, k), tail})
		s.tips = append(s.tips, [3]int32{corner(end, k), corner(end, k+1), nose})
	}
	return s
}

// pole adds the corner that closes an end of a sweep and returns its number.
func (s *skin) pole(end station) int32 {
	s.corners = append(s.corners, r3.Vector{X: end.x, Y: end.y, Z: end.z})
	return int32(len(s.corners) - 1)
}

// outline returns the corners of a section, counter-clockwise for an eye that
// looks back along the path; the first lies at the left of the path, at the
// widest height.
func outline(s station, around int) []r3.Vector {
	length := math.Hypot(s.dx, s.dy)
	left := r3.Vector{X: -s.dy / length, Y: s.dx / length}
	points := make([]r3.Vector, around)
	for k := range points {
		across, rise := superellipse(k, around, s.power)
		height := s.up
		if rise < 0 {
			height = s.down
		}
		points[k] = r3.Vector{
			X: s.x + s.half*across*left.X,
			Y: s.y + s.half*across*left.Y,
			Z: s.z + height*rise,
		}
	}
	return points
}

// superellipse returns corner k of the curve |a|^p + |b|^p = 1, k = 0 at a = 1.
// The quarter points are exact, so that no rounding decides on which side of
// the parting height they lie.
func superellipse(k, around int, power float64) (across, rise float64) {
	switch k {
	case 0:
		return 1, 0
	case around / 4:
		return 0, 1
	case around / 2:
		return -1, 0
	case 3 * around / 4:
		return 0, -1
	}
	angle := 2 * math.Pi * float64(k) / float64(around)
	bend := func(c float64) float64 { return math.Copysign(math.Pow(math.Abs(c), 2/power), c) }
	return bend(math.Cos(angle)), bend(math.Sin(angle))
}
