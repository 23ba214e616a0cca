package carve

import (
	"bellyline/mesh"

	"github.com/golang/geo/r3"
)

// clipPoint is a corner of a facet's part in the prism.
type clipPoint struct {
	vertex int32 // of the mesh; -1 for a new point, which has a key
	key    carveKey
	at     r3.Vector
	side   int // what runs from here to the next corner: side 0 to 2 of the facet, or -1 less a face
}

// clipFacets replaces every facet that the prism meets by what of it lies outside.
func (c *carver) clipFacets() error {
	for i, t := range c.m.Triangles {
		a, b, d := c.m.Corners(i)
		if box := mesh.BoxOf(a, b, d); !box.Meets(&c.box) {
			continue
		}
		inside := c.clip(int32(i), t)
		if len(inside) < 3 {
			continue
		}
		c.met = append(c.met, int32(i))
		if err := c.rest(t, inside, b.Sub(a).Cross(d.Sub(a))); err != nil {
			return err
		}
	}
	return nil
}

// clip returns what of a facet lies in the prism.
func (c *carver) clip(facet int32, t [3]int32) []clipPoint {
	var polygon []clipPoint
	for k, v := range t {
		polygon = append(polygon, clipPoint{vertex: v, at: c.m.Vertices[v], side: k})
	}
	for i, f := range c.faces {
		var kept []clipPoint
		for k, p := range polygon {
			q := polygon[(k+1)%len(polygon)]
			in, next := f.offset(p.at) < 0, f.offset(q.at) < 0
			if in {
				kept = append(kept, p)
			}
			if in != next {
				x := c.cross(facet, t, p, q, i)
				x.side = p.side
				if in { // here it leaves the face's inner side, and runs on along the face
					x.side = -1 - i
				}
				kept = append(kept, x)
			}
		}
		if polygon = kept; len(polygon) == 0 {
			return nil
		}
	}
	return polygon
}

// cross is where the side from p to q of a facet's part meets a face.
func (c *carver) cross(facet int32, t [3]int32, p, q clipPoint, face int) clipPoint {
	if p.side >= 0 { // on an edge of the mesh: the same for both its facets
		a, b := t[p.side], t[(p.side+1)%3]
		a, b = min(a, b), max(a, b)
		return clipPoint{vertex: -1, key: carveKey{a: a, b: b, face: int32(face)}, at: c.between(c.m.Vertices[a], c.m.Vertices[b], face)}
	}
	other := -1 - p.side
	i, j := min(other, face), max(other, face)
	x := clipPoint{vertex: -1, key: carveKey{a: facet, b: -1, face: int32(i), other: int32(j)}, at: c.between(p.at, q.at, face)}
	if e, ok := c.shared[[2]int{i, j}]; ok { // on an edge of the prism
		x.at = c.onEdge(facet, e)
	}
	return x
}

// between is where a way meets a face: a corner of it when both lie on one side.
func (c *carver) between(a, b r3.Vector, face int) r3.Vector {
	da, db := c.faces[face].offset(a), c.faces[face].offset(b)
	if (da < 0) == (db < 0) {
		return a
	}
	return a.Add(b.Sub(a).Mul(da / (da - db)))
}

// onEdge is where an edge of the prism meets the plane of a facet.
func (c *carver) onEdge(facet int32, e prismEdge) r3.Vector {
	a, b, d := c.m.Corners(int(facet))
	from, to := c.corners[e.from], c.corners[e.to]
	n := b.Sub(a).Cross(d.Sub(a))
	return from.Add(to.Sub(from).Mul(n.Dot(a.Sub(from)) / n.Dot(to.Sub(from))))
}

// rest bounds what of a facet lies outside, fills it, and gives each face its share of
// the outline.
func (c *carver) rest(t [3]int32, inside []clipPoint, normal r3.Vector) error {
	var outline []stretch
	var from, to [3]int32 // what of each side lies inside
	whole := [3]bool{true, true, true}
	for k, p := range inside {
		q := inside[(k+1)%len(inside)]
		u, v := c.node(p), c.node(q)
		if p.side >= 0 {
			from[p.side], to[p.side], whole[p.side] = u, v, false
			continue
		}
		face := -1 - p.side
		outline = append(outline, stretch{v, u})
		c.onFace[face] = append(c.onFace[face], stretch{u, v})
		if q.side < 0 {
			c.pierce(q, normal)
		}
	}
	for k := range t {
		a, b := t[k], t[(k+1)%3]
		if whole[k] {
			outline = append(outline, stretch{a, b})
			continue
		}
		if from[k] != a {
			outline = append(outline, stretch{a, from[k]})
		}
		if to[k] != b {
			outline = append(outline, stretch{to[k], b})
		}
	}
	return c.closeLoops(outline, normal)
}
