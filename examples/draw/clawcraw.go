package main

import "bellyline/mesh"

// clawcraw is a craw of 90 mm (3 1/2 in) that swims backwards: its ringed tail
// is the nose of the bait and its fat claws trail behind. One shell.
func clawcraw() *mesh.Mesh {
	p := &plan{}
	flanks := crawBody(p)
	for i, left := range []bool{true, false} {
		flank := flanks[i]
		p.limb(left, flank[5:8], []chain{
			{{60, 15.2, 0, 0}, {57.4, 14, 2.2, 1.8}, {54.8, 12.8, 0, 0}},
			{{53.6, 23, 0, 0}, {51.6, 22, 2.1, 1.8}, {49.6, 21, 0, 0}},
			{{51.6, 25.2, 0, 0}, {50.8, 24.9, 0, 0}, {50, 24.4, 0, 0}},
		})
		crawClaw(p, left, flank[8:11])
	}
	return p.draw(2).finish(ribs(68, 86, 6, 0.15))
}

// crawBody draws the body from its tail (the nose of the bait) to its head and
// returns the knots along its left and its right flank.
func crawBody(p *plan) (flanks [2][]int) {
	rows := []struct{ x, half, up, down, bow float64 }{
		{88.5, 4.2, 0, 0, 3},
		{86, 5.8, 4.6, 3.8, 1},
		{80, 7, 6.6, 5.2, 0},
		{74, 7.5, 7.1, 5.6, 0},
		{68, 7.9, 7.3, 5.7, 0},
		{63, 8.3, 7.4, 5.8, 0}, // leg
		{59.5, 8.5, 7.4, 5.8, 0},
		{56, 8.5, 7.4, 5.7, 0},
		{50.5, 8.5, 7.2, 5.4, 0}, // arm
		{45, 8.2, 7.2, 5.4, 0},
		{39, 6.2, 5.6, 4.2, -1},
		{34.5, 3, 0, 0, -4},
	}
	// Between flank and middle the back is a little lower and less bowed.
	const lower, lessBowed = 0.84, 0.8
	var last []int
	for _, r := range rows {
		row := p.row(
			knot{r.x, r.half, 0, 0},
			knot{r.x + lessBowed*r.bow, r.half / 2, lower * r.up, lower * r.down},
			knot{r.x + r.bow, 0, r.up, r.down},
			knot{r.x + lessBowed*r.bow, -r.half / 2, lower * r.up, lower * r.down},
			knot{r.x, -r.half, 0, 0},
		)
		if last != nil {
			p.join(last, row)
		}
		last = row
		flanks[0] = append(flanks[0], row[0])
		flanks[1] = append(flanks[1], row[4])
	}
	return flanks
}

// crawClaw draws an arm, its palm with the fixed finger and, from the inner
// side of the palm, the finger that moves.
func crawClaw(p *plan, left bool, shoulder []int) {
	grown := p.limb(left, shoulder, []chain{
		{{42.5, 19, 0, 0}, {40, 15.8, 3.8, 3.2}, {37.5, 12.6, 0, 0}},
		{{33, 28.2, 0, 0}, {32.5, 20.5, 6.4, 5.4}, {32, 13.6, 0, 0}},
		{{25, 32.6, 0, 0}, {25, 21.5, 8, 6.6}, {25, 11.5, 0, 0}},
		{{17, 32, 0, 0}, {17, 22.6, 7.2, 6}, {17, 15.4, 0, 0}},
		{{4.5, 27.4, 0, 0}, {4.5, 22.8, 4.8, 4}, {4.5, 19, 0, 0}},
		{{-1.5, 23.6, 0, 0}, {-2.5, 22.3, 0, 0}, {-2, 20.8, 0, 0}},
	})
	inner := len(grown[0]) - 1
	if !left {
		inner = 0
	}
	p.limb(left, []int{grown[3][inner], grown[2][inner], grown[1][inner]}, []chain{
		{{18.4, 12.6, 0, 0}, {20.5, 8.5, 4.6, 3.8}, {22.6, 2.8, 0, 0}},
		{{6, 13.2, 0, 0}, {6, 8.8, 4.6, 3.8}, {6, 4, 0, 0}},
		{{0.4, 12.4, 0, 0}, {-0.6, 11.2, 0, 0}, {0, 9.8, 0, 0}},
	})
}
