package hollow

import (
	"slices"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
)

// cut parts the surface along a section: each facet that it crosses becomes
// three, and the two sides no longer meet. The given mesh is not touched: own
// makes a copy first. It returns the new corner on the rim at which the section
// begins.
func (v *view) cut(c crossed, line cutLine) int32 {
	v.own()
	k := cutter{view: v, line: line, corners: map[[2]int32]int32{}, halves: map[[2]int32]int32{}}
	facets := make([]int32, 0, len(c.sides)-1)
	for i, s := range c.sides[:len(c.sides)-1] {
		if i > 0 {
			s = v.twins[s]
		}
		facets = append(facets, s/3)
	}
	first := k.corner(v.side(c.sides[0]))
	for _, f := range facets {
		k.split(f)
	}
	for key, s := range k.halves {
		if o, ok := k.halves[[2]int32{key[1], key[0]}]; ok {
			v.twins[s] = o
		}
	}
	return first
}

// own makes the view's surface its own.
func (v *view) own() {
	if v.owned {
		return
	}
	s := *v.surface
	s.mesh = &mesh.Mesh{Vertices: slices.Clone(s.mesh.Vertices), Triangles: slices.Clone(s.mesh.Triangles)}
	s.twins, s.normals, s.areas = slices.Clone(s.twins), slices.Clone(s.normals), slices.Clone(s.areas)
	v.surface, v.owned, v.gates = &s, true, map[int32]bool{}
}

// cutter parts facets along one line.
type cutter struct {
	*view
	line    cutLine
	corners map[[2]int32]int32 // new corners by the edge that they are on
	halves  map[[2]int32]int32 // new sides on crossed edges, by their corners
}

// corner returns the corner at which an edge is crossed, the same for both facets
// beside it.
func (k *cutter) corner(a, b int32) int32 {
	key := [2]int32{min(a, b), max(a, b)}
	if n, known := k.corners[key]; known {
		return n
	}
	x := k.share(a, b, k.line)
	p, q := k.mesh.Vertices[key[0]], k.mesh.Vertices[key[1]]
	n := int32(len(k.mesh.Vertices))
	k.mesh.Vertices = append(k.mesh.Vertices, p.Add(q.Sub(p).Mul(x)))
	k.z = append(k.z, k.z[key[0]]+(k.z[key[1]]-k.z[key[0]])*x)
	k.corners[key] = n
	return n
}

// split parts facet f = a b d, whose corner a is alone on its side, into f = a p q
// and two new ones, p b d and p d q.
func (k *cutter) split(f int32) {
	i := k.apex(f)
	old := [3]int32{3*f + i, 3*f + (i+1)%3, 3*f + (i+2)%3}
	t := k.mesh.Triangles[f]
	a, b, d := t[i], t[(i+1)%3], t[(i+2)%3]
	var beyond [3]int32
	var gate [3]bool
	for n, s := range old {
		beyond[n], gate[n] = k.twins[s], k.gates[s]
		delete(k.gates, s)
	}
	p, q := k.corner(a, b), k.corner(d, a)
	k.mesh.Triangles[f] = [3]int32{a, p, q}
	g := k.addFacet(f, [3]int32{p, b, d})
	h := k.addFacet(f, [3]int32{p, d, q})
	k.normals[f], k.areas[f] = k.faceOf(f)
	k.twins[3*g+2], k.twins[3*h] = 3*h, 3*g+2
	k.twins[3*f+1], k.twins[3*h+2] = none, none
	k.gates[3*f+1], k.gates[3*h+2] = true, true
	k.onCrossed(beyond[0], gate[0], 3*f, 3*g)
	k.onCrossed(beyond[2], gate[2], 3*f+2, 3*h+1)
	k.twins[3*g+1] = beyond[1]
	if beyond[1] != none {
		k.twins[beyond[1]] = 3*g + 1
	}
	if gate[1] {
		k.gates[3*g+1] = true
	}
}

// onCrossed says what lies beyond the two halves of a crossed side: new halves of
// the next facet, or what was there.
func (k *cutter) onCrossed(beyond int32, gate bool, halves ...int32) {
	for _, s := range halves {
		k.twins[s] = beyond
		if gate {
			k.gates[s] = true
		}
		if beyond != none && k.label[beyond/3] == inside {
			a, b := k.side(s)
			k.halves[[2]int32{a, b}] = s
		}
	}
}

// apex returns which corner of a crossed facet is alone on its side of the line.
func (k *cutter) apex(f int32) int32 {
	var left [3]bool
	for i, c := range k.mesh.Triangles[f] {
		left[i] = k.line.off(k.plan(c)) < 0
	}
	for i := range int32(3) {
		if left[i] != left[(i+1)%3] && left[i] != left[(i+2)%3] {
			return i
		}
	}
	return 0 // not reached: a crossed facet has corners on both sides
}

func (k *cutter) addFacet(like int32, corners [3]int32) int32 {
	f := int32(len(k.mesh.Triangles))
	k.mesh.Triangles = append(k.mesh.Triangles, corners)
	k.twins = append(k.twins, none, none, none)
	k.label = append(k.label, k.label[like])
	k.level = append(k.level, k.level[like])
	n, area := k.faceOf(f)
	k.normals, k.areas = append(k.normals, n), append(k.areas, area)
	return f
}

// faceOf returns the normal and the area of a facet.
func (v *view) faceOf(f int32) (r3.Vector, float64) {
	a, b, c := v.mesh.Corners(int(f))
	cross := b.Sub(a).Cross(c.Sub(a))
	twice := cross.Norm()
	if twice == 0 {
		return r3.Vector{}, 0
	}
	return cross.Mul(1 / twice), twice / 2
}
