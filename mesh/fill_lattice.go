package mesh

import (
	"math"

	"bellyline/mesh/internal/halfedge"

	"github.com/golang/geo/r3"
)

// Whole-number boxes share the planes of their faces, a fin may end exactly on the
// body's skin, and a shell may be drawn twice. Which side of a facet a corner lies
// on then has no answer. So where facets may cross, they are looked at on a
// lattice that is much finer than any file, and every corner is first moved by a
// known, tiny, scattered amount, each shell by one of its own besides. Corners
// move with all their facets, so a closed surface stays closed, and an enclosed
// volume changes by no more than the area times the longest move.
//
// Coordinates on the lattice are whole numbers, below 2^51 and so exact in
// float64; a difference of two, even of their doubles, is below 2^53 and exact too.

const (
	latticeBits = 50      // bits from the middle to the side of the box
	jitter      = 1 << 7  // longest move of a corner along an axis, in steps
	shellShift  = 1 << 10 // longest move of a shell along an axis, in steps
	// longestMove bounds how far a corner goes in all, in steps: both moves and half
	// a step for rounding on each of three axes, times the square root of 3.
	longestMove = 1 << 11
)

// lattice is the frame in which facets are compared.
type lattice struct {
	centre r3.Vector // of the box of the mesh, in mm
	stepMM float64   // a power of 2
	seed   uint64    // another one moves all corners another way
}

// newLattice returns a lattice over a box.
func newLattice(box Box, seed uint64) lattice {
	size := box.Size()
	half := max(size.X, size.Y, size.Z) / 2
	_, exponent := math.Frexp(half)
	return lattice{centre: box.Centre(), stepMM: math.Ldexp(1, exponent-latticeBits), seed: seed}
}

// corner returns the place of a corner on the lattice, moved by its own amount:
// id tells corners apart that must not move together.
func (l lattice) corner(id int32, p r3.Vector) r3.Vector {
	h, _ := halfedge.Scatter(l.seed ^ uint64(uint32(id))<<8)
	return l.unmoved(p).Add(r3.Vector{
		X: spreadOver(h, jitter), Y: spreadOver(h>>20, jitter), Z: spreadOver(h>>40, jitter),
	})
}

// unmoved returns the point of the lattice next to a point.
func (l lattice) unmoved(p r3.Vector) r3.Vector {
	p = p.Sub(l.centre)
	return r3.Vector{
		X: math.RoundToEven(p.X / l.stepMM), Y: math.RoundToEven(p.Y / l.stepMM), Z: math.RoundToEven(p.Z / l.stepMM),
	}
}

// shell returns how far a whole shell moves.
func (l lattice) shell(id int32) r3.Vector {
	_, h := halfedge.Scatter(l.seed ^ uint64(uint32(id))<<8)
	return r3.Vector{
		X: spreadOver(h, shellShift), Y: spreadOver(h>>20, shellShift), Z: spreadOver(h>>40, shellShift),
	}
}

// clearance returns how far apart facets have to be, in mm, to be left alone: a
// thousand times what moves and rounding could bring together.
func (l lattice) clearance() float64 { return 1024 * longestMove * l.stepMM }

// farPoint returns a scattered point outside the box of the mesh, past its high side
// along an axis. Its coordinates are below 2^51.
func (l lattice) farPoint(id uint64, axis int) r3.Vector {
	h, more := halfedge.Scatter(l.seed ^ id<<16)
	const side, coarse = 1 << latticeBits, 1 << (latticeBits - 20)
	x := float64(side + 4*longestMove)
	y := coarse*spreadOver(h, 1<<19) + spreadOver(h>>40, 1<<19)
	z := coarse*spreadOver(h>>20, 1<<19) + spreadOver(more, 1<<19)
	switch axis {
	case 0:
		return r3.Vector{X: x, Y: y, Z: z}
	case 1:
		return r3.Vector{X: z, Y: x, Z: y}
	}
	return r3.Vector{X: y, Y: z, Z: x}
}

// toMM returns a point of the lattice in millimetres.
func (l lattice) toMM(p r3.Vector) r3.Vector { return p.Mul(l.stepMM).Add(l.centre) }

// spreadOver makes the low 20 bits of h a whole number between -most and most,
// which is a power of 2 of no more than 2^19.
func spreadOver(h uint64, most int64) float64 {
	return float64(int64(h&(1<<20-1))&(2*most-1) - most)
}
