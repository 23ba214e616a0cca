package bvh

import (
	"slices"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/solids"
)

// Every facet is in one leaf, and in the boxes of all levels above it.
func TestTreeHoldsEveryFacet(t *testing.T) {
	for _, c := range [][]r3.Vector{
		nil, solids.Tetrahedron(3)[:3], solids.Box(r3.Vector{}, r3.Vector{X: 1, Y: 2, Z: 3}),
		solids.Icosphere(5, 3), solids.Move(solids.Torus(30, 2, 90, 31), r3.Vector{X: 1e5, Y: -3e4}),
	} {
		m := mesh.New(c)
		tree := New(m)
		seen := make([]int, len(m.Triangles))
		for i := range tree.Levels[0] {
			for _, f := range tree.Leaf(i) {
				seen[f]++
				look := tree.lookAt([]int32{f}, 0)
				own := BoxAround(look.lo, look.hi)
				for l, at := 0, i; l < len(tree.Levels); l, at = l+1, at/Fan {
					b := tree.Levels[l][at]
					b.add(own)
					if b != tree.Levels[l][at] {
						t.Fatalf("facet %d is not in its box of level %d", f, l)
					}
				}
			}
		}
		if slices.ContainsFunc(seen, func(n int) bool { return n != 1 }) {
			t.Fatalf("facets are in so many leaves: %v", seen)
		}
	}
}
