// Package vector has what r3.Vector lacks for vectors of any length.
package vector

import (
	"math"

	"github.com/golang/geo/r3"
)

// Finite says whether all components of v are finite numbers.
func Finite(v r3.Vector) bool {
	return v.X*0+v.Y*0+v.Z*0 == 0 // NaN where a component is infinite or NaN
}

// Unit returns v at length 1, and false when v has no direction. It scales by
// the largest component first, so that tiny and huge vectors keep theirs
// (r3.Vector.Normalize loses both to underflow and overflow).
func Unit(v r3.Vector) (r3.Vector, bool) {
	largest := max(math.Abs(v.X), math.Abs(v.Y), math.Abs(v.Z))
	if largest == 0 || math.IsInf(largest, 0) || math.IsNaN(largest) {
		return r3.Vector{}, false
	}
	v = r3.Vector{X: v.X / largest, Y: v.Y / largest, Z: v.Z / largest}
	n := v.Norm()
	return r3.Vector{X: v.X / n, Y: v.Y / n, Z: v.Z / n}, true
}

// XYZ returns the components of v in order: as they stand in JSON, or to walk axes.
func XYZ(v r3.Vector) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

// Of returns the vector of three components.
func Of(xyz [3]float64) r3.Vector { return r3.Vector{X: xyz[0], Y: xyz[1], Z: xyz[2]} }
