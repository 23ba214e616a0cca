package stl

import (
	"fmt"
	"math"
	"strings"

	"bellyline/mesh/internal/weld"

	"github.com/golang/geo/r3"
)

// Unit is the length of one model unit in millimetres. An STL file has none, so
// it comes from the user and is never guessed.
type Unit float64

// The units that STL files are drawn in.
const (
	Millimetre Unit = 1
	Centimetre Unit = 10
	Inch       Unit = 25.4 // exact since the international inch of 1959
	Metre      Unit = 1000
)

// ParseUnit returns the unit called "mm", "cm", "in" (or "inch") or "m", upper
// or lower case. The error of any other word lists the choices.
func ParseUnit(s string) (Unit, error) {
	switch strings.ToLower(s) {
	case "mm":
		return Millimetre, nil
	case "cm":
		return Centimetre, nil
	case "in", "inch":
		return Inch, nil
	case "m":
		return Metre, nil
	}
	return 0, fmt.Errorf("unit %q is not known; use mm, cm, in or m", s)
}

// String returns the name that ParseUnit takes, or the millimetres of a unit
// that has none.
func (u Unit) String() string {
	switch u {
	case Millimetre:
		return "mm"
	case Centimetre:
		return "cm"
	case Inch:
		return "in"
	case Metre:
		return "m"
	}
	return fmt.Sprintf("%g mm", float64(u))
}

// position returns where a corner of a file is in millimetres.
func (u Unit) position(c *weld.Corner) r3.Vector {
	scale := float64(u)
	return r3.Vector{
		X: float64(math.Float32frombits(c[0])) * scale,
		Y: float64(math.Float32frombits(c[1])) * scale,
		Z: float64(math.Float32frombits(c[2])) * scale,
	}
}
