package main

import (
	"fmt"
	"math"

	"bellyline/mesh"
	"bellyline/mesh/solids"

	"github.com/golang/geo/r3"
)

// The block of the shad mold, in millimetres: both halves are as thick, and part
// at z = 0.
const (
	moldLength = 52.0 // half of it, along x
	moldWidth  = 74.0 // half of it, along y
	moldThick  = 14.0
)

// shads is what a mold of four little shads holds: a sprue that comes in at the
// side x = moldLength, a runner along x, and on either side of it two baits that
// hang on it by gates, noses inward. The back (+z) is deeper than the belly.
func shads() *plan {
	p := &plan{}
	var left, right, last []int
	for _, r := range []struct{ x, half, height float64 }{
		{70, 5.4, 0}, {66, 5.4, 5.6}, {44, 4.4, 4.6},
		{33, 3.8, 3.8}, {28, 3.8, 3.8}, {23, 3.8, 3.8},
		{10, 3.8, 3.8}, {-6, 3.8, 3.8},
		{-17, 3.8, 3.8}, {-22, 3.8, 3.8}, {-27, 3.8, 3.8},
		{-33, 3.4, 3.4}, {-36, 2.4, 0},
	} {
		row := p.row(knot{r.x, r.half, 0, 0}, knot{r.x, 0, r.height, r.height}, knot{r.x, -r.half, 0, 0})
		if last != nil {
			p.join(last, row)
		}
		last = row
		left, right = append(left, row[0]), append(right, row[2])
	}
	for _, at := range []int{3, 8} {
		middle := p.knots[left[at+1]].x
		p.limb(true, left[at:at+3], shad(middle))
		p.limb(false, right[at:at+3], shad(middle))
	}
	return p
}

// shad is the way from the runner through a gate into one bait, as chains across
// it: a bait of 45 mm with a boot tail.
func shad(x float64) []chain {
	var chains []chain
	for _, s := range []struct{ y, half, up, down float64 }{
		{7, 2.6, 2.6, 2.6}, {10, 1.3, 1.3, 1.3}, {12.5, 1.1, 1.1, 1.1}, {14.5, 1.3, 1.3, 1.3}, // the gate
		{16.5, 4.6, 3.4, 2.8}, {21, 6.8, 5.6, 4.4}, {28, 7.6, 6.8, 5.2}, {36, 6.8, 6, 4.6},
		{44, 4, 3.8, 3}, {49, 2, 2, 1.8}, {53, 2.6, 1.7, 1.7}, {57, 4.8, 1.8, 1.8}, {60.5, 3.6, 1.4, 1.4},
		{62, 2.2, 0, 0},
	} {
		chains = append(chains, chain{{x + s.half, s.y, 0, 0}, {x, s.y, s.up, s.down}, {x - s.half, s.y, 0, 0}})
	}
	return chains
}

// dowel is an upright cylinder for pins and bolts.
func dowel(x, y, radius, low, high float64) *mesh.Mesh {
	const sides = 20
	m := &mesh.Mesh{}
	for _, z := range []float64{low, high} {
		for k := range sides {
			angle := 2 * math.Pi * float64(k) / sides
			m.Vertices = append(m.Vertices, snapped(r3.Vector{X: x + radius*math.Cos(angle), Y: y + radius*math.Sin(angle), Z: z}))
		}
		m.Vertices = append(m.Vertices, r3.Vector{X: x, Y: y, Z: z})
	}
	for k := range int32(sides) {
		a, b, bottom := k, (k+1)%sides, int32(sides)
		c, d, top := a+sides+1, b+sides+1, int32(2*sides+1)
		m.Triangles = append(m.Triangles, [3]int32{a, b, d}, [3]int32{a, d, c}, [3]int32{b, a, bottom}, [3]int32{c, d, top})
	}
	return m
}

// shadMold is both halves of the mold, one above the other as they close. Two blind
// holes take pins, two more go through for bolts; one pin stands off its corner,
// so that the halves close in one way only.
func shadMold() (*mesh.Mesh, error) {
	// The block is drawn larger and cut to size, which opens sprue and bolt holes.
	const over = 6.0
	x, y, z := moldLength+over, moldWidth+over, moldThick+over
	hollows := []*mesh.Mesh{
		shads().draw(2).finish(),
		dowel(-45, 66, 3, -8, 8), dowel(38, -66, 3, -8, 8),
		dowel(45, 66, 2.5, -z+1, z-1), dowel(-45, -66, 2.5, -z+1, z-1),
	}
	all := []*mesh.Mesh{mesh.New(solids.Box(r3.Vector{X: -x, Y: -y, Z: -z}, r3.Vector{X: x, Y: y, Z: z}))}
	for _, h := range hollows {
		all = append(all, insideOut(h))
	}
	m := joined(all...)
	for _, side := range []mesh.Plane{
		{Normal: r3.Vector{X: 1}, HeightMM: moldLength}, {Normal: r3.Vector{X: -1}, HeightMM: moldLength},
		{Normal: r3.Vector{Y: 1}, HeightMM: moldWidth}, {Normal: r3.Vector{Y: -1}, HeightMM: moldWidth},
		{Normal: r3.Vector{Z: 1}, HeightMM: moldThick}, {Normal: r3.Vector{Z: -1}, HeightMM: moldThick},
	} {
		below, _, err := m.CutSolids(side)
		if err != nil {
			return nil, fmt.Errorf("shad mold: %w", err)
		}
		m = onGrid(below)
	}
	return m, nil
}

// shadHalf returns the half below the parting plane, or the one above it turned
// over about the x axis: both lie with their parting face up.
func shadHalf(upper bool) *mesh.Mesh {
	m, err := shadMold()
	if err != nil {
		panic(err) // what is drawn here is closed, or nothing works
	}
	below, above, err := m.CutSolids(mesh.Plane{Normal: r3.Vector{Z: 1}})
	if err != nil {
		panic(err)
	}
	if !upper {
		return onGrid(below)
	}
	for i, p := range above.Vertices {
		above.Vertices[i] = r3.Vector{X: p.X, Y: -p.Y, Z: -p.Z}
	}
	return onGrid(above)
}

func insideOut(m *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{Vertices: m.Vertices}
	for _, t := range m.Triangles {
		out.Triangles = append(out.Triangles, [3]int32{t[0], t[2], t[1]})
	}
	return out
}

// onGrid puts all corners on the grid.
func onGrid(m *mesh.Mesh) *mesh.Mesh {
	for i, p := range m.Vertices {
		m.Vertices[i] = snapped(p)
	}
	return m
}
