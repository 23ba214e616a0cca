package main

import "bellyline/mesh"

// ringgrub is a grub of 75 mm (3 in): a round ringed body and a flat tail, about
// 2 mm thick, that curls in the parting plane. One shell.
func ringgrub() *mesh.Mesh {
	body := sweep([]row{
		// The tail, from its tip along the curl to the body.
		{section{x: 20, y: 17, power: 2.5}, 2},
		{section{x: 17, y: 18, half: 1.4, up: 0.8, down: 0.8, power: 2.5}, 3},
		{section{x: 12, y: 17.5, half: 3, up: 1, down: 1, power: 2.5}, 4},
		{section{x: 6.5, y: 13, half: 4.4, up: 1, down: 1, power: 2.5}, 4},
		{section{x: 5, y: 6.5, half: 5, up: 1, down: 1, power: 2.5}, 4},
		{section{x: 9, y: 1, half: 4.8, up: 1, down: 1, power: 2.5}, 4},
		{section{x: 16, y: -1, half: 4, up: 1, down: 1, power: 2.5}, 4},
		{section{x: 23, y: -0.5, half: 3.2, up: 1.1, down: 1.1, power: 2.5}, 4},
		{section{x: 29, y: 0, half: 3, up: 1.6, down: 1.6, power: 2.2}, 3},
		{section{x: 33, y: 0, half: 4.6, up: 4.2, down: 4.2, power: 2}, 3},
		{section{x: 37, y: 0, half: 6, up: 5.8, down: 5.8, power: 2}, 6},
		{section{x: 41, y: 0, half: 6.2, up: 6.2, down: 6.2, power: 2}, 12},
		{section{x: 49, y: 0, half: 6.4, up: 6.4, down: 6.4, power: 2}, 12},
		{section{x: 57, y: 0, half: 6.4, up: 6.4, down: 6.4, power: 2}, 12},
		{section{x: 65, y: 0, half: 6.2, up: 6.2, down: 6.2, power: 2}, 8},
		{section{x: 71, y: 0, half: 6, up: 6, down: 6, power: 2}, 4},
		{section{x: 74.6, y: 0, half: 4.7, up: 4.7, down: 4.7, power: 2}, 3},
		{section{x: 76, y: 0, half: 2.4, up: 2.4, down: 2.4, power: 2}, 2},
		{section{x: 76.2, y: 0, power: 2}, 0},
	}, 28)
	return body.finish(ribs(37, 69, 4, 0.14))
}
