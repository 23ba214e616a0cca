package fill

import (
	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/halfedge"
	"bellyline/mesh/internal/bvh"
	"bellyline/mesh/internal/lattice"
	"bellyline/mesh/parallel"
)

// surface is a balanced mesh taken apart into shells that are whole: every side of
// a facet has one partner, run the other way, even where more than two facets use
// an edge; and facets around a corner that are not joined by such partners have
// corners of their own, so that they can move apart.
//
// It takes about 60 bytes a facet, and is made only for meshes of several shells or
// with crossings.
type surface struct {
	m       *mesh.Mesh
	lattice lattice.Lattice
	twin    [][3]halfedge.Edge // the partner of each side
	ids     [][3]int32         // the corners of each facet by their own numbers
	at      []r3.Vector        // where they are on the lattice, moves included
	shell   []int32            // the shell of each facet, -1 if it has two equal corners
	shells  int
}

// newSurface takes a balanced mesh apart.
func newSurface(m *mesh.Mesh, l lattice.Lattice) *surface {
	s := &surface{m: m, lattice: l, twin: twins(m)}
	s.findShells()
	s.findCorners()
	return s
}

// twins pairs the half-edges of each edge, those run up with those run down, both
// in the order of their facets.
func twins(m *mesh.Mesh) [][3]halfedge.Edge {
	table := halfedge.NewTable(m.Triangles, len(m.Vertices))
	twin := make([][3]halfedge.Edge, len(m.Triangles))
	parallel.Blocks(len(m.Vertices), bvh.Block, func(_, from, to int) {
		var scratch []halfedge.Use
		for v := from; v < to; v++ {
			scratch = table.At(int32(v), scratch)
			for uses := scratch; len(uses) > 0; {
				n := halfedge.SameEdge(uses)
				up := halfedge.Forward(uses[:n])
				for i := range up {
					a, b := uses[i].Half(), uses[up+i].Half()
					twin[a.Facet()][a.Corner()] = b
					twin[b.Facet()][b.Corner()] = a
				}
				uses = uses[n:]
			}
		}
	})
	return twin
}

// findShells numbers the parts that are joined by partners, in the order of their
// first facets.
func (s *surface) findShells() {
	s.shell = make([]int32, len(s.m.Triangles))
	for f := range s.shell {
		s.shell[f] = -1
	}
	var stack []int32
	for f, tri := range s.m.Triangles {
		if s.shell[f] >= 0 || halfedge.IsDegenerate(tri) {
			continue
		}
		shell := int32(s.shells)
		s.shells++
		s.shell[f] = shell
		for stack = append(stack[:0], int32(f)); len(stack) > 0; {
			g := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			for _, h := range s.twin[g] {
				if n := h.Facet(); s.shell[n] < 0 {
					s.shell[n] = shell
					stack = append(stack, n)
				}
			}
		}
	}
}

// findCorners numbers the corners, each with the facets that follow each other
// around it, and puts them on the lattice.
func (s *surface) findCorners() {
	s.ids = make([][3]int32, len(s.m.Triangles))
	for f := range s.ids {
		s.ids[f] = [3]int32{-1, -1, -1}
	}
	s.at = make([]r3.Vector, 0, len(s.m.Vertices))
	for f, tri := range s.m.Triangles {
		if halfedge.IsDegenerate(tri) {
			continue
		}
		for k := range 3 {
			if s.ids[f][k] >= 0 {
				continue
			}
			id := int32(len(s.at))
			shift := s.lattice.Shell(s.shell[f])
			s.at = append(s.at, s.lattice.Corner(id, s.m.Vertices[tri[k]]).Add(shift))
			for g, c := int32(f), k; s.ids[g][c] < 0; {
				s.ids[g][c] = id
				h := s.twin[g][c]
				g, c = h.Facet(), halfedge.After(h.Corner())
			}
		}
	}
}

func (s *surface) facet(f int32) (ids [3]int32, at lattice.Corners) {
	ids = s.ids[f]
	if ids[0] < 0 {
		return [3]int32{}, at // two equal corners
	}
	return ids, s.corners(f)
}

// corners returns where the corners of a facet are on the lattice.
func (s *surface) corners(f int32) lattice.Corners {
	ids := s.ids[f]
	return lattice.Corners{s.at[ids[0]], s.at[ids[1]], s.at[ids[2]]}
}

// ends returns the ids of the corners that a half-edge runs from and to.
func (s *surface) ends(h halfedge.Edge) (from, to int32) {
	ids := &s.ids[h.Facet()]
	return ids[h.Corner()], ids[halfedge.After(h.Corner())]
}
