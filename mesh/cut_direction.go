package mesh

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"bellyline/mesh/vector"

	"github.com/golang/geo/r3"
)

// ErrDirection is wrapped by every error about a direction.
var ErrDirection = errors.New("not a direction")

// ParseDirection reads "+x", "-x", "x" (and the same for y and z) or three
// numbers "x,y,z" of any length but zero, and returns a vector of length 1.
// A direction along an axis comes back exact, however it was written.
// Errors wrap ErrDirection.
func ParseDirection(s string) (r3.Vector, error) {
	text := strings.ToLower(strings.TrimSpace(s))
	if v, ok := axisByName(text); ok {
		return v, nil
	}
	parts := strings.Split(text, ",")
	if len(parts) != 3 {
		return r3.Vector{}, fmt.Errorf("%w: %q; write +x, -x, +y, -y, +z, -z or three numbers x,y,z", ErrDirection, s)
	}
	var xyz [3]float64
	for i, part := range parts {
		f, err := strconv.ParseFloat(strings.TrimSpace(part), 64)
		if err != nil || math.IsNaN(f) || math.IsInf(f, 0) {
			return r3.Vector{}, fmt.Errorf("%w: %q in %q is not a finite number", ErrDirection, strings.TrimSpace(part), s)
		}
		xyz[i] = f
	}
	v, ok := vector.Unit(vector.Of(xyz))
	if !ok {
		return r3.Vector{}, fmt.Errorf("%w: %q has no length", ErrDirection, s)
	}
	return v, nil
}

func axisByName(s string) (r3.Vector, bool) {
	sign := 1.0
	switch {
	case strings.HasPrefix(s, "+"):
		s = s[1:]
	case strings.HasPrefix(s, "-"):
		s, sign = s[1:], -1
	}
	switch s {
	case "x":
		return r3.Vector{X: sign}, true
	case "y":
		return r3.Vector{Y: sign}, true
	case "z":
		return r3.Vector{Z: sign}, true
	}
	return r3.Vector{}, false
}
