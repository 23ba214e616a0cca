package cool

import "math"

// Setting times of plain shapes with a wall held at its temperature, until the
// middle is at openC: the first term of each series, for a middle that has begun
// to cool (Menges, Michaeli and Mohren, How to Make Injection Molds, ch. 8; from
// memory). Millimetres, mm2/s, seconds. They are for the eye and for bounds; the
// grid does not use them.

// PlateS is the time of a wide plate.
func PlateS(thicknessMM, diffusivity, meltC, moldC, openC float64) float64 {
	return firstTerm(thicknessMM, diffusivity, math.Pi, 4/math.Pi, meltC, moldC, openC)
}

// RodS is the time of a long round rod.
func RodS(diameterMM, diffusivity, meltC, moldC, openC float64) float64 {
	const root, factor = 2.404825557695773, 1.6019746972734487 // j0, 2/(j0 J1(j0))
	return firstTerm(diameterMM, diffusivity, 2*root, factor, meltC, moldC, openC)
}

// BallS is the time of a ball.
func BallS(diameterMM, diffusivity, meltC, moldC, openC float64) float64 {
	return firstTerm(diameterMM, diffusivity, 2*math.Pi, 2, meltC, moldC, openC)
}

// firstTerm is size^2/(root^2 a) ln(factor (melt-mold)/(open-mold)).
func firstTerm(size, diffusivity, root, factor, meltC, moldC, openC float64) float64 {
	return size * size / (root * root * diffusivity) * math.Log(factor*(meltC-moldC)/(openC-moldC))
}
