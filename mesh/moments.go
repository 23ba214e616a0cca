package mesh

import (
	"math"
	"slices"

	"bellyline/mesh/exact"
	"bellyline/mesh/parallel"

	"github.com/golang/geo/r3"
)

// Moments is what a closed surface encloses, of density 1.
//
// VolumeMM3, Centroid, Inertia and Principal mean something only for a surface
// that Check finds Oriented: of any other the sum depends on where the origin is
// put. AreaMM2 is right for every surface. A surface that is inside out has a
// negative volume and negative inertia; its centroid is right. Where shells
// overlap, what they share counts as often as they share it.
type Moments struct {
	VolumeMM3 float64   // signed: positive when facets are counter-clockwise seen from outside
	AreaMM2   float64   // of all facets, both skins of a wall included
	Centroid  r3.Vector // in mm; the middle of the box when the volume is 0

	// Inertia is the inertia tensor about the centroid in mm^5 (mass times mm^2 at
	// a density of 1 per mm^3): Inertia[0][0] is the integral of y^2+z^2,
	// Inertia[0][1] minus that of x*y.
	Inertia      [3][3]float64
	PrincipalMM5 [3]float64 // eigenvalues of Inertia, ascending

	// RoundingMM3 bounds what the arithmetic did: the exact volume of an oriented
	// surface with just these vertices is within it of VolumeMM3. It is proven, see
	// roundingBound.
	RoundingMM3 float64
	// StepMM3 says what the steps of float32 can do: the area times half the
	// distance between neighbouring float32 numbers at the largest coordinate, which
	// is how far rounding to float32 can move a corner along each axis.
	StepMM3 float64

	Bounds Box // as Mesh.Bounds gives it
}

// momentBlock is how many facets are summed before a partial result is kept.
const momentBlock = 1024

// partial is the moments of some facets about a local origin, not yet divided by
// the constant factors.
type partial struct {
	det    exact.Sum    // 6 times the volume
	cross  exact.Sum    // 2 times the area
	first  [3]exact.Sum // 24 times the first moments
	second [6]exact.Sum // 120 times the second moments xx yy zz yz zx xy
	size   float64      // sum of the absolute values of what det is made of
	small  []int32      // facets of little area, then those that are thin
}

// Moments measures the surface by the divergence theorem: one tetrahedron from a
// local origin to each facet, added up with its sign (Tonon, J. Math. Stat. 1
// (2005) 8; Mirtich, J. Graphics Tools 1(2) (1996) 31 for the idea). The local
// origin is the middle of the box, so the result does not suffer from where the
// part sits. One pass over the facets after Bounds, on all threads; the result is
// the same bit for bit whatever their number.
func (m *Mesh) Moments() Moments {
	out, _ := m.MeasureFacets()
	return out
}

// MeasureFacets is Moments, and lists on its way the facets that are thinner than
// half a float32 step.
func (m *Mesh) MeasureFacets() (out Moments, thin []int32) {
	box := m.Bounds()
	origin, halfStep := box.Centre(), box.Float32Step()/2
	parts := make([]partial, parallel.Count(len(m.Triangles), momentBlock))
	parallel.Blocks(len(m.Triangles), momentBlock, func(b, from, to int) {
		parts[b] = m.partialMoments(from, to, origin, halfStep*box.Diagonal())
		parts[b].small = slices.DeleteFunc(parts[b].small, func(t int32) bool { return !m.isThin(t, halfStep) })
	})
	var total partial
	for i := range parts {
		total.merge(&parts[i])
		thin = append(thin, parts[i].small...)
	}
	out = total.moments(origin)
	out.RoundingMM3 = roundingBound(total.size, len(m.Triangles)+len(parts), out.VolumeMM3)
	out.StepMM3 = out.AreaMM2 * halfStep
	out.Bounds = box
	return out, thin
}

