package mesh

import (
	"math/bits"

	"github.com/golang/geo/r3"
)

// curveBits is how finely each axis is divided when facets are put in order along
// a curve through space: 1,024 steps.
const curveBits = 10

// curveOrder returns the facets in the order in which Hilbert's curve passes their
// middles, so that facets near each other in the order are near each other in
// space. Facets in the same step of the curve keep their order, so there is one
// answer only.
func curveOrder(m *Mesh, box Box) []int32 {
	size := box.Size()
	side := max(size.X, size.Y, size.Z)
	scale := 0.0
	if side > 0 {
		scale = (1<<curveBits - 1) / side
	}
	curve := newCurve()
	keys := make([]uint64, len(m.Triangles))
	inBlocks(len(keys), treeBlock, func(_, from, to int) {
		for f := from; f < to; f++ {
			a, b, c := m.Corners(f)
			middle := a.Add(b).Add(c).Mul(1.0 / 3).Sub(box.Min).Mul(scale)
			keys[f] = keyed(curve.place(middle), f)
		}
	})
	keys = radixSort(keys)
	order := make([]int32, len(keys))
	inBlocks(len(keys), treeBlock, func(_, from, to int) {
		for i := from; i < to; i++ {
			order[i] = item(keys[i])
		}
	})
	return order
}

// curve is Hilbert's curve in space as an automaton. At each level of halving the
// state says how the pattern lies; the three bits of the coordinates, X first, give
// how many of the eight cells come before, and the state inside the cell. A state
// is a corner of the cube where the pattern begins and an axis.
type curve [24][8]struct {
	before uint8
	state  uint8
}

// newCurve works the automaton out (Hamilton, Compact Hilbert Indices, Dalhousie
// CS-2006-07, 2006; from memory): the pattern is the Gray code, moved to its first
// corner and turned.
func newCurve() *curve {
	var c curve
	for state := range c {
		corner, axis := uint8(state/3), state%3
		for cell := range uint8(8) {
			before := grayIndex(cycled(cell^corner, -(axis + 1)))
			entry, along := uint8(0), 0
			if before > 0 {
				entry = gray((before - 1) &^ 1)
				if before%2 == 0 {
					along = bits.TrailingZeros8(^(before - 1)) % 3
				} else {
					along = bits.TrailingZeros8(^before) % 3
				}
			}
			next := corner ^ cycled(entry, axis+1)
			c[state][cell].before = before
			c[state][cell].state = next*3 + uint8((axis+along+1)%3)
		}
	}
	return &c
}

func gray(i uint8) uint8 { return i ^ i>>1 }

func grayIndex(g uint8) uint8 { return g ^ g>>1 ^ g>>2 }

// cycled returns three bits moved n places up, round the end.
func cycled(b uint8, n int) uint8 {
	n = (n%3 + 3) % 3
	return (b<<n | b>>(3-n)) & 7
}

// place returns how far along the curve a point is whose coordinates count steps.
func (c *curve) place(p r3.Vector) uint32 {
	x, y, z := steps(p.X), steps(p.Y), steps(p.Z)
	place, state := uint32(0), uint8(0)
	for bit := curveBits - 1; bit >= 0; bit-- {
		cell := x>>bit&1<<2 | y>>bit&1<<1 | z>>bit&1
		next := &c[state][cell]
		place = place<<3 | uint32(next.before)
		state = next.state
	}
	return place
}

func steps(x float64) uint32 { return uint32(min(max(x, 0), 1<<curveBits-1)) }
