package main

import (
	"math"

	"github.com/golang/geo/r3"
)

// ribs scales a straight body about the x axis: from x = from to x = to its
// radius swells and shrinks in waves of the given pitch, up to the share depth
// narrower between two ribs. The ends lie on ribs when pitch divides the length.
func ribs(from, to, pitch, depth float64) relief {
	return func(p r3.Vector) r3.Vector {
		if p.X <= from || p.X >= to {
			return p
		}
		wave := (1 - math.Cos(2*math.Pi*(p.X-from)/pitch)) / 2
		f := 1 - depth*wave
		return r3.Vector{X: p.X, Y: p.Y * f, Z: p.Z * f}
	}
}

// socket presses a round eye socket into the back of a body, the same on both
// sides: within radius of centre (given on the left side) the surface sinks
// along -z, by depth in the middle. Sinking along z makes no undercut.
func socket(centre r3.Vector, radius, depth float64) relief {
	const steepness = 1.4 // the rim takes up 1/1.4 of the radius, the rest is floor
	return func(p r3.Vector) r3.Vector {
		far := r3.Vector{X: p.X, Y: math.Abs(p.Y), Z: p.Z}.Sub(centre).Norm() / radius
		if p.Z <= 0 || far >= 1 {
			return p
		}
		p.Z -= depth * smoothstep(steepness*(1-far))
		return p
	}
}

// gill swells the head by the given share in front of a curved edge: at x in
// the parting plane, further towards the nose by bow times the squared height
// at other heights. The swelling sets in within width.
func gill(x, bow, width, share float64) relief {
	return func(p r3.Vector) r3.Vector {
		edge := x + bow*p.Z*p.Z
		f := 1 + share*smoothstep((p.X-edge)/width)
		return r3.Vector{X: p.X, Y: p.Y * f, Z: p.Z * f}
	}
}

// smoothstep rises from 0 at t = 0 to 1 at t = 1 without a kink.
func smoothstep(t float64) float64 {
	t = max(0, min(1, t))
	return t * t * (3 - 2*t)
}
