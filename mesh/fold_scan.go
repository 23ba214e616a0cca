package mesh

import (
	"bellyline/mesh/exact"
	"bellyline/mesh/parallel"
)

// foldSums is what one pass over the facets of a flattened body finds: what cutSums
// holds but for centroids, with areas of the skin where it was before the push.
type foldSums struct {
	parts    [2]foldPart // below, above
	crossing []int32     // facets with corners on both sides, in order
	flat     []segment   // edges in the plane run by facets below
}

// foldPart are integrals over the skin of one part, as in partSums. A push changes
// neither the shadow of a facet on the plane, nor its corners' distance from the fold.
type foldPart struct{ volume, area exact.Double }

func (s *foldPart) add(volume, area float64) {
	s.volume, s.area = s.volume.PlusFloat(volume), s.area.PlusFloat(area)
}

func (f *Flat) scan(c *cutter) foldSums {
	found := make([]foldSums, cutBlocks(len(c.m.Triangles)))
	parallel.Blocks(len(c.m.Triangles), cutBlock, func(block, from, to int) {
		for i := from; i < to; i++ {
			f.scanFacet(c, &found[block], int32(i))
		}
	})
	var all foldSums
	for i := range found {
		for k := range all.parts {
			part := &found[i].parts[k]
			all.parts[k].volume, all.parts[k].area = all.parts[k].volume.Plus(part.volume), all.parts[k].area.Plus(part.area)
		}
		all.crossing = append(all.crossing, found[i].crossing...)
		all.flat = append(all.flat, found[i].flat...)
	}
	return all
}

// scanFacet adds a facet, or its share on each side: pieces of a facet are shares of
// the whole, so they add up to it whatever the rounding of the points in between.
func (f *Flat) scanFacet(c *cutter, s *foldSums, i int32) {
	t := c.m.Triangles[i]
	p, q, r := f.skin.Vertices[t[0]], f.skin.Vertices[t[1]], f.skin.Vertices[t[2]]
	cross := q.Sub(p).Cross(r.Sub(p))
	w, area := c.plane.Normal.Dot(cross)/2, cross.Norm()/2
	switch c.where(t) {
	case -1:
		s.parts[0].add(w*(c.offset[t[0]]+c.offset[t[1]]+c.offset[t[2]])/3, area)
		s.flat = c.flatEdges(s.flat, t)
		return
	case 1:
		s.parts[1].add(w*(c.offset[t[0]]+c.offset[t[1]]+c.offset[t[2]])/3, area)
		return
	}
	s.crossing = append(s.crossing, i)
	apex := c.apex(t)
	a, b, d := c.offset[t[apex]], c.offset[t[(apex+1)%3]], c.offset[t[(apex+2)%3]]
	t1, t2 := a/(a-b), a/(a-d)
	r1, r2 := b/(b-a), d/(d-a) // 1-t1, 1-t2 without cancellation
	near, far := &s.parts[0], &s.parts[1]
	if a > 0 {
		near, far = far, near
	}
	near.add(w*t1*t2*a/3, area*t1*t2)
	far.add(w*(r1*(b+d)+t1*r2*d)/3, area*(r1+t1*r2))
}
