package mesh

import (
	"fmt"
	"math"

	"bellyline/mesh/exact"
	"bellyline/mesh/internal/earclip"
	"bellyline/mesh/parallel"
	"bellyline/mesh/vector"

	"github.com/golang/geo/r3"
)

// Cut is what a plane makes of a solid, in numbers.
//
// Below is the part where Normal·p < HeightMM. Facets that lie in the plane
// belong to the part whose body they bound. For a surface that is inside out
// every volume and area of section is negative.
type Cut struct {
	Below, Above Part
	// SectionAreaMM2 is the area in which the two parts join. Where shells
	// overlap it counts as often as shells cover it.
	SectionAreaMM2 float64
	// OutlineMM is the length of all loops of the section: the line seen on the
	// skin, the skin of voids included.
	OutlineMM float64
	// Loops are closed polygons in the plane, the last point joined to the
	// first. Seen from above (against Normal) outer loops run counter-clockwise
	// and holes clockwise, or the reverse for a surface that is inside out.
	Loops [][]r3.Vector
	// Pieces counts outer loops: connected pieces of section, islands in holes
	// counted, pieces that meet in one point counted apart.
	Pieces int
}

// Part is one side of a cut.
type Part struct {
	VolumeMM3 float64
	// OutsideMM2 is the area of the part's skin, the section left out.
	OutsideMM2 float64
	// Centroid is the centre of the volume, and zero when there is no volume.
	Centroid r3.Vector
}

// Cut returns the numbers of both parts and of the section between them. No cap
// is triangulated. The surface must be closed and consistently oriented: errors
// wrap ErrNotClosed and ErrPlane.
//
// Volumes are right to about 1e-13 of the part, however thin it is and wherever
// the model sits. Cost: a few passes over vertices and facets, on all
// processors, with 8 bytes a vertex of memory; the section adds a sort of the
// crossed facets. The result does not depend on the number of threads.
func (m *Mesh) Cut(p Plane) (*Cut, error) {
	c, err := newCutter(m, p)
	if err != nil {
		return nil, err
	}
	sums := c.scan()
	below, above := sums.parts[0], sums.parts[1]
	s := c.section(sums.crossing, sums.flat)
	cut := &Cut{Below: c.part(below), Above: c.part(above)}
	cut.SectionAreaMM2, cut.OutlineMM, cut.Pieces = c.measure(s)
	cut.Loops = make([][]r3.Vector, len(s.loops))
	for i, loop := range s.loops {
		points := make([]r3.Vector, len(loop))
		for k, n := range loop {
			points[k] = c.position(s, n)
		}
		cut.Loops[i] = points
	}
	return cut, nil
}

// cutBlock is how many vertices or facets one step of a parallel pass takes.
const cutBlock = 1 << 14

func cutBlocks(n int) int { return (n + cutBlock - 1) / cutBlock }

// cutter holds what one plane means for the vertices of one mesh.
type cutter struct {
	m      *Mesh
	plane  Plane
	length float64   // of plane.Normal
	up     r3.Vector // plane.Normal at length 1
	origin r3.Vector // a point near the model and, but for rounding, on the plane
	frame  earclip.DropAxis
	// offset is Normal·v - HeightMM a vertex, with the exact sign.
	offset []float64
}

func newCutter(m *Mesh, p Plane) (*cutter, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	if !m.Balanced() {
		return nil, fmt.Errorf("cannot cut: %w", WhyOpen(m))
	}
	return newCutterOfClosed(m, p), nil
}

// newCutterOfClosed is newCutter for a surface that is known to be balanced and a plane
// that was checked.
func newCutterOfClosed(m *Mesh, p Plane) *cutter {
	up, _ := vector.Unit(p.Normal)
	c := &cutter{
		m: m, plane: p, up: up,
		length: p.Normal.Dot(up),
		frame:  earclip.NewDropAxis(p.Normal),
		offset: make([]float64, len(m.Vertices)),
	}
	boxes := make([]Box, cutBlocks(len(m.Vertices)))
	parallel.Blocks(len(m.Vertices), cutBlock, func(block, from, to int) {
		box := Box{Min: m.Vertices[from], Max: m.Vertices[from]}
		for i := from; i < to; i++ {
			v := m.Vertices[i]
			c.offset[i] = p.offset(v)
			box = box.With(v)
		}
		boxes[block] = box
	})
	c.origin = c.nearBy(boxes)
	return c
}

