package bvh

import (
	"math/bits"
	"slices"

	"bellyline/mesh"
	"bellyline/mesh/internal/hugepages"
	"bellyline/mesh/parallel"
	"bellyline/mesh/radix"

	"github.com/golang/geo/r3"
)

// curveBits is how finely each axis is divided at most when things are put in
// order along a curve through space: 1,024 steps.
const curveBits = 10

// fewItems is up to which number things are left in their order within a step of the
// curve.
const fewItems = 64

// sortAlongCurve puts things in the order in which Hilbert's curve in a box passes
// their middles, so that things near each other in the order are near each other in
// space; where many are in one step, by the curve in a box of their own. Things in
// the same step keep their order, so there is one answer only.
func (c *curve) sortAlongCurve(items []int32, middle func(i int32) r3.Vector, box mesh.Box) {
	size := box.Size()
	side := max(size.X, size.Y, size.Z)
	if !(side > 0) {
		return
	}
	// A surface passes some 2 x 4^levels cells of 8^levels. A few things a cell are
	// good enough.
	levels := 2
	for levels < curveBits && 2<<(2*levels) < len(items)/4 {
		levels++
	}
	scale := float64(int(1)<<levels) * (1 - 0x1p-20) / side
	keys := hugepages.Make[uint64](len(items))
	parallel.Blocks(len(keys), Block, func(_, from, to int) {
		for i := from; i < to; i++ {
			keys[i] = radix.Keyed(c.place(middle(items[i]).Sub(box.Min).Mul(scale), levels), int(items[i]))
		}
	})
	if len(keys) < Block {
		slices.Sort(keys)
	} else {
		keys = radix.Sort(keys, 3*levels)
	}
	parallel.Blocks(len(keys), Block, func(_, from, to int) {
		for i := from; i < to; i++ {
			items[i] = radix.Item(keys[i])
		}
	})
	for i := 0; i < len(keys); {
		n := 1
		for i+n < len(keys) && keys[i+n]>>32 == keys[i]>>32 {
			n++
		}
		if n > fewItems {
			c.sortAlongCurve(items[i:i+n], middle, boxOfPoints(items[i:i+n], middle))
		}
		i += n
	}
}

func boxOfPoints(items []int32, at func(i int32) r3.Vector) mesh.Box {
	boxes := make([]mesh.Box, parallel.Count(len(items), Block))
	parallel.Blocks(len(items), Block, func(b, from, to int) {
		box := mesh.EmptyBox()
		for _, i := range items[from:to] {
			box = box.With(at(i))
		}
		boxes[b] = box
	})
	box := boxes[0]
	for _, b := range boxes[1:] {
		box = box.With(b.Min).With(b.Max)
	}
	return box
}

// curve is Hilbert's curve in space as an automaton. At each level of halving the
// state says how the pattern lies; the three bits of the coordinates, X first, give
// how many of the eight cells come before, and the state inside the cell. A state
// is a corner of the cube where the pattern begins and an axis.
type curve struct {
	one [24][8]curveStep  // one level
	two [24][64]curveStep // two levels: the three upper bits first
}

type curveStep struct {
	before, state uint8
}

// newCurve works the automaton out (Hamilton, Compact Hilbert Indices, Dalhousie
// CS-2006-07, 2006; from memory): the pattern is the Gray code, moved to its first
// corner and turned.
func newCurve() *curve {
	var c curve
	for state := range c.one {
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
			c.one[state][cell] = curveStep{before, next*3 + uint8((axis+along+1)%3)}
		}
	}
	for state := range c.two {
		for cells := range uint8(64) {
			upper := c.one[state][cells>>3]
			lower := c.one[upper.state][cells&7]
			c.two[state][cells] = curveStep{upper.before<<3 | lower.before, lower.state}
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

// place returns how far along the curve a point is whose coordinates count steps, of
// which an axis has 2^levels.
func (c *curve) place(p r3.Vector, levels int) uint32 {
	last := uint32(1)<<levels - 1
	x, y, z := min(uint32(max(p.X, 0)), last), min(uint32(max(p.Y, 0)), last), min(uint32(max(p.Z, 0)), last)
	place, state := uint32(0), uint8(0)
	bit := levels
	if levels%2 != 0 {
		bit--
		step := c.one[0][x>>bit&1<<2|y>>bit&1<<1|z>>bit&1]
		place, state = uint32(step.before), step.state
	}
	for bit > 0 {
		bit -= 2
		cells := x>>bit&2<<4 | y>>bit&2<<3 | z>>bit&2<<2 | x>>bit&1<<2 | y>>bit&1<<1 | z>>bit&1
		step := c.two[state][cells&63]
		place, state = place<<6|uint32(step.before), step.state
	}
	return place
}
