package fill

import (
	"bellyline/mesh/internal/bvh"

	"github.com/golang/geo/r3"
)

// leafFrame is a box around the facets of a leaf that is turned as they lie: along
// their longest side and across their normals. Long thin facets that lie askew have
// upright boxes that hold everything around them; these do not.
type leafFrame struct {
	axes         [3][3]float32 // unit vectors
	middle, half [3]float32    // along x, y, z; along the axes, with the slack added
	hub          int32         // see hubsOf
}

// frameOf returns the frame of some facets, by how much facets may move added.
func frameOf(t *bvh.Tree, facets []int32, slack float64) leafFrame {
	var long, up r3.Vector
	for _, f := range facets {
		a, b, c := t.Mesh.Corners(int(f))
		b, c = b.Sub(a), c.Sub(a)
		up = up.Add(b.Cross(c))
		for _, side := range [3]r3.Vector{b, c, c.Sub(b)} {
			if side.Norm2() > long.Norm2() {
				long = side
			}
		}
	}
	axes := [3]r3.Vector{long.Normalize()}
	if axes[0] == (r3.Vector{}) {
		axes[0] = r3.Vector{X: 1}
	}
	axes[1] = axes[0].Cross(up).Normalize()
	if axes[1] == (r3.Vector{}) {
		axes[1] = axes[0].Ortho()
	}
	axes[2] = axes[0].Cross(axes[1])
	return frameAlong(t, facets, axes, slack)
}

// frameAlong returns the frame of some facets along given axes.
func frameAlong(t *bvh.Tree, facets []int32, axes [3]r3.Vector, slack float64) leafFrame {
	var lo, hi [3]float64
	for i, f := range facets {
		for j, v := range t.Mesh.Triangles[f] {
			p := t.Mesh.Vertices[v].Sub(t.Centre)
			for k, a := range axes {
				x := p.Dot(a)
				if i+j == 0 || x < lo[k] {
					lo[k] = x
				}
				if i+j == 0 || x > hi[k] {
					hi[k] = x
				}
			}
		}
	}
	var frame leafFrame
	var middle r3.Vector
	for k, a := range axes {
		frame.axes[k] = [3]float32{float32(a.X), float32(a.Y), float32(a.Z)}
		middle = middle.Add(a.Mul((lo[k] + hi[k]) / 2))
		// What float32 loses of places in the whole mesh is less than this.
		frame.half[k] = bvh.Above32((hi[k]-lo[k])/2 + slack + 0x1p-20*t.Box.Diagonal())
	}
	frame.middle = [3]float32{float32(middle.X), float32(middle.Y), float32(middle.Z)}
	return frame
}

// apart says whether the facets of two leaves need not be compared: they are at the
// same hub, or one of the axes of their frames separates them.
func (f *leafFrame) apart(g *leafFrame) bool {
	if f.hub >= 0 && f.hub == g.hub {
		return true
	}
	d := [3]float32{g.middle[0] - f.middle[0], g.middle[1] - f.middle[1], g.middle[2] - f.middle[2]}
	var cosines [3][3]float32 // absolute, of the axes of f with those of g
	for i := range 3 {
		for j := range 3 {
			cosines[i][j] = abs32(bvh.Dot32(&f.axes[i], &g.axes[j]))
		}
	}
	for i := range 3 {
		c := &cosines[i]
		if abs32(bvh.Dot32(&d, &f.axes[i])) > f.half[i]+c[0]*g.half[0]+c[1]*g.half[1]+c[2]*g.half[2] {
			return true
		}
		if abs32(bvh.Dot32(&d, &g.axes[i])) > g.half[i]+cosines[0][i]*f.half[0]+cosines[1][i]*f.half[1]+cosines[2][i]*f.half[2] {
			return true
		}
	}
	return false
}
