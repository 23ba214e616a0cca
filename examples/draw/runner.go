package main

import "bellyline/mesh"

// runner is what stands between the injector and the noses of two paddletails
// in one mold: a sprue that widens towards its mouth, a runner across the mold
// and two gates. It lies in the frame of the bait, with the noses at x = 100 and
// the baits 40 mm apart, at y = 20 and y = -20. All of it is drawn round, half
// in each mold half.
func runner() *mesh.Mesh {
	p := &plan{}
	var across [][]int // three cuts through the middle of the runner
	for _, y := range []float64{-7, 0, 7} {
		across = append(across, p.row(knot{120, y, 6.6, 6.6}, knot{114, y, 6.2, 6.2}, knot{108, y, 0, 0}))
	}
	p.join(across[0], across[1])
	p.join(across[1], across[2])
	for _, left := range []bool{true, false} {
		from := across[2]
		if !left {
			from = across[0]
		}
		p.limb(left, from, []chain{
			{{119.6, 14, 0, 0}, {113.8, 14, 6.2, 6.2}, {108, 14, 0, 0}},
			{{116.5, 23, 0, 0}, {112, 18.8, 6, 6}, {107.5, 15, 0, 0}},
			{{108.6, 24.8, 0, 0}, {107.8, 20, 5.2, 5.2}, {107, 15.4, 0, 0}},
			{{104, 22.8, 0, 0}, {104, 20, 3.2, 3.2}, {104, 17.2, 0, 0}},
			{{101.4, 21.9, 0, 0}, {101.4, 20, 2.1, 2.1}, {101.4, 18.1, 0, 0}},
			{{100.4, 21.4, 0, 0}, {99.9, 20, 0, 0}, {100.4, 18.6, 0, 0}},
		})
	}
	p.limb(true, []int{across[0][0], across[1][0], across[2][0]}, []chain{
		{{127, -6.8, 0, 0}, {127, 0, 6.8, 6.8}, {127, 6.8, 0, 0}},
		{{138, -7.6, 0, 0}, {138, 0, 7.6, 7.6}, {138, 7.6, 0, 0}},
		{{149, -8.6, 0, 0}, {149, 0, 8.6, 8.6}, {149, 8.6, 0, 0}},
		{{158, -9.4, 0, 0}, {158, 0, 9.4, 9.4}, {158, 9.4, 0, 0}},
		{{160, -9.6, 0, 0}, {160, 0, 9.6, 9.6}, {160, 9.6, 0, 0}},
		{{160.6, -8.2, 0, 0}, {160.8, 0, 0, 0}, {160.6, 8.2, 0, 0}},
	})
	return p.draw(2).finish()
}
