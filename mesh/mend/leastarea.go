package mend

import (
	"fmt"
	"math"

	"bellyline/mesh"
	"bellyline/mesh/internal/earclip"
)

// longestRim is the longest rim, in edges, that the cap of least area is looked
// for; that takes time with the cube of it, here a few milliseconds.
const longestRim = 150

// capOver spans a small rim that is not flat: by the facets of least area between
// its vertices, or if there are too many of them by those that do not overlap
// when seen along an axis.
func (d *mender) capOver(r *rim) ([][3]int32, error) {
	if len(r.vertices) <= longestRim {
		return leastArea(d.m, r.vertices), nil
	}
	outline := d.ringOf(r, earclip.NewDropAxis(r.vector))
	facets, waste := earclip.Fill(outline, nil)
	if !(waste <= earclip.FoldLimit*outline.Area) {
		return nil, fmt.Errorf("%w: %s folds over itself", ErrBeyond, d.rimText(r))
	}
	return facets, nil
}

// leastArea triangulates a closed chain of vertices, run the other way, with the
// least total area, by the recursion over the facet at one edge (Barequet and
// Sharir, Filling gaps in the boundary of a polyhedron, CAGD 12 (1995) 207; from
// memory). Of equal areas the first found is taken. Time n^3, memory n^2.
func leastArea(m *mesh.Mesh, loop []int32) [][3]int32 {
	n := len(loop)
	area := make([]float64, n*n) // of the best cap of the chain i..j and its chord
	tip := make([]int, n*n)      // the third corner of the facet at the chord
	for length := 2; length < n; length++ {
		for i := 0; i+length < n; i++ {
			j := i + length
			best := math.Inf(1)
			a, b := m.Vertices[loop[i]], m.Vertices[loop[j]]
			for k := i + 1; k < j; k++ {
				c := m.Vertices[loop[k]]
				all := area[i*n+k] + area[k*n+j] + b.Sub(a).Cross(c.Sub(a)).Norm()/2
				if all < best {
					best, tip[i*n+j] = all, k
				}
			}
			area[i*n+j] = best
		}
	}
	facets := make([][3]int32, 0, n-2)
	for todo := [][2]int{{0, n - 1}}; len(todo) > 0; {
		i, j := todo[len(todo)-1][0], todo[len(todo)-1][1]
		todo = todo[:len(todo)-1]
		if j-i < 2 {
			continue
		}
		k := tip[i*n+j]
		facets = append(facets, [3]int32{loop[j], loop[k], loop[i]})
		todo = append(todo, [2]int{i, k}, [2]int{k, j})
	}
	return facets
}