// nearBy returns the foot on the plane of the middle of the boxes.
func (c *cutter) nearBy(boxes []Box) r3.Vector {
	if len(boxes) == 0 {
		return r3.Vector{}
	}
	all := boxes[0]
	for _, b := range boxes[1:] {
		all = all.With(b.Min).With(b.Max)
	}
	middle := r3.Vector{
		X: all.Min.X + (all.Max.X-all.Min.X)/2,
		Y: all.Min.Y + (all.Max.Y-all.Min.Y)/2,
		Z: all.Min.Z + (all.Max.Z-all.Min.Z)/2,
	}
	return middle.Sub(c.up.Mul(c.plane.offset(middle) / c.length))
}

// local returns a vertex about the origin near the model, where coordinates
// are short.
func (c *cutter) local(v int32) r3.Vector { return c.m.Vertices[v].Sub(c.origin) }

// side returns the sign of a vertex: -1 below, +1 above, 0 on the plane.
func (c *cutter) side(v int32) int {
	switch d := c.offset[v]; {
	case d < 0:
		return -1
	case d > 0:
		return 1
	}
	return 0
}

// where tells on which part a facet lies: -1 below, +1 above, 0 crossed.
func (c *cutter) where(t [3]int32) int {
	d0, d1, d2 := c.offset[t[0]], c.offset[t[1]], c.offset[t[2]]
	lo, hi := min(d0, d1, d2), max(d0, d1, d2)
	switch {
	case lo < 0 && hi > 0:
		return 0
	case lo < 0:
		return -1
	case hi > 0:
		return 1
	}
	return c.whereFlat(t)
}

// whereFlat places a facet that lies in the plane. One that faces up bounds a
// body below, so it belongs below; one that faces down belongs above. A facet
// without area may go either way: what the parts' boundaries have in common
// stays the same curve.
func (c *cutter) whereFlat(t [3]int32) int {
	v := c.m.Vertices
	if earclip.Orient2D(c.frame.Point(v[t[0]]), c.frame.Point(v[t[1]]), c.frame.Point(v[t[2]])) < 0 {
		return 1
	}
	return -1
}

// cutSums is what one pass over the facets finds.
type cutSums struct {
	parts    [2]partSums // below, above
	crossing []int32     // facets with corners on both sides, in order
	flat     []segment   // edges in the plane run by facets below
}

// partSums are integrals over the skin of one part, in units of the plane's
// normal as given: offsets D = |n| times distance, W = n times vector area.
//
// The field n(n·x-h)/|n|² has divergence 1 and is zero on the plane, so its
// flux through the skin alone is the volume: no cap is needed, and nothing is
// lost when the part is thin. In the same way, the flux of q(n·x-h)n/|n|² for
// coordinates q along the plane is their integral over the volume, and the
// flux of n(n·x-h)²/2|n|³ that of the distance from the plane.
type partSums struct {
	volume, area exact.Double
	moment       [3]exact.Double
	rise         exact.Double
}

// tip is one corner of a piece of facet: offset and local position.
type tip struct {
	d float64
	q r3.Vector
}

// add takes in a piece of a facet, or the whole of it. w and area belong to the
// piece.
func (s *partSums) add(w, area float64, a, b, c tip) {
	sum := a.d + b.d + c.d
	s.volume = s.volume.PlusFloat(w * sum / 3)
	s.area = s.area.PlusFloat(area)
	// The mean over a triangle of a product of two linear functions is
	// (sum of products at corners + product of sums) / 12.
	s.moment[0] = s.moment[0].PlusFloat(w * (a.q.X*a.d + b.q.X*b.d + c.q.X*c.d + (a.q.X+b.q.X+c.q.X)*sum) / 12)
	s.moment[1] = s.moment[1].PlusFloat(w * (a.q.Y*a.d + b.q.Y*b.d + c.q.Y*c.d + (a.q.Y+b.q.Y+c.q.Y)*sum) / 12)
	s.moment[2] = s.moment[2].PlusFloat(w * (a.q.Z*a.d + b.q.Z*b.d + c.q.Z*c.d + (a.q.Z+b.q.Z+c.q.Z)*sum) / 12)
	s.rise = s.rise.PlusFloat(w * (a.d*a.d + b.d*b.d + c.d*c.d + sum*sum) / 24)
}

func (s *partSums) merge(o *partSums) {
	s.volume = s.volume.Plus(o.volume)
	s.area = s.area.Plus(o.area)
	for i := range s.moment {
		s.moment[i] = s.moment[i].Plus(o.moment[i])
	}
	s.rise = s.rise.Plus(o.rise)
}

