package mesh

import "math"

// unequalEdges is from which ratio on edges of a vertex count as of very
// different lengths. Below that, what a normal between two curvatures adds to
// the facets on one side it takes from those on the other.
const unequalEdges = 2

// plainPart is what one block of facets gives.
type plainPart struct {
	estimate, area sum
	creased        []int32 // vertices that may have a crease
	uneven         []int32 // vertices that may be peaks
}

// plainEstimate sums the facets as if the body were smooth all over, and marks
// the vertices where it may not be. Where there are none, that is the estimate.
func (b *bending) plainEstimate() (estimate, area float64, special bool) {
	parts := make([]plainPart, blockCount(len(b.mesh.Triangles), bendBlock))
	inBlocks(len(b.mesh.Triangles), bendBlock, func(block, from, to int) {
		var f bentFacet
		for t := from; t < to; t++ {
			if b.measure(&b.mesh.Triangles[t], &f) {
				b.takePlain(&parts[block], &b.mesh.Triangles[t], &f)
			}
		}
	})
	var all plainPart
	creased := false
	for i := range parts {
		p := &parts[i]
		all.estimate, all.area = all.estimate.merge(p.estimate), all.area.merge(p.area)
		creased = creased || len(p.creased) > 0
		for _, v := range p.creased {
			b.vertices[v].special, b.vertices[v].creased = true, true
		}
	}
	if creased {
		b.markBesideCreases(parts)
	}
	for i := range parts {
		for _, v := range parts[i].uneven {
			b.vertices[v].special = true
		}
	}
	for i := range b.vertices {
		special = special || b.vertices[i].special
	}
	return all.estimate.value(), all.area.value(), special
}

// takePlain adds one facet to its block.
func (b *bending) takePlain(p *plainPart, t *[3]int32, f *bentFacet) {
	twice := f.vector.Norm()
	bend, uneven := 0.0, false
	var along, against [3]float64 // slopes times lengths, at the start and end of each edge
	for i, v := range t {
		n := &b.vertices[v].normal
		if n.Dot(f.vector) < b.cosHalf*twice {
			p.creased = append(p.creased, v)
		}
		along[i], against[(i+2)%3] = -f.edge[i].Dot(*n), f.edge[(i+2)%3].Dot(*n)
	}
	for i, x := range along {
		y := against[i]
		bend += x + y
		if math.Abs(x-y) > peakShare*(math.Abs(x)+math.Abs(y)) {
			uneven = true
		}
	}
	p.area = p.area.plus(twice / 2)
	p.estimate = p.estimate.plus(twice / 48 * bend)
	if uneven {
		b.takeUneven(p, t, f, &along, &against)
	}
}

// unevenRest is how far an edge's slopes must differ beyond peakShare, as a share
// of the slopes in its facet, for its ends to be looked at. A vertex is a peak
// when its edges' differences less peakShare of their slopes add up to more than
// 0; so with up to 64 edges one of them goes beyond by a 64th of what each of the
// others stays below.
const unevenRest = 1.0 / 64

// takeUneven marks the ends of edges that bend far more at one of them.
func (b *bending) takeUneven(p *plainPart, t *[3]int32, f *bentFacet, along, against *[3]float64) {
	var beyond [3]float64
	steepest := 0.0
	for i := range beyond {
		length := math.Sqrt(f.long2[i])
		total := (math.Abs(along[i]) + math.Abs(against[i])) / length
		beyond[i] = math.Abs(along[i]-against[i])/length - peakShare*total
		steepest = max(steepest, total)
	}
	for i, v := range t {
		if beyond[i] > unevenRest*steepest {
			p.uneven = append(p.uneven, v, t[(i+1)%3])
		}
	}
}

// markBesideCreases adds the vertices of all facets at a crease to those that may
// be peaks: the slopes there were taken with a normal that will change.
func (b *bending) markBesideCreases(parts []plainPart) {
	inBlocks(len(b.mesh.Triangles), bendBlock, func(block, from, to int) {
		for _, t := range b.mesh.Triangles[from:to] {
			if b.vertices[t[0]].creased || b.vertices[t[1]].creased || b.vertices[t[2]].creased {
				parts[block].uneven = append(parts[block].uneven, t[0], t[1], t[2])
			}
		}
	})
}
