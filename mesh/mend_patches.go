package mesh

import (
	"fmt"

	"bellyline/mesh/internal/halfedge"
	"bellyline/mesh/parallel"
)

// patch is a part of the surface connected by edges of exactly two facets. Across
// such an edge it is clear how two facets have to face.
type patch struct {
	facets []int32 // in the order in which they were reached
	area   float64 // mm^2
	// turnedArea is the area of the facets that face against the first one.
	turnedArea float64
}

// patches is the whole surface in patches.
type patches struct {
	of     []int32 // the patch of each facet, -1 for degenerate ones
	turned []bool  // whether a facet faces against the first one of its patch
	all    []patch // in the order of their first facets
}

// allEdges returns the facets at each edge, whether or not all are in order.
func allEdges(s *halfedge.Survey) *halfedge.Table {
	if s.Table == nil {
		s.Table = halfedge.NewTable(s.Triangles, s.Vertices)
	}
	return s.Table
}

// noEdge stands for no neighbour.
const noEdge = ^halfedge.Edge(0)

// neighbourEdges returns for the three sides of each facet the half-edge beyond, where
// just one other facet shares the edge.
func neighbourEdges(s *halfedge.Survey) []halfedge.Edge {
	table := allEdges(s)
	beyond := make([]halfedge.Edge, 3*len(s.Triangles))
	for i := range beyond {
		beyond[i] = noEdge
	}
	parallel.Blocks(s.Vertices, halfedge.Block, func(_, from, to int) {
		table.EachEdge(from, to, func(_ int32, uses []halfedge.Use) {
			if len(uses) == 2 {
				a, b := uses[0].Half(), uses[1].Half()
				beyond[3*int(a.Facet())+a.Corner()] = b
				beyond[3*int(b.Facet())+b.Corner()] = a
			}
		})
	})
	return beyond
}

// findPatches walks over the surface from facet to facet. It fails where the way
// round a strip comes back facing the other way: such a surface has one side only.
func findPatches(s *halfedge.Survey, m *Mesh) (*patches, error) {
	beyond := neighbourEdges(s)
	p := &patches{of: make([]int32, len(m.Triangles)), turned: make([]bool, len(m.Triangles))}
	for f := range p.of {
		p.of[f] = -1
	}
	for first := range m.Triangles {
		if p.of[first] >= 0 || halfedge.IsDegenerate(m.Triangles[first]) {
			continue
		}
		number := int32(len(p.all))
		p.of[first] = number
		found := patch{facets: []int32{int32(first)}}
		for i := 0; i < len(found.facets); i++ {
			f := found.facets[i]
			found.area += m.areaOf(int(f))
			if p.turned[f] {
				found.turnedArea += m.areaOf(int(f))
			}
			for k := range 3 {
				h := beyond[3*int(f)+k]
				if h == noEdge {
					continue
				}
				g := h.Facet()
				// Neighbours agree when they run their edge in opposite ways.
				agree := m.Triangles[g][h.Corner()] != m.Triangles[f][k]
				turned := p.turned[f] == agree
				switch {
				case p.of[g] < 0:
					p.of[g], p.turned[g] = number, turned
					found.facets = append(found.facets, g)
				case p.turned[g] != turned:
					return nil, oneSided(m, g)
				}
			}
		}
		p.all = append(p.all, found)
	}
	return p, nil
}

func oneSided(m *Mesh, f int32) error {
	at, _, _ := m.Corners(int(f))
	return fmt.Errorf("%w: the facets near %s are part of a strip with one side only, so there is no outside", ErrBeyondMending, point(at))
}
