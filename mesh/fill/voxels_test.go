package fill

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"bellyline/mesh"
	"bellyline/mesh/solids"
)

// voxels is a set of unit cubes by their low corners.
type voxels map[[3]int]bool

// skin returns two facets for each face of a cube that no other cube shares. Cubes
// that touch along an edge or at a corner make edges used four times and corners
// where the surface touches itself.
func (v voxels) skin(side int) []r3.Vector {
	var c []r3.Vector
	for x := range side {
		for y := range side {
			for z := range side {
				if v[[3]int{x, y, z}] {
					c = append(c, v.faces(x, y, z)...)
				}
			}
		}
	}
	return c
}

func (v voxels) faces(x, y, z int) []r3.Vector {
	at := r3.Vector{X: float64(x), Y: float64(y), Z: float64(z)}
	cube := solids.Box(at, at.Add(r3.Vector{X: 1, Y: 1, Z: 1}))
	var c []r3.Vector
	for i := 0; i < len(cube); i += 3 {
		n := cube[i+1].Sub(cube[i]).Cross(cube[i+2].Sub(cube[i]))
		beside := [3]int{x + int(n.X), y + int(n.Y), z + int(n.Z)}
		if !v[beside] {
			c = append(c, cube[i:i+3]...)
		}
	}
	return c
}

// Bodies of cubes, each touching itself and the others in every way there is, fill
// as many cubes as are in one of them at least.
func TestFillOfCubesOnAGrid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.IntRange(2, 4).Draw(t, "side")
		all, sum := voxels{}, 0
		var c []r3.Vector
		for range rapid.IntRange(1, 3).Draw(t, "bodies") {
			share := rapid.Float64Range(0.1, 0.7).Draw(t, "share")
			rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
			body := voxels{}
			for x := range side {
				for y := range side {
					for z := range side {
						if rng.Float64() < share {
							body[[3]int{x, y, z}], all[[3]int{x, y, z}] = true, true
						}
					}
				}
			}
			sum += len(body)
			c = append(c, body.skin(side)...)
		}
		f, err := Volume(context.Background(), mesh.New(c))
		if err != nil {
			t.Fatal(err)
		}
		if d := math.Abs(f.VolumeMM3 - float64(len(all))); d > 1e-9*float64(len(all)) || d > f.ErrorMM3 {
			t.Fatalf("fill %.12g, want %d, bound %g", f.VolumeMM3, len(all), f.ErrorMM3)
		}
		if math.Abs(f.OverlapMM3-float64(sum-len(all))) > 1e-9*float64(sum) || f.NegativeMM3 != 0 || f.Crossings != 0 && sum == len(all) {
			t.Fatalf("%d cubes, %d counted: %+v", len(all), sum, f)
		}
	})
}

// Where one facet's side is divided and its neighbour's is not, exporters put a facet
// without area in between. It changes nothing.
func TestFillWithFacetsWithoutArea(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	body := solids.Float32(solids.Ellipsoid(20, 7, 9, 24))
	plain := fillOf(t, body)
	var c []r3.Vector
	for i := 0; i < len(body); i += 3 {
		p, q, r := body[i], body[i+1], body[i+2]
		if rng.IntN(3) > 0 {
			c = append(c, p, q, r)
			continue
		}
		m := p.Add(q).Mul(0.5)
		c = append(c, p, m, r, m, q, r, p, q, m)
	}
	m := mesh.New(c)
	f, err := Volume(context.Background(), m)
	if err != nil {
		t.Fatal(err)
	}
	if d := math.Abs(f.VolumeMM3 - plain.VolumeMM3); d > f.ErrorMM3 || f.OverlapMM3 != 0 || f.Crossings != 0 {
		t.Errorf("fill %.15g, want %.15g: %+v", f.VolumeMM3, plain.VolumeMM3, f)
	}
	fin := solids.Float32(solids.Move(solids.Ellipsoid(5, 1, 6, 16), r3.Vector{Z: 8}))
	with, without := fillOf(t, solids.Join(c, fin)), fillOf(t, solids.Join(body, fin))
	if d := math.Abs(with.VolumeMM3 - without.VolumeMM3); d > with.ErrorMM3+without.ErrorMM3 || without.OverlapMM3 < 1 {
		t.Errorf("with a fin %.15g, want %.15g", with.VolumeMM3, without.VolumeMM3)
	}
}
