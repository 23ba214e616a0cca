package main

import (
	"sort"
	"testing"

	"bellyline/mesh"

	"github.com/golang/geo/r3"
)

// volume returns the enclosed volume in mm3, signed, by the divergence
// theorem, about the origin. Plain sums do: corners are on the grid and the
// bodies lie near the origin.
func volume(m *mesh.Mesh) float64 {
	var six float64
	for t := range m.Triangles {
		a, b, c := m.Corners(t)
		six += a.Dot(b.Cross(c))
	}
	return six / 6
}

// shellsOf parts a mesh into the pieces that share corners.
func shellsOf(m *mesh.Mesh) []*mesh.Mesh {
	lead := make([]int32, len(m.Vertices))
	for i := range lead {
		lead[i] = int32(i)
	}
	find := func(v int32) int32 {
		for lead[v] != v {
			lead[v] = lead[lead[v]]
			v = lead[v]
		}
		return v
	}
	for _, t := range m.Triangles {
		lead[find(t[1])] = find(t[0])
		lead[find(t[2])] = find(t[0])
	}
	var shells []*mesh.Mesh
	index := map[int32]int{}
	for _, t := range m.Triangles {
		v := find(t[0])
		i, seen := index[v]
		if !seen {
			i = len(shells)
			index[v] = i
			shells = append(shells, &mesh.Mesh{Vertices: m.Vertices})
		}
		shells[i].Triangles = append(shells[i].Triangles, t)
	}
	return shells
}

// wantClosed fails the test unless each side of a facet is met by exactly one
// other facet, which runs along it the other way: closed, all facets turned
// alike, no side shared by four, no facet twice.
func wantClosed(t *testing.T, m *mesh.Mesh) {
	t.Helper()
	runs := map[[2]int32]int{}
	for _, f := range m.Triangles {
		for i := range f {
			runs[[2]int32{f[i], f[(i+1)%3]}]++
		}
	}
	bad := 0
	for run, n := range runs {
		if n != 1 || runs[[2]int32{run[1], run[0]}] != 1 {
			bad++
		}
	}
	if bad > 0 || len(runs) == 0 {
		t.Errorf("%d of %d facet sides are open, shared or run twice the same way", bad, len(runs))
	}
}

// column returns the heights at which the upright line through x, y passes the
// mesh, from below. The line must not meet a facet's side.
func column(m *mesh.Mesh, x, y float64) []float64 {
	var heights []float64
	left := func(a, b r3.Vector) float64 { return (b.X-a.X)*(y-a.Y) - (b.Y-a.Y)*(x-a.X) }
	for t := range m.Triangles {
		a, b, c := m.Corners(t)
		wc, wa, wb := left(a, b), left(b, c), left(c, a)
		if (wa > 0 && wb > 0 && wc > 0) || (wa < 0 && wb < 0 && wc < 0) {
			heights = append(heights, (wa*a.Z+wb*b.Z+wc*c.Z)/(wa+wb+wc))
		}
	}
	sort.Float64s(heights)
	return heights
}