func (c *cutter) part(s partSums) Part {
	n2 := c.length * c.length
	part := Part{VolumeMM3: s.volume.Value() / n2, OutsideMM2: s.area.Value()}
	if part.VolumeMM3 == 0 {
		return part
	}
	m := r3.Vector{X: s.moment[0].Value(), Y: s.moment[1].Value(), Z: s.moment[2].Value()}
	m = m.Mul(1 / (n2 * part.VolumeMM3))
	along := m.Sub(c.up.Mul(m.Dot(c.up)))
	rise := s.rise.Value() / (n2 * c.length * part.VolumeMM3)
	part.Centroid = c.origin.Add(along).Add(c.up.Mul(rise))
	return part
}

// scan visits every facet once.
func (c *cutter) scan() cutSums {
	found := make([]cutSums, cutBlocks(len(c.m.Triangles)))
	parallel.Blocks(len(c.m.Triangles), cutBlock, func(block, from, to int) {
		for i := from; i < to; i++ {
			c.scanFacet(&found[block], int32(i))
		}
	})
	var all cutSums
	for i := range found {
		all.parts[0].merge(&found[i].parts[0])
		all.parts[1].merge(&found[i].parts[1])
		all.crossing = append(all.crossing, found[i].crossing...)
		all.flat = append(all.flat, found[i].flat...)
	}
	return all
}

func (c *cutter) scanFacet(s *cutSums, i int32) {
	t := c.m.Triangles[i]
	q0, q1, q2 := c.local(t[0]), c.local(t[1]), c.local(t[2])
	cross := q1.Sub(q0).Cross(q2.Sub(q0))
	w, area := c.plane.Normal.Dot(cross)/2, cross.Norm()/2
	k := [3]tip{{c.offset[t[0]], q0}, {c.offset[t[1]], q1}, {c.offset[t[2]], q2}}
	switch c.where(t) {
	case -1:
		s.parts[0].add(w, area, k[0], k[1], k[2])
		s.flat = c.flatEdges(s.flat, t)
	case 1:
		s.parts[1].add(w, area, k[0], k[1], k[2])
	default:
		s.crossing = append(s.crossing, i)
		apex := c.apex(t)
		c.addCrossed(s, w, area, k[apex], k[(apex+1)%3], k[(apex+2)%3])
	}
}

// apex returns which corner of a crossed facet stands alone on its side.
func (c *cutter) apex(t [3]int32) int {
	for i := range t {
		s := c.side(t[i])
		if s != 0 && c.side(t[(i+1)%3]) != s && c.side(t[(i+2)%3]) != s {
			// With a corner on the plane both others stand alone: the first does.
			return i
		}
	}
	return 0 // not reached: a crossed facet has both signs
}

// addCrossed adds the pieces of a facet whose corner a stands alone. The pieces
// are shares of the whole, so they add up to it whatever the rounding of the
// points in between.
func (c *cutter) addCrossed(s *cutSums, w, area float64, a, b, d tip) {
	below := 0
	if a.d > 0 {
		below = 1
	}
	near, far := &s.parts[below], &s.parts[1-below]
	t1, t2 := a.d/(a.d-b.d), a.d/(a.d-d.d)
	r1, r2 := b.d/(b.d-a.d), d.d/(d.d-a.d) // 1-t1, 1-t2 without cancellation
	p := tip{0, a.q.Add(b.q.Sub(a.q).Mul(t1))}
	q := tip{0, a.q.Add(d.q.Sub(a.q).Mul(t2))}
	near.add(w*t1*t2, area*t1*t2, a, p, q)
	far.add(w*r1, area*r1, p, b, d)
	far.add(w*t1*r2, area*t1*r2, p, d, q)
}

// flatEdges appends the edges of a facet below that lie in the plane.
func (c *cutter) flatEdges(edges []segment, t [3]int32) []segment {
	for i := range t {
		u, v := t[i], t[(i+1)%3]
		if c.offset[u] == 0 && c.offset[v] == 0 && u != v {
			edges = append(edges, segment{u, v})
		}
	}
	return edges
}

// measure returns area, length and number of pieces of a section.
func (c *cutter) measure(s *section) (areaMM2, outlineMM float64, pieces int) {
	var all, length exact.Double
	areas := make([]float64, len(s.loops))
	for i, loop := range s.loops {
		var area exact.Double
		first := s.local[loop[0]]
		for k, n := range loop {
			q, r := s.local[n], s.local[loop[(k+1)%len(loop)]]
			length = length.PlusFloat(r.Sub(q).Norm())
			area = area.PlusFloat(c.up.Dot(q.Sub(first).Cross(r.Sub(first))) / 2)
		}
		areas[i] = area.Value()
		all = all.Plus(area)
	}
	areaMM2 = all.Value()
	for _, a := range areas {
		if a != 0 && math.Signbit(a) == math.Signbit(areaMM2) {
			pieces++
		}
	}
	return areaMM2, length.Value(), pieces
}
