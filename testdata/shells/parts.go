package shells

import (
	"math"

	"github.com/golang/geo/r3"
)

// fineness is how finely a model is drawn: 1 is coarse, facets grow with its square.
type fineness float64

// of scales a count of corners or sections, never below 4.
func (f fineness) of(count int) int { return max(4, int(float64(count)*float64(f))) }

// body is a bait's body from x = 0 to length, bellied and with shallow ribs; high and
// wide are its greatest half height and half width.
func (f fineness) body(length, wide, high float64) Shell {
	return alongX.loft(profile(f.of(24), func(u float64) section {
		swell := math.Pow(round(u), 1.2) * (0.55 + 0.45*u) * (1 + 0.02*math.Sin(60*u))
		return section{
			centre: r3.Vector{X: length * u, Y: 0.03 * math.Sin(3*u), Z: 1.5 * math.Sin(2.2*u)},
			a:      wide * swell,
			b:      high * swell,
		}
	}), f.of(16))
}

// ball is an ellipsoid along x with the given half axes.
func (f fineness) ball(centre, half r3.Vector) Shell {
	return alongX.loft(profile(f.of(7), func(u float64) section {
		return section{
			centre: centre.Add(r3.Vector{X: half.X * (2*u - 1)}),
			a:      half.Y * round(u),
			b:      half.Z * round(u),
		}
	}), f.of(8))
}

// spike runs from a root of the given radius to a blunt tip, bent sideways by bend mm
// half way: a tooth when short, a string when long. Its root is round and sunk in.
func (f fineness) spike(root, tip r3.Vector, radius float64, bend r3.Vector) Shell {
	way := tip.Sub(root).Normalize()
	side := way.Cross(way.Ortho()).Normalize()
	across := frame{side, way.Cross(side)}
	return across.loft(profile(f.of(8), func(u float64) section {
		wide := radius * math.Sqrt(round(u)) * (1 - 0.7*u)
		return section{
			centre: root.Add(tip.Sub(root).Mul(u)).Add(bend.Mul(math.Sin(math.Pi * u))),
			a:      wide,
			b:      wide,
		}
	}), f.of(6))
}

// fin is a flat blade from root to tip, thin across, with its chord along the third
// direction.
func (f fineness) fin(root, tip, across r3.Vector, thick, chord float64) Shell {
	way := tip.Sub(root).Normalize()
	flat := across.Normalize()
	return frame{flat, way.Cross(flat)}.loft(profile(f.of(10), func(u float64) section {
		return section{
			centre: root.Add(tip.Sub(root).Mul(u)),
			a:      thick * math.Sqrt(round(u)) * (1 - 0.5*u),
			b:      chord * math.Sqrt(round(u)) * (1 - 0.4*u),
		}
	}), f.of(10))
}
