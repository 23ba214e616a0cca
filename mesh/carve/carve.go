// Package carve takes prisms out of solids.
package carve

import (
	"errors"
	"fmt"

	"bellyline/mesh"
	"bellyline/mesh/vector"

	"github.com/golang/geo/r3"
)

// ErrCarve is wrapped by errors about a prism that cannot be taken from a solid:
// usually one of its faces or edges runs along a facet or through a corner. A hair's
// breadth beside, it can.
var ErrCarve = errors.New("cannot be carved")

// Prism is a convex solid between two polygons of equally many corners: corner k of one
// end is joined to corner k of the other.
type Prism struct{ Ends [2][]r3.Vector }

// Solid returns the solid without a prism: what of its surface lies in the prism is
// replaced by what of the prism's lies in the solid. The mesh must be closed, wind
// round nothing twice near the prism, and have no corner in a face of the prism and no
// edge that meets one of the prism's. Facets that do not touch the prism stay as they
// are, in their order; the new ones follow. Errors wrap ErrCarve and ErrNotClosed.
//
// Every facet is clipped by the faces in turn (Sutherland and Hodgman, Reentrant
// polygon clipping, CACM 17 (1974) 32). Points on an edge depend on its ends and the
// face alone, so both facets there share them, and the result is closed by
// construction; it is checked all the same. Cost: a pass over all facets, and a map of
// what the prism meets.
func Solid(m *mesh.Mesh, p Prism) (*mesh.Mesh, error) {
	if !m.Balanced() {
		return nil, fmt.Errorf("%w: %w", ErrCarve, mesh.WhyOpen(m))
	}
	c, err := newCarver(m, p)
	if err != nil {
		return nil, err
	}
	if err := c.clipFacets(); err != nil {
		return nil, err
	}
	if len(c.met) == 0 {
		return nil, fmt.Errorf("%w: no facet meets the prism", ErrCarve)
	}
	if err := c.edges(); err != nil {
		return nil, err
	}
	for face := range c.faces {
		if err := c.closeLoops(c.onFace[face], c.faces[face].normal.Mul(-1)); err != nil {
			return nil, err
		}
	}
	out := c.mesh()
	if !out.Balanced() {
		return nil, fmt.Errorf("%w: the result is not closed", ErrCarve)
	}
	return out, nil
}

// carveFace is one face of the prism.
type carveFace struct {
	corners []int32   // of the prism, counter-clockwise seen from outside
	normal  r3.Vector // outward, a unit vector
	at      r3.Vector // a place in it
}

// offset is how far outside of the face a place lies.
func (f carveFace) offset(v r3.Vector) float64 { return f.normal.Dot(v.Sub(f.at)) }

// carver holds one carving.
type carver struct {
	m       *mesh.Mesh
	corners []r3.Vector // of the prism
	faces   []carveFace
	shared  map[[2]int]prismEdge // by the two faces of each edge of the prism
	box     mesh.Box

	vertices []r3.Vector // those of the mesh, then new ones
	nodes    map[carveKey]int32
	onFace   [][]stretch         // what the patch on each face is bounded by
	through  map[[2]int][]pierce // where facets pierce each edge of the prism
	met      []int32             // facets that are replaced
	facets   [][3]int32          // new ones
}

// prismEdge is an edge of the prism, run from one corner to another by the first of
// its faces, counter-clockwise seen from outside.
type prismEdge struct{ from, to int32 }

// stretch is part of an outline: from a vertex to the next.
type stretch struct{ from, to int32 }

// pierce is where a facet meets an edge of the prism.
type pierce struct {
	node    int32
	along   float64 // from 0 to 1
	leaving bool    // the solid, on the way along the edge
}

// carveKey tells new points apart: on the edge of the mesh between two vertices and in
// a face, or in a facet (b < 0) and two faces.
type carveKey struct{ a, b, face, other int32 }

