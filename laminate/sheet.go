package laminate

import (
	"github.com/golang/geo/r3"

	"bellyline/mesh/vector"
)

// Sheet is the surface that parts two colours, to be drawn: a place p of the model
// lies below it where Up·p is less than the height, at Along·p, of the straight pieces
// between Knots, which run on level beyond the ends. Along is zero for a plane, whose
// one knot is its height along Up. In mm.
type Sheet struct {
	Up    [3]float64   `json:"up"`
	Along [3]float64   `json:"along"`
	Knots [][2]float64 `json:"knots"`
}

func flatSheet(up r3.Vector, height float64) Sheet {
	return Sheet{Up: vector.XYZ(up), Knots: [][2]float64{{0, height}}}
}

func bentSheet(along, up r3.Vector, knots [][2]float64) Sheet {
	return Sheet{Up: vector.XYZ(up), Along: vector.XYZ(along), Knots: knots}
}

// HeightAt returns how high the sheet lies, along Up, above a place along it.
func (s Sheet) HeightAt(along float64) float64 {
	k := s.Knots
	for i := 1; i < len(k); i++ {
		if along < k[i][0] {
			a, b := k[i-1], k[i]
			if along <= a[0] {
				return a[1]
			}
			return a[1] + (b[1]-a[1])*((along-a[0])/(b[0]-a[0]))
		}
	}
	return k[len(k)-1][1]
}

// Sheets returns the surfaces between the colours, from the first colour on; none
// for core and skin, which no such surface parts.
func (s *Split) Sheets() []Sheet {
	var list []Sheet
	for _, l := range s.lines {
		if sheet := l.surface(); sheet != nil {
			list = append(list, *sheet)
		}
	}
	return list
}
