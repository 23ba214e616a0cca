package main

// section is one upright cut through a swept body, square to the path that its
// centre follows: a flat superellipse with its own half above and below the
// parting height, so that the body is widest there and leaves a mold cleanly.
// All lengths are millimetres.
type section struct {
	x, y, z  float64 // centre; z is the height of the widest place
	half     float64 // half width, square to the path in the xy plane
	up, down float64 // height above z, depth below it
	power    float64 // 2 for an ellipse, more for a fuller section
}

// row is a control section of a sweep and the number of stations drawn from it
// up to the next one.
type row struct {
	section
	steps int
}

// station is a drawn section and the direction of the path in it, not of unit
// length.
type station struct {
	section
	dx, dy float64
}

// weigh returns the sum of four sections, each times its weight.
func weigh(s [4]section, w [4]float64) section {
	var sum section
	for i := range s {
		sum.x += w[i] * s[i].x
		sum.y += w[i] * s[i].y
		sum.z += w[i] * s[i].z
		sum.half += w[i] * s[i].half
		sum.up += w[i] * s[i].up
		sum.down += w[i] * s[i].down
		sum.power += w[i] * s[i].power
	}
	return sum
}

// bspline returns the weights of four neighbouring control values at the part u
// (0 to 1) of the way from the second to the third, and those of the slope, for
// the uniform cubic B-spline (de Boor, A Practical Guide to Splines, 1978, from
// memory). Such a curve has no kinks and never overshoots its controls.
func bspline(u float64) (value, slope [4]float64) {
	v := 1 - u
	value = [4]float64{v * v * v / 6, (3*u*u*u - 6*u*u + 4) / 6, (3*v*v*v - 6*v*v + 4) / 6, u * u * u / 6}
	slope = [4]float64{-v * v / 2, (3*u*u - 4*u) / 2, -(3*v*v - 4*v) / 2, u * u / 2}
	return value, slope
}

// mirrored is the control section beyond a pole: the next one turned half round
// the path, so that the surface is smooth across the pole.
func mirrored(next section) section {
	next.half, next.up, next.down = -next.half, -next.up, -next.down
	return next
}

// stations returns the sections drawn between control rows. The first and the
// last row must have no width and no height: there the body ends in a pole.
func stations(rows []row) []station {
	at := func(i int) section {
		switch {
		case i < 0:
			return mirrored(rows[1].section)
		case i >= len(rows):
			return mirrored(rows[len(rows)-2].section)
		}
		return rows[i].section
	}
	var drawn []station
	for i := range len(rows) - 1 {
		four := [4]section{at(i - 1), at(i), at(i + 1), at(i + 2)}
		for j := range rows[i].steps {
			value, slope := bspline(float64(j) / float64(rows[i].steps))
			way := weigh(four, slope)
			drawn = append(drawn, station{weigh(four, value), way.x, way.y})
		}
	}
	last := len(rows) - 1
	value, _ := bspline(1)
	end := weigh([4]section{at(last - 2), at(last - 1), at(last), at(last + 1)}, value)
	return append(drawn, station{section: end})
}