// partialMoments sums facets from..to-1 about the origin, and lists those with an
// area of at most half of small. First and second moments are summed plainly
// within the block: at 1024 terms that costs them at most 1e-13 of the sum of
// their absolute values.
func (m *Mesh) partialMoments(from, to int, origin r3.Vector, small float64) partial {
	var list []int32
	var det, cross exact.Sum
	var size, x1, y1, z1, xx, yy, zz, yz, zx, xy float64
	for t := from; t < to; t++ {
		pa, pb, pc := m.Corners(t)
		e, f := pb.Sub(pa), pc.Sub(pa)
		a, b, c := pa.Sub(origin), pb.Sub(origin), pc.Sub(origin)

		// Edges instead of the bare corners: then the products shrink with the facet
		// and so does their rounding.
		nx1, nx2 := e.Y*f.Z, e.Z*f.Y
		ny1, ny2 := e.Z*f.X, e.X*f.Z
		nz1, nz2 := e.X*f.Y, e.Y*f.X
		nx, ny, nz := nx1-nx2, ny1-ny2, nz1-nz2
		d := a.X*nx + a.Y*ny + a.Z*nz
		det = det.Plus(d)
		twice := math.Sqrt(nx*nx + ny*ny + nz*nz)
		cross = cross.Plus(twice)
		if twice <= small {
			list = append(list, int32(t))
		}
		size += math.Abs(a.X)*(math.Abs(nx1)+math.Abs(nx2)) +
			math.Abs(a.Y)*(math.Abs(ny1)+math.Abs(ny2)) +
			math.Abs(a.Z)*(math.Abs(nz1)+math.Abs(nz2))

		sx, sy, sz := a.X+b.X+c.X, a.Y+b.Y+c.Y, a.Z+b.Z+c.Z
		x1 += d * sx
		y1 += d * sy
		z1 += d * sz
		xx += d * (a.X*a.X + b.X*b.X + c.X*c.X + sx*sx)
		yy += d * (a.Y*a.Y + b.Y*b.Y + c.Y*c.Y + sy*sy)
		zz += d * (a.Z*a.Z + b.Z*b.Z + c.Z*c.Z + sz*sz)
		yz += d * (a.Y*a.Z + b.Y*b.Z + c.Y*c.Z + sy*sz)
		zx += d * (a.Z*a.X + b.Z*b.X + c.Z*c.X + sz*sx)
		xy += d * (a.X*a.Y + b.X*b.Y + c.X*c.Y + sx*sy)
	}
	return partial{
		det: det, cross: cross, size: size, small: list,
		first:  [3]exact.Sum{{Hi: x1}, {Hi: y1}, {Hi: z1}},
		second: [6]exact.Sum{{Hi: xx}, {Hi: yy}, {Hi: zz}, {Hi: yz}, {Hi: zx}, {Hi: xy}},
	}
}

func (p *partial) merge(o *partial) {
	p.det = p.det.Merge(o.det)
	p.cross = p.cross.Merge(o.cross)
	for i := range p.first {
		p.first[i] = p.first[i].Merge(o.first[i])
	}
	for i := range p.second {
		p.second[i] = p.second[i].Merge(o.second[i])
	}
	p.size += o.size
}

// moments turns the sums into the moments of the body about its own centroid.
func (p *partial) moments(origin r3.Vector) Moments {
	out := Moments{
		VolumeMM3: p.det.Value() / 6,
		AreaMM2:   p.cross.Value() / 2,
		Centroid:  origin,
	}
	var shift r3.Vector
	if out.VolumeMM3 != 0 {
		shift = r3.Vector{X: p.first[0].Value(), Y: p.first[1].Value(), Z: p.first[2].Value()}.
			Mul(1 / (24 * out.VolumeMM3))
		out.Centroid = origin.Add(shift)
	}
	var second [6]float64
	for i, s := range p.second {
		second[i] = s.Value() / 120
	}
	out.Inertia = inertiaAbout(second, out.VolumeMM3, shift)
	out.PrincipalMM5 = eigenvalues(out.Inertia)
	return out
}

// roundingBound bounds the error of a volume computed as a sixth of a compensated
// sum over n facets and blocks, when the absolute values of all products add up
// to size.
//
// Each product is a coordinate of a corner times two edge lengths. On its way
// into the sum it meets at most 8 roundings: three subtractions that make its
// factors, two multiplications, the difference in the cross product and two
// additions of the scalar product. Fused operations only leave roundings out. So
// a facet is wrong by gamma(8) of its share of size, the compensated sum adds
// gamma(n)^2 of size and one rounding of the result, the division another. size
// itself is a plain sum and may be short by gamma(n+16). Nothing underflows:
// products of three lengths that are float32 multiples of a unit stay above
// 1e-140.
//
// The sum is about a local origin, where the exact volume of an oriented surface
// does not depend on the choice; that the origin is a rounded number is no error.
func roundingBound(size float64, n int, volume float64) float64 {
	g := exact.Gamma(n)
	return (exact.Gamma(8)+g*g)*size*(1+2*exact.Gamma(n+16))/6 + 3*exact.Roundoff*math.Abs(volume)
}
