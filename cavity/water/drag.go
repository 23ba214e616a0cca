package water

import "math"

// Drag coefficients are on the area that faces the flow; re is the Reynolds number on
// the diameter.

// sphereDrag is for a ball up to re = 2e5 (Brown and Lawler 2003, "Sphere drag and
// settling velocity revisited", J. Environ. Eng. 129(3), eq. 19; from memory).
func sphereDrag(re float64) float64 {
	return 24/re*(1+0.15*math.Pow(re, 0.681)) + 0.407/(1+8710/re)
}

// cylinderDrag is for a long cylinder across the flow, 1 < re < 2e5 (White, Viscous
// Fluid Flow; from memory).
func cylinderDrag(re float64) float64 { return 1 + 10*math.Pow(re, -2.0/3) }

// point is a pair of a table.
type point struct{ x, y float64 }

// finite is the drag of cylinders of finite length across the flow at re above 1e4,
// by length over diameter (Aeronautical Engineer's Data Book, fig. 5.13; the same as
// White's Table 7.3 after Hoerner). The last one stands for endless.
var finite = [...]point{{1, 0.63}, {2, 0.68}, {5, 0.74}, {10, 0.82}, {40, 0.98}, {1000, 1.20}}

// bluntAlong and roundAlong are the drag of bodies along the flow by length over
// diameter: cylinders with flat ends (as above), and ellipsoids in laminar flow (White,
// Table 7.3; from memory). A bait lies between them.
var (
	bluntAlong = [...]point{{1, 0.91}, {2, 0.85}, {4, 0.87}, {7, 0.99}}
	roundAlong = [...]point{{1, 0.47}, {2, 0.27}, {4, 0.25}, {8, 0.20}}
)

// look reads a table by straight lines in the logarithm of x, level beyond its ends.
func look(table []point, x float64) float64 {
	if x <= table[0].x {
		return table[0].y
	}
	for i := 1; i < len(table); i++ {
		if a, b := table[i-1], table[i]; x <= b.x {
			return a.y + (b.y-a.y)*math.Log(x/a.x)/math.Log(b.x/a.x)
		}
	}
	return table[len(table)-1].y
}

// acrossDrag is for a body of some slenderness (length over thickness) that falls
// level: the endless cylinder's, less what its ends let by.
func acrossDrag(re, slender float64) float64 {
	endless := finite[len(finite)-1].y
	return cylinderDrag(re) * look(finite[:], slender) / endless
}

// fallSpeed returns the speed in m/s at which drag carries a weight: weight in N,
// area in m2, density in kg/m3, viscosity in Pa s, the length in m that re is on.
// Halving a bracket finds it whatever the drag's shape, as drag only grows with
// speed.
func fallSpeed(weight, area, density, viscosity, length float64, drag func(re float64) float64) float64 {
	low, high := 0.0, 1.0
	pull := func(v float64) float64 {
		return drag(density*v*length/viscosity) * density * v * v / 2 * area
	}
	for pull(high) < weight && high < 1e3 {
		high *= 2
	}
	for range 60 {
		if mid := (low + high) / 2; pull(mid) < weight {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}