func newCarver(m *mesh.Mesh, p Prism) (*carver, error) {
	n := len(p.Ends[0])
	if n < 3 || len(p.Ends[1]) != n {
		return nil, fmt.Errorf("%w: a prism with ends of %d and %d corners", ErrCarve, n, len(p.Ends[1]))
	}
	c := &carver{
		m: m, vertices: append([]r3.Vector{}, m.Vertices...), nodes: map[carveKey]int32{}, through: map[[2]int][]pierce{},
		corners: append(append([]r3.Vector{}, p.Ends[0]...), p.Ends[1]...), shared: map[[2]int]prismEdge{},
	}
	var middle r3.Vector
	c.box = mesh.BoxOf(c.corners...)
	for _, v := range c.corners {
		middle = middle.Add(v.Mul(1 / float64(2*n)))
	}
	loops := [][]int32{{}, {}}
	for k := range int32(n) {
		next, far := (k+1)%int32(n), int32(n)
		loops[0], loops[1] = append(loops[0], k), append(loops[1], far+k)
		loops = append(loops, []int32{k, next, far + next, far + k})
	}
	for _, loop := range loops {
		f, ok := c.face(loop, middle)
		if !ok {
			return nil, fmt.Errorf("%w: the prism has a face without area", ErrCarve)
		}
		c.faces = append(c.faces, f)
	}
	c.onFace = make([][]stretch, len(c.faces))
	c.shareEdges()
	return c, nil
}

// face turns a loop of corners outward.
func (c *carver) face(loop []int32, middle r3.Vector) (carveFace, bool) {
	var area, at r3.Vector
	first := c.corners[loop[0]]
	for k := 1; k+1 < len(loop); k++ {
		area = area.Add(c.corners[loop[k]].Sub(first).Cross(c.corners[loop[k+1]].Sub(first)))
	}
	for _, k := range loop {
		at = at.Add(c.corners[k].Mul(1 / float64(len(loop))))
	}
	if area.Dot(at.Sub(middle)) < 0 {
		area = area.Mul(-1)
		turned := make([]int32, len(loop))
		for i, k := range loop {
			turned[len(loop)-1-i] = k
		}
		loop = turned
	}
	normal, ok := vector.Unit(area)
	return carveFace{corners: loop, normal: normal, at: at}, ok
}

// shareEdges finds the two faces of each edge of the prism.
func (c *carver) shareEdges() {
	run := map[prismEdge]int{}
	for i, f := range c.faces {
		for k, from := range f.corners {
			run[prismEdge{from, f.corners[(k+1)%len(f.corners)]}] = i
		}
	}
	for e, i := range run {
		if j, ok := run[prismEdge{e.to, e.from}]; ok && i < j {
			c.shared[[2]int{i, j}] = e
		}
	}
}

// node returns the vertex of a new point.
func (c *carver) node(p clipPoint) int32 {
	if p.vertex >= 0 {
		return p.vertex
	}
	if n, ok := c.nodes[p.key]; ok {
		return n
	}
	n := int32(len(c.vertices))
	c.vertices = append(c.vertices, p.at)
	c.nodes[p.key] = n
	return n
}

// mesh gathers what is left and what is new, vertices in order of first use.
func (c *carver) mesh() *mesh.Mesh {
	out := &mesh.Mesh{Triangles: make([][3]int32, 0, len(c.m.Triangles)+len(c.facets))}
	name := make([]int32, len(c.vertices))
	add := func(t [3]int32) {
		var named [3]int32
		for k, v := range t {
			if name[v] == 0 {
				out.Vertices = append(out.Vertices, c.vertices[v])
				name[v] = int32(len(out.Vertices))
			}
			named[k] = name[v] - 1
		}
		out.Triangles = append(out.Triangles, named)
	}
	next := 0
	for i, t := range c.m.Triangles {
		if next < len(c.met) && int(c.met[next]) == i {
			next++
			continue
		}
		add(t)
	}
	for _, t := range c.facets {
		add(t)
	}
	return out
}
