// Package tree looks up facets of a surface by where they are: rays, nearest points,
// winding numbers, thickness.
package tree

import (
	"bellyline/mesh"
	"bellyline/mesh/internal/bvh"
)

// Tree finds the facets near a place: a hierarchy of boxes round runs of facets
// that lie close together. It stays right only as long as its mesh is not changed.
//
// It takes about 8 bytes a facet. Building it takes time in proportion to the
// facets, on as many threads as there are, with the same result for any number.
type Tree struct {
	h *bvh.Tree
}

// New builds the tree of a mesh.
func New(m *mesh.Mesh) *Tree {
	return &Tree{bvh.New(m)}
}
