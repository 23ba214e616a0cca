package fill

import (
	"math"

	"bellyline/mesh"
	"bellyline/mesh/exact"
	"bellyline/mesh/internal/lattice"
	"bellyline/mesh/parallel"
)

// signedBlock is how many facets are summed before a partial result is kept.
const signedBlock = 1024

// signedVolume is the signed volume of a surface with bounds of what may be wrong
// with it.
type signedVolume struct {
	volumeMM3 float64
	errorMM3  float64 // by rounding
	areaMM2   float64 // of all facets
}

// signedVolumeOf returns the signed volume about the middle of the box.
//
// A determinant of three rounded differences errs by less than 16 units of the
// product of their lengths, which the sums of absolute coordinates bound; the sums
// over a million facets add less than that again (see sum).
func signedVolumeOf(m *mesh.Mesh) signedVolume {
	centre := m.Bounds().Centre()
	type part struct {
		det        exact.Sum
		area, size float64
	}
	parts := make([]part, parallel.Count(len(m.Triangles), signedBlock))
	parallel.Blocks(len(m.Triangles), signedBlock, func(b, from, to int) {
		var p part
		for t := from; t < to; t++ {
			a, b, c := m.Corners(t)
			a, b, c = a.Sub(centre), b.Sub(a), c.Sub(a)
			n := b.Cross(c)
			p.det = p.det.Plus(a.Dot(n))
			p.area += n.Norm()
			p.size += (math.Abs(a.X) + math.Abs(a.Y) + math.Abs(a.Z)) *
				(math.Abs(b.X) + math.Abs(b.Y) + math.Abs(b.Z)) *
				(math.Abs(c.X) + math.Abs(c.Y) + math.Abs(c.Z))
		}
		parts[b] = p
	})
	var total part
	for _, p := range parts {
		total.det = total.det.Merge(p.det)
		total.area += p.area
		total.size += p.size
	}
	return signedVolume{
		volumeMM3: total.det.Value() / 6,
		errorMM3:  32 * exact.Roundoff * total.size / 6,
		areaMM2:   total.area / 2,
	}
}

// movedMM3 bounds by how much an enclosed volume changes when corners are moved on
// a lattice, and by how much its sum over pieces of facets errs.
//
// While corners move, a volume changes no faster than its boundary, a part of the
// surface, sweeps it: by no more than the area times the longest move. The places
// where facets cross are right to 2^8 steps, an eighth of the longest move, and the
// pieces round the kept parts of all facets join at the same places, so they err as
// if a surface of twice the area had been moved by that; rounding of the sums is
// less than a step. Doubled to be safe.
func (v signedVolume) movedMM3(l lattice.Lattice) float64 {
	return 2 * v.areaMM2 * lattice.LongestMove * l.StepMM
}
