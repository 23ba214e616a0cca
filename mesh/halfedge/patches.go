package halfedge

import (
	"slices"

	"bellyline/mesh/parallel"
)

// Patch is a part of the surface connected by edges of exactly two facets. Across
// such an edge it is clear how two facets have to face.
type Patch struct {
	Facets []int32 // in the order in which they were reached
	Area   float64 // mm^2
	// TurnedArea is the area of the facets that face against the first one.
	TurnedArea float64
}

// Patches is the whole surface in patches.
type Patches struct {
	Of     []int32 // the patch of each facet, -1 for degenerate ones
	Turned []bool  // whether a facet faces against the first one of its patch
	All    []Patch // in the order of their first facets
}

// allEdges returns the facets at each edge, whether or not all are in order.
func (s *Survey) allEdges() *Table {
	if s.Table == nil {
		s.Table = NewTable(s.Triangles, s.Vertices)
	}
	return s.Table
}

// noEdge stands for no neighbour.
const noEdge = ^Edge(0)

// neighbours returns for the three sides of each facet the half-edge beyond, where
// just one other facet shares the edge.
func (s *Survey) neighbours() []Edge {
	table := s.allEdges()
	beyond := make([]Edge, 3*len(s.Triangles))
	for i := range beyond {
		beyond[i] = noEdge
	}
	parallel.Blocks(s.Vertices, Block, func(_, from, to int) {
		table.EachEdge(from, to, func(_ int32, uses []Use) {
			if len(uses) == 2 {
				a, b := uses[0].Half(), uses[1].Half()
				beyond[3*int(a.Facet())+a.Corner()] = b
				beyond[3*int(b.Facet())+b.Corner()] = a
			}
		})
	})
	return beyond
}

// FindPatches walks over the surface from facet to facet; areaOf is asked for areas of
// facets. Where the way round a strip comes back facing the other way, it returns nil
// and a facet of the strip: such a surface has one side only. Otherwise that is -1.
func (s *Survey) FindPatches(areaOf func(facet int) float64) (p *Patches, strip int32) {
	beyond := s.neighbours()
	p = &Patches{Of: make([]int32, len(s.Triangles)), Turned: make([]bool, len(s.Triangles))}
	for f := range p.Of {
		p.Of[f] = -1
	}
	for first := range s.Triangles {
		if p.Of[first] >= 0 || IsDegenerate(s.Triangles[first]) {
			continue
		}
		number := int32(len(p.All))
		p.Of[first] = number
		found := Patch{Facets: []int32{int32(first)}}
		for i := 0; i < len(found.Facets); i++ {
			f := found.Facets[i]
			found.Area += areaOf(int(f))
			if p.Turned[f] {
				found.TurnedArea += areaOf(int(f))
			}
			for k := range 3 {
				h := beyond[3*int(f)+k]
				if h == noEdge {
					continue
				}
				g := h.Facet()
				// Neighbours agree when they run their edge in opposite ways.
				agree := s.Triangles[g][h.Corner()] != s.Triangles[f][k]
				turned := p.Turned[f] == agree
				switch {
				case p.Of[g] < 0:
					p.Of[g], p.Turned[g] = number, turned
					found.Facets = append(found.Facets, g)
				case p.Turned[g] != turned:
					return nil, g
				}
			}
		}
		p.All = append(p.All, found)
	}
	return p, -1
}

// PatchAround returns the facets that are connected with one by edges of exactly two
// facets, whether or not they can agree about what is outside, and those of them that
// run such an edge the same way as the facet beyond. Both are in ascending order.
func (s *Survey) PatchAround(facet int32) (facets, bent []int32) {
	beyond := s.neighbours()
	reached := make([]bool, len(s.Triangles))
	reached[facet] = true
	facets = []int32{facet}
	for i := 0; i < len(facets); i++ {
		f := facets[i]
		isBent := false
		for k := range 3 {
			h := beyond[3*int(f)+k]
			if h == noEdge {
				continue
			}
			g := h.Facet()
			isBent = isBent || s.Triangles[g][h.Corner()] == s.Triangles[f][k]
			if !reached[g] {
				reached[g] = true
				facets = append(facets, g)
			}
		}
		if isBent {
			bent = append(bent, f)
		}
	}
	slices.Sort(facets)
	slices.Sort(bent)
	return facets, bent
}
