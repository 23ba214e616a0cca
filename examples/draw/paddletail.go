package main

import (
	"bellyline/mesh"

	"github.com/golang/geo/r3"
)

// paddletail is a swimbait of 100 mm (4 in): a deep body, a thin stem and an
// upright paddle behind it. The dorsal fin is a shell of its own, sunk into the
// back, as models often come; its sunk part must not be counted twice.
func paddletail() *mesh.Mesh {
	body := sweep([]row{
		// The paddle, from the pole at its rear face to the stem.
		{section{x: 0.0, power: 2}, 2},
		{section{x: 0.0, half: 3.5, up: 3.5, down: 7.5, power: 2}, 2},
		{section{x: 0.3, half: 6.6, up: 6.3, down: 13.2, power: 2}, 2},
		{section{x: 1.8, half: 7.6, up: 7.2, down: 14.2, power: 2}, 2},
		{section{x: 3.6, half: 7.4, up: 7.0, down: 13.8, power: 2}, 2},
		{section{x: 4.8, half: 5.0, up: 5.4, down: 9.5, power: 2}, 3},
		{section{x: 6.6, half: 1.8, up: 3.4, down: 4.0, power: 2}, 2},
		{section{x: 10, half: 1.25, up: 2.8, down: 2.8, power: 2}, 2},
		{section{x: 15, half: 1.5, up: 3.0, down: 3.0, power: 2}, 3},
		{section{x: 22, half: 2.6, up: 3.8, down: 4.2, power: 2}, 3},
		{section{x: 32, half: 4.5, up: 5.2, down: 6.2, power: 2.1}, 4},
		{section{x: 44, half: 6.2, up: 6.9, down: 8.6, power: 2.2}, 4},
		{section{x: 57, half: 7, up: 8, down: 10, power: 2.2}, 4},
		{section{x: 70, half: 7.2, up: 8.2, down: 10, power: 2.2}, 7},
		{section{x: 80, half: 7, up: 7.6, down: 8.8, power: 2.2}, 9},
		{section{x: 89, half: 6, up: 6.3, down: 6.6, power: 2.1}, 9},
		{section{x: 96, half: 4.5, up: 4.3, down: 4.3, power: 2}, 3},
		{section{x: 99.6, half: 2.6, up: 2.3, down: 2.3, power: 2}, 2},
		{section{x: 100.2, power: 2}, 0},
	}, 40)
	eye := r3.Vector{X: 88.5, Y: 4.6, Z: 4.2}
	return joined(
		body.finish(gill(76, 0.07, 2, 0.06), socket(eye, 3, 1.6)),
		dorsalFin().finish(),
	)
}

// dorsalFin stands on the back from x = 46 to 71, sunk into it by 3 to 4 mm. Its
// rear edge is upright and its front edge slopes, so that the upper mold half
// can be pulled off.
func dorsalFin() *skin {
	const back = 6.0 // height of its widest place, inside the body
	return sweep([]row{
		{section{x: 46, z: back, power: 2}, 2},
		{section{x: 46, z: back, half: 0.7, up: 5, down: 1, power: 2}, 2},
		{section{x: 46.6, z: back, half: 1.2, up: 8.4, down: 1.6, power: 2}, 2},
		{section{x: 49, z: back, half: 1.6, up: 9.6, down: 2, power: 2}, 2},
		{section{x: 54, z: back, half: 1.8, up: 8, down: 2, power: 2}, 3},
		{section{x: 61, z: back, half: 1.8, up: 5.6, down: 2, power: 2}, 3},
		{section{x: 67, z: back, half: 1.5, up: 3.4, down: 1.6, power: 2}, 3},
		{section{x: 71, z: back, half: 0.9, up: 1.8, down: 1, power: 2}, 2},
		{section{x: 72, z: back, power: 2}, 0},
	}, 16)
}
