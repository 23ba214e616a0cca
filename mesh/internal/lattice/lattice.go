// Package lattice compares facets exactly: on a lattice much finer than any file, with
// every corner moved a little so that no four lie on one plane.
package lattice

import (
	"math"

	"bellyline/mesh"
	"bellyline/mesh/halfedge"

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
	// LongestMove bounds how far a corner goes in all, in steps: both moves and half
	// a step for rounding on each of three axes, times the square root of 3.
	LongestMove = 1 << 11
)

// Lattice is the frame in which facets are compared.
type Lattice struct {
	centre r3.Vector // of the box of the mesh, in mm
	StepMM float64   // a power of 2
	seed   uint64    // another one moves all corners another way
}

// New returns a lattice over a box.
func New(box mesh.Box, seed uint64) Lattice {
	size := box.Size()
	half := max(size.X, size.Y, size.Z) / 2
	_, exponent := math.Frexp(half)
	return Lattice{centre: box.Centre(), StepMM: math.Ldexp(1, exponent-latticeBits), seed: seed}
}

// Corner returns the place of a corner on the lattice, moved by its own amount:
// id tells corners apart that must not move together.
func (l Lattice) Corner(id int32, p r3.Vector) r3.Vector {
	h, _ := halfedge.Scatter(l.seed ^ uint64(uint32(id))<<8)
	return l.Unmoved(p).Add(r3.Vector{
		X: spreadOver(h, jitter), Y: spreadOver(h>>20, jitter), Z: spreadOver(h>>40, jitter),
	})
}

// Unmoved returns the point of the lattice next to a point.
func (l Lattice) Unmoved(p r3.Vector) r3.Vector {
	p = p.Sub(l.centre)
	return r3.Vector{
		X: math.RoundToEven(p.X / l.StepMM), Y: math.RoundToEven(p.Y / l.StepMM), Z: math.RoundToEven(p.Z / l.StepMM),
	}
}

// UnmovedFacet returns the corners of a facet on the lattice as they are.
func (l Lattice) UnmovedFacet(m *mesh.Mesh, f int32) Corners {
	a, b, c := m.Corners(int(f))
	return Corners{l.Unmoved(a), l.Unmoved(b), l.Unmoved(c)}
}

// Shell returns how far a whole shell moves.
func (l Lattice) Shell(id int32) r3.Vector {
	_, h := halfedge.Scatter(l.seed ^ uint64(uint32(id))<<8)
	return r3.Vector{
		X: spreadOver(h, shellShift), Y: spreadOver(h>>20, shellShift), Z: spreadOver(h>>40, shellShift),
	}
}

// Clearance returns how far apart facets have to be, in mm, to be left alone: a
// thousand times what moves and rounding could bring together.
func (l Lattice) Clearance() float64 { return 1024 * LongestMove * l.StepMM }

// FarPoint returns a scattered point outside the box of the mesh, past its high side
// along an axis. Its coordinates are below 2^51.
func (l Lattice) FarPoint(id uint64, axis int) r3.Vector {
	h, more := halfedge.Scatter(l.seed ^ id<<16)
	const side, coarse = 1 << latticeBits, 1 << (latticeBits - 20)
	x := float64(side + 4*LongestMove)
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

// ToMM returns a point of the lattice in millimetres.
func (l Lattice) ToMM(p r3.Vector) r3.Vector { return p.Mul(l.StepMM).Add(l.centre) }

// spreadOver makes the low 20 bits of h a whole number between -most and most,
// which is a power of 2 of no more than 2^19.
func spreadOver(h uint64, most int64) float64 {
	return float64(int64(h&(1<<20-1))&(2*most-1) - most)
}
