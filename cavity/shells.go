package cavity

import (
	"sync"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/tree"
)

// ShellAt returns which shell of the model as it was drawn lies nearest to a place in
// mm, counted from 1 in the order of the file, and 0 for a model of one shell. The first
// call costs a pass over the model.
func (c *Cavity) ShellAt(p r3.Vector) int {
	if c.shellAt == nil {
		return 0
	}
	return c.shellAt(p)
}

// shellsOf returns what ShellAt asks, which is worked out when it is first asked.
func shellsOf(drawn *mesh.Mesh) func(r3.Vector) int {
	type shells struct {
		facets *tree.Tree
		number []int // of the shell that a facet belongs to
	}
	made := sync.OnceValue(func() shells {
		s := shells{tree.New(drawn), make([]int, len(drawn.Triangles))}
		for i, shell := range drawn.Shells() {
			for _, f := range shell.Triangles {
				s.number[f] = i + 1
			}
		}
		return s
	})
	return func(p r3.Vector) int {
		s := made()
		f, _, _ := s.facets.Nearest(p)
		return s.number[f]
	}
}
