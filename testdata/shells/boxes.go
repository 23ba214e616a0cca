package shells

import "github.com/golang/geo/r3"

// Block is a box between two corners in whole millimetres.
type Block struct{ Low, High [3]int }

// Shell draws the block with twelve facets.
func (b Block) Shell() Shell {
	at := func(i int) r3.Vector {
		var p [3]float64
		for k := range p {
			p[k] = float64(b.Low[k])
			if i>>k&1 == 1 {
				p[k] = float64(b.High[k])
			}
		}
		return r3.Vector{X: p[0], Y: p[1], Z: p[2]}
	}
	quads := [6][4]int{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}}
	var s Shell
	for _, q := range quads {
		s = append(s, at(q[0]), at(q[1]), at(q[2]), at(q[0]), at(q[2]), at(q[3]))
	}
	return s
}

// Blocks is several blocks that may overlap, touch and share faces.
type Blocks []Block

// Corners returns all blocks as one list, three corners a facet.
func (b Blocks) Corners() []r3.Vector {
	var all []r3.Vector
	for _, block := range b {
		all = append(all, block.Shell()...)
	}
	return all
}

// holds says whether the unit cell with the given lowest corner is in any block.
func (b Blocks) holds(cell [3]int) bool {
	for _, block := range b {
		in := true
		for k, c := range cell {
			in = in && block.Low[k] <= c && c < block.High[k]
		}
		if in {
			return true
		}
	}
	return false
}

// Union returns the volume in mm3 and the area in mm2 of what the blocks fill, by
// counting unit cells and the faces between full and empty ones: exact.
func (b Blocks) Union() (volumeMM3, areaMM2 int) {
	low, high := b[0].Low, b[0].High
	for _, block := range b {
		for k := range 3 {
			low[k], high[k] = min(low[k], block.Low[k]), max(high[k], block.High[k])
		}
	}
	for x := low[0]; x < high[0]; x++ {
		for y := low[1]; y < high[1]; y++ {
			for z := low[2]; z < high[2]; z++ {
				if !b.holds([3]int{x, y, z}) {
					continue
				}
				volumeMM3++
				for _, beside := range [][3]int{{x - 1, y, z}, {x + 1, y, z}, {x, y - 1, z}, {x, y + 1, z}, {x, y, z - 1}, {x, y, z + 1}} {
					if !b.holds(beside) {
						areaMM2++
					}
				}
			}
		}
	}
	return volumeMM3, areaMM2
}

// Pile is blocks of the kinds of contact there are: overlap, a shared face, part of
// a face, an edge, a corner, one inside another, and one twice.
func Pile() Blocks {
	return Blocks{
		{[3]int{0, 0, 0}, [3]int{20, 10, 8}},
		{[3]int{12, 4, 3}, [3]int{28, 9, 15}},  // overlaps the first
		{[3]int{0, 10, 0}, [3]int{20, 16, 8}},  // shares a face with it
		{[3]int{3, 2, 8}, [3]int{7, 6, 12}},    // stands on part of its top
		{[3]int{20, -5, 8}, [3]int{25, 0, 12}}, // touches it at one corner
		{[3]int{5, 3, 2}, [3]int{9, 6, 5}},     // lies inside it
		{[3]int{3, 2, 8}, [3]int{7, 6, 12}},    // is there twice
		{[3]int{-6, -4, 0}, [3]int{0, 0, 5}},   // meets the first at an edge
	}
}
